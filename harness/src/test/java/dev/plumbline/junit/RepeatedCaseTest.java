package dev.plumbline.junit;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.evidence.CaseFile;
import dev.plumbline.verdict.KeptCase;
import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.ResourceLock;

/**
 * One case alone: from the failure that found it, by its file, to a test that keeps it for ever.
 */
@ResourceLock("LaunchedTests")
class RepeatedCaseTest {
  @TempDir private static Path finding;
  private static Path file; // the case that was found

  @TempDir private Path folder;

  @BeforeAll
  static void findACase() throws IOException {
    Launch launch = new Launch(finding);
    Throwable thrown =
        launch
            .run(LaunchedTests.KeptCracked.class, "strikes(dev.plumbline.check.Bench$Builder)")
            .thrown();
    file = finding.resolve("reports").resolve("evening").resolve("bell").resolve("case-1.csv");
    assertTrue(Files.exists(file), thrown::getMessage);
    assertTrue(
        thrown.getMessage().contains(" -Dplumbline.case=" + file.toAbsolutePath()),
        thrown::getMessage);
    launch.file("kept/crack.csv", Files.readString(file));
  }

  @BeforeEach
  void forgetOtherTests() {
    LaunchedTests.NOTES.clear();
  }

  private Launch launch() {
    return new Launch(folder);
  }

  private Launch.Outcome repeated(Class<?> tests, String method) {
    return launch()
        .with("plumbline.case", file.toString())
        .run(tests, method + "(dev.plumbline.check.Bench$Builder)");
  }

  @Test
  void aCaseIsStillWrongUntilItIsFixed() {
    Launch.Outcome wrong = repeated(LaunchedTests.KeptCracked.class, "strikes");
    assertTrue(
        wrong.output().contains(file + ": still wrong: value wrong at out_strikes"), wrong::output);
    assertTrue(wrong.thrown().getMessage().contains("of the kept case"));

    Launch.Outcome fixed = repeated(LaunchedTests.KeptWhole.class, "strikes").passed(1);
    assertTrue(fixed.output().contains(file + ": fixed: nothing differs any more"), fixed::output);
    assertEquals(
        "Case "
            + file
            + " was not run: it is of bench \"bell\", and no bench of"
            + " LaunchedTests$KeptWhole.strikesUnderAnotherName is called that. Give the test that"
            + " found it by -Dtest.",
        repeated(LaunchedTests.KeptWhole.class, "strikesUnderAnotherName").thrown().getMessage());
  }

  @Test
  @Tag("thorough")
  void theRowsOfATestThatDrivesByHandAreRunAgain() throws IOException {
    String method = "strikesTwelve(dev.plumbline.cosim.Dut)";
    String failed = launch().run(LaunchedTests.ByHand.class, method).output();
    assertTrue(
        failed.contains("it failed at LaunchedTests.java:")
            && failed.contains("its rows from the start, run again by: mvn test"),
        failed);
    Path rows = folder.resolve("reports/evening/LaunchedTests_ByHand.strikesTwelve/case-1.csv");
    KeptCase kept = CaseFile.read(rows);
    assertEquals(160, kept.cycles().size(), "every cycle from the start");
    assertEquals(
        List.of("rst", "in_valid", "in_hours", "in_quarters", "out_valid", "out_strikes"),
        kept.columns().stream().map(KeptCase.Column::name).toList());
    String facts = Files.readString(rows.resolveSibling("facts.txt"));
    assertTrue(facts.contains(" -Dplumbline.case=FOLDER/case-1.csv"), facts);

    String again =
        launch()
            .with("plumbline.case", rows.toString())
            .run(LaunchedTests.ByHand.class, method)
            .output();
    assertTrue(
        again.contains(
            rows + ": 160 rows run again: the outputs are as they were when it was kept"),
        again);
    assertTrue(again.contains(rows + ": still wrong: the test fails: expected: <-1>"), again);

    String text = Files.readString(rows);
    String spoilt = text.replaceFirst("(?m)^(3,0,1,.*),1,0x00[0-9a-f],\\d+", "$1,1,0x0ff,255");
    Files.writeString(rows, spoilt);
    String other =
        launch()
            .with("plumbline.case", rows.toString())
            .run(LaunchedTests.ByHand.class, method)
            .output();
    assertTrue(other.contains("outputs first differ from those kept in cycle 3"), other);
    assertTrue(other.contains("  out_strikes is 0x004, was 0x0ff"), other);
  }

  @Test
  void aCaseBesideATestIsRunBeforeItsStimulus() {
    String method = "strikesAsKept(dev.plumbline.check.Bench$Builder)";
    Throwable thrown = launch().run(LaunchedTests.KeptCracked.class, method).thrown();
    assertTrue(thrown.getMessage().contains("Kept case: kept/crack.csv"), thrown::getMessage);

    launch().run(LaunchedTests.KeptWhole.class, method).passed(1);
    assertEquals(true, ((Verdict) LaunchedTests.NOTES.get("kept")).cases() > 1_000);
  }

  @Test
  void oneInvocationOfSeveralIsRepeated() {
    launch()
        .with("plumbline.invocation", "2")
        .run(LaunchedTests.KeptWhole.class, "isCounted()")
        .passed(1);
    assertEquals(1, LaunchedTests.NOTES.get("count"));
    launch().run(LaunchedTests.KeptWhole.class, "isCounted()").passed(3);
  }

  @Test
  void whereACiShowsThemTheLineOfTheRtlIsAnnotated() {
    Launch.Outcome red =
        launch()
            .with("plumbline.annotations", "true")
            .run(LaunchedTests.KeptCracked.class, "strikes(dev.plumbline.check.Bench$Builder)");
    assertTrue(
        red.output().lines().anyMatch(line -> line.matches("::error .*title=.*bell.*::.*")),
        red::output);
    assertTrue(!repeated(LaunchedTests.KeptCracked.class, "strikes").output().contains("::error"));
  }
}
