package dev.plumbline.toolchain;

import dev.plumbline.text.IoText;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/**
 * A program under way: its output goes to a file, so that it can never block on a full pipe, and
 * several can run side by side.
 */
final class Command {
  private final List<String> words;
  private final Path log;
  private final Process process;

  private Command(List<String> words, Path log, Process process) {
    this.words = words;
    this.log = log;
    this.process = process;
  }

  /** What a program left: its exit status and everything it printed. */
  record Outcome(List<String> words, int status, String output) {
    boolean succeeded() {
      return status == 0;
    }

    String commandLine() {
      return String.join(" ", words);
    }
  }

  /** Starts a program in the current folder. */
  static Command start(Path log, List<String> words) {
    ProcessBuilder builder =
        new ProcessBuilder(words).redirectErrorStream(true).redirectOutput(log.toFile());
    builder.environment().put("LC_ALL", "C");
    try {
      Process process = builder.start();
      process.getOutputStream().close();
      return new Command(List.copyOf(words), log, process);
    } catch (IOException e) {
      throw new ToolchainException(
          "Cannot start " + words.get(0) + ": " + IoText.of(e) + ". Install it anew.", e);
    }
  }

  /** Waits for its end; when the waiting is interrupted the program is ended too. */
  Outcome await() {
    try {
      int status = process.waitFor();
      String output = new String(Files.readAllBytes(log), StandardCharsets.UTF_8);
      return new Outcome(words, status, output);
    } catch (InterruptedException e) {
      // A compiler's driver does the work in programs of its own.
      process.descendants().forEach(ProcessHandle::destroyForcibly);
      process.destroyForcibly();
      Thread.currentThread().interrupt();
      throw new ToolchainException(
          words.get(0)
              + " was ended, since the thread that awaited it was interrupted; build again",
          e);
    } catch (IOException e) {
      throw new ToolchainException(
          "What "
              + words.get(0)
              + " printed could not be read: "
              + IoText.of(e)
              + ". Make room where "
              + log
              + " is.",
          e);
    }
  }
}
