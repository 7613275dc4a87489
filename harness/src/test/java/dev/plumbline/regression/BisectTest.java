package dev.plumbline.regression;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.nio.file.Path;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * {@code harness/bin/bisect-rtl} on a repository of its own, with a bench that looks for a word.
 */
class BisectTest {
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

  @TempDir private Path folder;
  private Checkout checkout;

  /** The bench itself comes with the last commit: at the others there is none that could run. */
  @BeforeEach
  void repository() throws Exception {
    assumeTrue(Checkout.isPossible(), "no Git");
    checkout = new Checkout(folder, "bell.v");
    String none = "exit 9\n";
    checkout.commit("rope 1\n", none);
    checkout.commit("rope 2\n", none);
    checkout.commit("rope 3 torn\n", none);
    checkout.commit("rope 4 torn broken\n", none);
    checkout.commit("rope 5 torn\n", none);
    checkout.commit("rope 6 torn\n", BENCH);
  }

  @Test
  void theCommitThatMadeItRedIsFoundWithTheBenchesOfToday() throws Exception {
    Checkout.Ended ended = checkout.bisect();
    assertEquals(0, ended.status(), ended::text);
    assertTrue(
        ended.text().contains(checkout.commits.get(2) + " is the first bad commit"), ended::text);
    assertEquals("rope 6 torn\n", checkout.read());
    assertEquals("", checkout.git("status", "--porcelain"), "all is as it was");
    assertEquals(checkout.commits.get(5), checkout.git("rev-parse", "HEAD"));
  }

  @Test
  void changesThatAreNotCommittedAreLeftAlone() throws Exception {
    checkout.write("rope 7\n");
    Checkout.Ended ended = checkout.bisect();
    assertEquals(2, ended.status());
    assertEquals(
        "bisect-rtl: \"rtl\" has changes that are not committed; commit or stash them first.\n",
        ended.text());
    assertEquals("rope 7\n", checkout.read());
  }
}
