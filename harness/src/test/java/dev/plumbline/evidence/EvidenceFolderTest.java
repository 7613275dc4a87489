package dev.plumbline.evidence;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.check.VerdictSamples;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class EvidenceFolderTest {
  @TempDir private Path run;

  @Test
  void aMismatchIsOneRowACycleWithEverythingThatWasDue() {
    Verdict verdict = VerdictSamples.wrongValue();
    Mismatch mismatch = verdict.first().orElseThrow();
    Path folder = EvidenceFolder.write(run, verdict);
    List<Map<String, String>> rows = CsvTable.read(folder.resolve("mismatch.csv"));

    assertEquals(
        List.of(
            "cycle",
            "verdict",
            "signal",
            "case",
            "case_in",
            "rst",
            "in_valid",
            "out_valid",
            "in_turns",
            "in_turns_real",
            "in_teeth",
            "in_teeth_real",
            "in_offset",
            "in_offset_real",
            "out_angle",
            "out_angle_real",
            "out_angle_expected",
            "out_angle_expected_real",
            "out_angle_difference",
            "out_forward",
            "out_forward_expected"),
        List.copyOf(rows.get(0).keySet()));

    Map<String, String> wrong =
        rows.stream()
            .filter(row -> row.get("cycle").equals(Long.toString(mismatch.cycle())))
            .findFirst()
            .orElseThrow();
    assertEquals("value wrong", wrong.get("verdict"));
    assertEquals("1", wrong.get("out_angle_difference"));
    assertEquals(Long.toString(mismatch.caseNumber()), wrong.get("case"));
    assertEquals("out_angle", wrong.get("signal"));
    assertTrue(
        rows.stream()
            .filter(row -> row.get("verdict").equals("ok"))
            .allMatch(row -> row.get("out_angle_difference").isEmpty()));
    assertTrue(wrong.get("out_angle").matches("0x[0-9a-f]{7}"), () -> wrong.get("out_angle"));

    Map<String, String> given =
        rows.stream()
            .filter(row -> row.get("case_in").equals(Long.toString(mismatch.caseNumber())))
            .findFirst()
            .orElseThrow();
    assertEquals("0x63", given.get("in_teeth"));
    assertEquals("99", given.get("in_teeth_real"));
  }

  @Test
  void rowsAroundAMismatchAreConsecutiveCycles() {
    List<Map<String, String>> rows =
        CsvTable.read(
            EvidenceFolder.write(run, VerdictSamples.wrongValue()).resolve("mismatch.csv"));
    Mismatch mismatch = VerdictSamples.wrongValue().first().orElseThrow();

    long first = Long.parseLong(rows.get(0).get("cycle"));
    assertEquals(Math.max(0, mismatch.cycle() - 12), first);
    for (int i = 0; i < 19; i++) {
      assertEquals(first + i, Long.parseLong(rows.get(i).get("cycle")));
    }
  }

  @Test
  void whereCyclesAreLeftOutARowSaysHowMany() {
    List<Map<String, String>> rows =
        CsvTable.read(
            EvidenceFolder.write(run, VerdictSamples.wrongValue()).resolve("mismatch.csv"));
    long expected = Long.parseLong(rows.get(0).get("cycle"));
    int gaps = 0;
    for (Map<String, String> row : rows) {
      if (row.get("cycle").isEmpty()) {
        String words = row.get("verdict");
        assertTrue(words.matches("\\d+ cycles? left out"), words);
        assertTrue(
            row.values().stream().filter(cell -> !cell.equals(words)).allMatch(String::isEmpty));
        expected += Long.parseLong(words.substring(0, words.indexOf(' ')));
        gaps++;
      } else {
        assertEquals(expected, Long.parseLong(row.get("cycle")));
        expected++;
      }
    }
    assertTrue(gaps > 0, "windows apart");
  }

  @Test
  void boundsHaveTwoColumnsAndNoneIsEmpty() {
    Verdict verdict =
        VerdictSamples.withReference((in, sum) -> sum + (in[1] == 99 ? 9 : 0), "angle", 3);
    List<Map<String, String>> rows =
        CsvTable.read(EvidenceFolder.write(run, verdict).resolve("mismatch.csv"));
    Map<String, String> row = rows.get(0);
    assertTrue(row.containsKey("out_angle_low") && row.containsKey("out_angle_high"));
    assertFalse(row.containsKey("out_angle_expected"));
    for (String column : row.keySet()) {
      assertTrue(rows.stream().anyMatch(each -> !each.get(column).isEmpty()), column);
    }
  }

  @Test
  void theReadmeExplainsTheColumnsInTheirOrder() throws Exception {
    String readme = Files.readString(Path.of("../reports/README.md"));
    int from = readme.indexOf("## `<bench>/mismatch.csv`");
    String section = readme.substring(from, readme.indexOf("\n## ", from + 1));
    int at = 0;
    for (String column : MismatchTable.FIRST) {
      at = section.indexOf("\n| " + column + " |", at);
      assertTrue(at > 0, column);
    }
  }

  @Test
  void theFactsStandBesideTheTable() throws Exception {
    Path folder = EvidenceFolder.write(run, VerdictSamples.wrongValue());
    assertEquals(
        VerdictSamples.wrongValue().facts() + System.lineSeparator(),
        Files.readString(folder.resolve("facts.txt")));
  }

  @Test
  void aSecondBenchOfTheSameNameGetsAFolderOfItsOwn() {
    Path first = EvidenceFolder.write(run, VerdictSamples.wrongValue());
    Path second = EvidenceFolder.write(run, VerdictSamples.wrongValue());

    assertEquals("gear_train", first.getFileName().toString());
    assertEquals("gear_train-2", second.getFileName().toString());
  }

  @Test
  void namesOfBenchesBecomeSafeFolders() {
    assertEquals("reciprocal_16.16", EvidenceFolder.folderName("reciprocal 16.16"));
    assertEquals("etc_passwd", EvidenceFolder.folderName("../etc/passwd"));
    assertEquals("bench", EvidenceFolder.folderName("///"));
    assertEquals("GearTest.holds_2", EvidenceFolder.folderName("GearTest.holds[2]"));
    assertFalse(EvidenceFolder.folderName("x".repeat(500)).length() > 80);
  }
}
