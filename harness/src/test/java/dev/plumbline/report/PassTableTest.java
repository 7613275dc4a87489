package dev.plumbline.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.verdict.Checked;
import dev.plumbline.verdict.Findings;
import dev.plumbline.verdict.Origin;
import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The file that remembers passes: it outlives its process, and what it cannot tell is no pass. */
class PassTableTest {
  @TempDir private Path folder;

  private PassTable table(boolean all) {
    return new PassTable(folder.resolve("passed.csv"), "evening", all);
  }

  private static Verdict pass(String bench, long cases) {
    return Verdict.of(
        bench,
        Verdict.Outcome.PASS,
        "",
        Checked.of(cases, 2 * cases, 0),
        new Origin(1, "", ""),
        Findings.NOTHING);
  }

  @Test
  void aPassIsFoundByItsKeyAndByNoOther() {
    table(false).add(pass("=gear, \"large\"", 70), "ab12");
    table(false).add(pass("wheel", 80), "ab12");

    assertEquals(70, table(false).find("=gear, \"large\"", "ab12").orElseThrow().cases());
    assertEquals("evening", table(false).find("wheel", "ab12").orElseThrow().run());
    assertEquals(Optional.empty(), table(false).find("wheel", "ab13"));
    assertEquals(Optional.empty(), table(false).find("gear", "ab12"));
    assertEquals(Optional.empty(), table(true).find("wheel", "ab12"), "all are to run");
  }

  @Test
  void whatTurnedRedIsForgotten() {
    table(false).add(pass("wheel", 80), "ab12");
    table(false).forget("wheel", "ab12");
    assertEquals(Optional.empty(), table(false).find("wheel", "ab12"));
  }

  @Test
  void theNewestSixteenKeysOfABenchStay() throws IOException {
    table(false).add(pass("hub", 1), "k");
    for (int i = 0; i < 40; i++) {
      table(false).add(pass("wheel", i), "k" + i);
    }
    assertEquals(1 + 1 + 16, Files.readAllLines(folder.resolve("passed.csv")).size());
    assertTrue(table(false).find("wheel", "k24").isPresent());
    assertTrue(table(false).find("wheel", "k23").isEmpty());
    assertTrue(table(false).find("hub", "k").isPresent());
  }

  @Test
  void aFileThatIsNoSuchTableCountsAsEmptyAndIsWrittenAnew() throws IOException {
    for (String spoilt :
        List.of("", "bench\n", "\u0000\n\"", "bench,date,run,cases,cycles,key\n,")) {
      Files.writeString(folder.resolve("passed.csv"), spoilt);
      assertEquals(Optional.empty(), table(false).find("wheel", "k"), spoilt);
      table(false).add(pass("wheel", 3), "k");
      assertEquals(3, table(false).find("wheel", "k").orElseThrow().cases(), spoilt);
    }
    Path file = folder.resolve("passed.csv");
    Files.writeString(file, Files.readString(file).replace(",3,", ",some,"));
    assertEquals(Optional.empty(), table(false).find("wheel", "k"), "a count that is no number");
  }
}
