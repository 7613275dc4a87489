package dev.plumbline.regression;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.TimeUnit;

/** A repository of its own, with RTL in {@code rtl} and a script that judges it. */
final class Checkout {
  private static final Path SCRIPT = Path.of("bin", "bisect-rtl").toAbsolutePath();
  private static final int MINUTES = 10;

  private final Path folder;
  private final String rtl;
  final List<String> commits = new ArrayList<>();

  /** How a process ended, and what it said. */
  record Ended(int status, String text) {}

  /** An empty one, whose RTL is one file. */
  Checkout(Path folder, String file) throws IOException, InterruptedException {
    this.folder = folder;
    this.rtl = "rtl/" + file;
    Files.createDirectories(folder.resolve("rtl"));
    git("init", "-q");
  }

  static boolean isPossible() throws IOException, InterruptedException {
    return new ProcessBuilder("sh", "-c", "command -v git").start().waitFor() == 0;
  }

  private Ended run(String... words) throws IOException, InterruptedException {
    Path out = Files.createTempFile("bisect", ".txt");
    ProcessBuilder builder =
        new ProcessBuilder(words)
            .directory(folder.toFile())
            .redirectErrorStream(true)
            .redirectOutput(out.toFile());
    builder.environment().put("GIT_CONFIG_GLOBAL", "/dev/null");
    builder.environment().keySet().removeIf(name -> name.matches("GIT_(DIR|WORK_TREE|INDEX_FILE)"));
    Process process = builder.start();
    assertTrue(process.waitFor(MINUTES, TimeUnit.MINUTES));
    String text = Files.readString(out);
    Files.delete(out);
    return new Ended(process.exitValue(), text);
  }

  String git(String... words) throws IOException, InterruptedException {
    List<String> all =
        new ArrayList<>(List.of("git", "-c", "user.name=museum", "-c", "user.email=m@museum"));
    all.addAll(Arrays.asList(words));
    Ended ended = run(all.toArray(String[]::new));
    assertEquals(0, ended.status(), ended::text);
    return ended.text().strip();
  }

  void write(String text) throws IOException {
    Files.writeString(folder.resolve(rtl), text);
  }

  String read() throws IOException {
    return Files.readString(folder.resolve(rtl));
  }

  void commit(String text, String bench) throws IOException, InterruptedException {
    write(text);
    Path script = Files.writeString(folder.resolve("bench"), bench);
    assertTrue(script.toFile().setExecutable(true));
    git("add", "-A");
    git("commit", "-q", "-m", "a change");
    commits.add(git("rev-parse", "HEAD"));
  }

  /** Bisects from the first commit to the last. */
  Ended bisect() throws IOException, InterruptedException {
    return run(SCRIPT.toString(), "rtl", commits.get(0), "HEAD", "./bench", "-q");
  }
}
