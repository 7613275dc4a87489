package dev.plumbline;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;

/** A second JVM with this one's classes, for what must happen in a process of its own. */
public final class JavaFork implements AutoCloseable {
  private final Process process;

  /** Starts a class's main method; an option is what begins with a dash. */
  public JavaFork(Class<?> main, List<String> options, String... arguments) throws IOException {
    String classes =
        System.getProperty("surefire.test.class.path", System.getProperty("java.class.path"));
    // A shell that runs us in the background has SIGINT ignored, and a JVM inherits that.
    List<String> command = new ArrayList<>(List.of("env", "--default-signal=INT"));
    command.add(ProcessHandle.current().info().command().orElse("java"));
    command.addAll(List.of("--enable-native-access=ALL-UNNAMED", "-XX:+UseSerialGC"));
    command.addAll(List.of("-XX:TieredStopAtLevel=1", "-cp", classes));
    command.add("-Dplumbline.optimised=" + System.getProperty("plumbline.optimised", "true"));
    command.addAll(options);
    command.add(main.getName());
    command.addAll(List.of(arguments));
    process = new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.INHERIT).start();
  }

  /** Lets a fork that waits for a line of its standard input go on. */
  public void go() throws IOException {
    process.getOutputStream().write('\n');
    process.getOutputStream().close();
  }

  /** Ends it as SIGKILL does, and waits until it is gone. */
  public void kill() throws InterruptedException {
    process.destroyForcibly().waitFor();
  }

  /** Ends it as Ctrl-C does. */
  public void interrupt() throws IOException, InterruptedException {
    new ProcessBuilder("kill", "-INT", Long.toString(process.pid())).start().waitFor();
  }

  /** The processes that it has started, and those started by them. */
  public List<ProcessHandle> descendants() {
    return process.descendants().toList();
  }

  public boolean alive() {
    return process.isAlive();
  }

  /** The next line that it prints. */
  public String line() throws IOException {
    return process.inputReader(StandardCharsets.UTF_8).readLine();
  }

  /** Waits for a good end; gives the lines that it printed. */
  public List<String> lines() throws IOException, InterruptedException {
    List<String> lines;
    try (BufferedReader reader = process.inputReader(StandardCharsets.UTF_8)) {
      lines = reader.lines().toList();
    }
    if (process.waitFor() != 0) {
      throw new AssertionError("the fork failed: " + String.join("\n", lines));
    }
    return lines;
  }

  /** Waits for its end, whatever it prints; gives its status. */
  public int status() throws IOException, InterruptedException {
    process.getInputStream().readAllBytes();
    return process.waitFor();
  }

  @Override
  public void close() {
    process.destroyForcibly();
  }
}
