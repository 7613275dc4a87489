package dev.plumbline.toolchain;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.function.Supplier;
import jdk.jfr.Recording;
import jdk.jfr.consumer.RecordingFile;

/** Which programs this thread starts, as the JVM itself records it. */
final class ProcessCount {
  private ProcessCount() {}

  /** What was made, and the command lines of the programs that it took. */
  record Made<T>(T value, List<String> commands) {
    long of(String program) {
      return commands.stream()
          .filter(command -> command.matches("\\S*" + program + "\\S* .*"))
          .count();
    }
  }

  static <T> Made<T> during(Supplier<T> work) throws IOException {
    Path file = Files.createTempFile("plumbline", ".jfr");
    try (Recording recording = new Recording()) {
      recording.enable("jdk.ProcessStart");
      recording.start();
      T value = work.get();
      recording.stop();
      recording.dump(file);
      long self = Thread.currentThread().getId();
      List<String> commands =
          RecordingFile.readAllEvents(file).stream()
              .filter(event -> event.getThread().getJavaThreadId() == self)
              .map(event -> event.getString("command"))
              .toList();
      return new Made<>(value, commands);
    } finally {
      Files.delete(file);
    }
  }
}
