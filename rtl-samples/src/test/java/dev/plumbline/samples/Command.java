package dev.plumbline.samples;

import java.io.File;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/** Runs a program of the trade to its end and keeps what it printed. */
public final class Command {
  private Command() {}

  /**
   * How a program ended.
   *
   * @param status its exit status
   * @param output everything it printed, both streams in one
   */
  public record Outcome(int status, String output) {}

  public static Outcome run(Path folder, List<String> words) {
    try {
      Process process =
          new ProcessBuilder(words).directory(folder.toFile()).redirectErrorStream(true).start();
      process.getOutputStream().close();
      String output = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
      return new Outcome(process.waitFor(), output);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException("Interrupted while waiting for " + words.get(0), e);
    }
  }

  /** The Verilator that the build uses: property, environment variable, or {@code PATH}. */
  public static String verilator() {
    return Stream.of(
            System.getProperty("plumbline.verilator"), System.getenv("PLUMBLINE_VERILATOR"))
        .filter(name -> name != null && !name.isBlank())
        .findFirst()
        .orElse("verilator");
  }

  /** A program on {@code PATH}, if it is installed. */
  public static Optional<Path> find(String program) {
    return Arrays.stream(System.getenv("PATH").split(Pattern.quote(File.pathSeparator)))
        .map(folder -> Path.of(folder).resolve(program))
        .filter(Files::isExecutable)
        .findFirst();
  }
}
