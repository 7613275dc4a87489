package dev.plumbline.regression;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * {@code harness/bin/bisect-rtl} on a repository of its own, with a bench that looks for a word.
 */
class BisectTest {
  private static final Path SCRIPT = Path.of("bin", "bisect-rtl").toAbsolutePath();

  /** Red where the RTL has "torn", no judge where it has "broken", green else. */
  private static final String BENCH =
      """
      #!/usr/bin/env bash
      for word in "$@"; do case $word in -Dplumbline.reports=*) reports=${word#*=} ;; esac; done
      mkdir -p "$reports/bisect"
      grep -q broken rtl/bell.v && { echo "Verilator refuses it"; exit 1; }
      grep -q torn rtl/bell.v && verdict=mismatch || verdict=pass
      table='bench,verdict,cases\\r\\n"bell, ""large""\",%s,9\\r\\n'
      printf "$table" "$verdict" >"$reports/bisect/summary.csv"
      [ "$verdict" = pass ]
      """;

  @TempDir private Path checkout;
  private final List<String> commits = new ArrayList<>();

  private record Ended(int status, String text) {}

  private Ended run(String... words) throws IOException, InterruptedException {
    Path out = Files.createTempFile("bisect", ".txt");
    ProcessBuilder builder =
        new ProcessBuilder(words)
            .directory(checkout.toFile())
            .redirectErrorStream(true)
            .redirectOutput(out.toFile());
    builder.environment().put("GIT_CONFIG_GLOBAL", "/dev/null");
    builder.environment().keySet().removeIf(name -> name.matches("GIT_(DIR|WORK_TREE|INDEX_FILE)"));
    Process process = builder.start();
    assertTrue(process.waitFor(120, TimeUnit.SECONDS));
    String text = Files.readString(out);
    Files.delete(out);
    return new Ended(process.exitValue(), text);
  }

  private String git(String... words) throws IOException, InterruptedException {
    List<String> all =
        new ArrayList<>(List.of("git", "-c", "user.name=museum", "-c", "user.email=m@museum"));
    all.addAll(Arrays.asList(words));
    Ended ended = run(all.toArray(String[]::new));
    assertEquals(0, ended.status(), ended::text);
    return ended.text().strip();
  }

  private void commit(String rtl, String bench) throws IOException, InterruptedException {
    Files.writeString(checkout.resolve("rtl/bell.v"), rtl);
    Path script = Files.writeString(checkout.resolve("bench"), bench);
    assertTrue(script.toFile().setExecutable(true));
    git("add", "-A");
    git("commit", "-q", "-m", "a change");
    commits.add(git("rev-parse", "HEAD"));
  }

  /** The bench itself comes with the last commit: at the others there is none that could run. */
  @BeforeEach
  void repository() throws Exception {
    assumeTrue(run("sh", "-c", "command -v git").status() == 0, "no Git");
    Files.createDirectories(checkout.resolve("rtl"));
    git("init", "-q");
    String none = "exit 9\n";
    commit("rope 1\n", none);
    commit("rope 2\n", none);
    commit("rope 3 torn\n", none);
    commit("rope 4 torn broken\n", none);
    commit("rope 5 torn\n", none);
    commit("rope 6 torn\n", BENCH);
  }

  private Ended bisect() throws IOException, InterruptedException {
    return run(SCRIPT.toString(), "rtl", commits.get(0), "HEAD", "./bench", "-q");
  }

  @Test
  void theCommitThatMadeItRedIsFoundWithTheBenchesOfToday() throws Exception {
    Ended ended = bisect();
    assertEquals(0, ended.status(), ended::text);
    assertTrue(ended.text().contains(commits.get(2) + " is the first bad commit"), ended::text);
    assertEquals("rope 6 torn\n", Files.readString(checkout.resolve("rtl/bell.v")));
    assertEquals("", git("status", "--porcelain"), "all is as it was");
    assertEquals(commits.get(5), git("rev-parse", "HEAD"));
  }

  @Test
  void changesThatAreNotCommittedAreLeftAlone() throws Exception {
    Files.writeString(checkout.resolve("rtl/bell.v"), "rope 7\n");
    Ended ended = bisect();
    assertEquals(2, ended.status());
    assertEquals(
        "bisect-rtl: \"rtl\" has changes that are not committed; commit or stash them first.\n",
        ended.text());
    assertEquals("rope 7\n", Files.readString(checkout.resolve("rtl/bell.v")));
  }
}
