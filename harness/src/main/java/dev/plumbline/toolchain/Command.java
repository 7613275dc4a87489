package dev.plumbline.toolchain;

import dev.plumbline.text.IoText;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.TimeUnit;

/**
 * A program under way: its output goes to a file, so that it can never block on a full pipe, and
 * several can run side by side.
 */
final class Command {
  /** Characters of a program's output that go into a message. */
  private static final int SHOWN = 1000;

  /** After so long a silence somebody who waits may think that nothing happens any more. */
  static final Duration SILENCE = Duration.ofSeconds(10);

  private final List<String> words;
  private final Path log;
  private final Process process;
  private final ToolMemory memory;

  private Command(List<String> words, Path log, Process process, ToolMemory memory) {
    this.words = words;
    this.log = log;
    this.process = process;
    this.memory = memory;
  }

  /**
   * What a program left.
   *
   * @param status its exit status
   * @param output everything it printed
   * @param took memory, in bytes, where it was ended for taking too much; else 0
   * @param most what it might have had, in bytes
   */
  record Outcome(List<String> words, int status, String output, long took, long most) {
    boolean succeeded() {
      return status == 0 && took == 0;
    }

    /**
     * Refuses to go on where it was ended for the memory that it took.
     *
     * @param what it was working on, as messages call it
     */
    void requireMemory(String what) {
      if (took > 0) {
        throw ToolMemory.exhausted(words.get(0), what, took, most);
      }
    }

    String commandLine() {
      return String.join(" ", words);
    }

    /** Refuses to go on where a program claims success and has not written what it should. */
    void requireFile(Path file) {
      if (!Files.exists(file)) {
        String text = output.strip();
        throw new ToolchainException(
            words.get(0)
                + " ended with status "
                + status
                + " but did not write "
                + file.getFileName()
                + (text.isEmpty()
                    ? "; it printed nothing"
                    : "; it printed: " + text.substring(0, Math.min(SHOWN, text.length())))
                + ". Install it anew, or name another by -Dplumbline.verilator=FILE or"
                + " -Dplumbline.cxx=FILE");
      }
    }
  }

  /** Starts a program in the current folder. */
  static Command start(Path log, List<String> words) {
    return start(log, words, ToolMemory.SHARED);
  }

  static Command start(Path log, List<String> words, ToolMemory memory) {
    memory.most(); // refused before anything runs
    ProcessBuilder builder =
        new ProcessBuilder(words).redirectErrorStream(true).redirectOutput(log.toFile());
    builder.environment().put("LC_ALL", "C");
    // What a compiler writes aside goes with the folder of its log, should somebody end it.
    builder.environment().put("TMPDIR", log.toAbsolutePath().getParent().toString());
    try {
      Process process = builder.start();
      Unfinished.add(process);
      memory.add(process);
      process.getOutputStream().close();
      return new Command(List.copyOf(words), log, process, memory);
    } catch (IOException e) {
      throw new ToolchainException(
          "Cannot start " + words.get(0) + ": " + IoText.of(e) + ". Install it anew.", e);
    }
  }

  /**
   * Waits for its end, and says what is being done when that takes long.
   *
   * @param what such as "compiling module dial"; empty where nobody waits
   */
  Outcome await(String what) {
    return await(what, SILENCE, System.err);
  }

  Outcome await(String what, Duration silence, PrintStream out) {
    Instant start = Instant.now();
    try {
      for (Duration next = silence;
          !process.waitFor(next.toMillis(), TimeUnit.MILLISECONDS);
          next = next.multipliedBy(2)) {
        if (!what.isEmpty()) {
          out.printf(
              Locale.ROOT,
              "Plumbline: %s, %d s so far; interrupt to stop it%n",
              what,
              Duration.between(start, Instant.now()).toSeconds());
        }
      }
    } catch (InterruptedException e) {
      throw interrupted(e);
    }
    return await();
  }

  /** Waits for its end; when the waiting is interrupted the program is ended too. */
  Outcome await() {
    try {
      int status = process.waitFor();
      Unfinished.remove(process);
      long took = memory.remove(process);
      String output = new String(Files.readAllBytes(log), StandardCharsets.UTF_8);
      return new Outcome(words, status, output, took, memory.most());
    } catch (InterruptedException e) {
      throw interrupted(e);
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

  private ToolchainException interrupted(InterruptedException e) {
    Unfinished.destroy(process);
    Unfinished.remove(process);
    memory.remove(process);
    Thread.currentThread().interrupt();
    return new ToolchainException(
        words.get(0) + " was ended, since the thread that awaited it was interrupted; build again",
        e);
  }
}
