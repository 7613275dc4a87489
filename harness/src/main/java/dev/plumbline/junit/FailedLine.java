package dev.plumbline.junit;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/** The line of a test that failed, with its text where the source is at hand. */
final class FailedLine {
  private static final int LONGEST = 160;

  private FailedLine() {}

  /** As far as the stack trace tells; classes within the test's own are its as well. */
  static Optional<String> of(Throwable thrown, Class<?> test, Path base) {
    return Stream.of(thrown.getStackTrace())
        .filter(
            frame ->
                frame.getClassName().equals(test.getName())
                    || frame.getClassName().startsWith(test.getName() + "$"))
        .findFirst()
        .map(
            frame ->
                frame.getFileName()
                    + ":"
                    + frame.getLineNumber()
                    + text(base, test, frame).map(line -> ": " + line).orElse(""));
  }

  private static Optional<String> text(Path base, Class<?> test, StackTraceElement frame) {
    if (frame.getFileName() == null || frame.getLineNumber() < 1) {
      return Optional.empty();
    }
    Path source =
        base.resolve(Path.of("src", "test", "java"))
            .resolve(test.getPackageName().replace('.', '/'))
            .resolve(frame.getFileName());
    if (!Files.isRegularFile(source)) {
      return Optional.empty();
    }
    try {
      List<String> lines = Files.readAllLines(source);
      return frame.getLineNumber() > lines.size()
          ? Optional.empty()
          : Optional.of(lines.get(frame.getLineNumber() - 1).strip())
              .map(line -> line.length() > LONGEST ? line.substring(0, LONGEST) + "..." : line);
    } catch (IOException | UncheckedIOException e) {
      return Optional.empty(); // the place is reported all the same
    }
  }
}
