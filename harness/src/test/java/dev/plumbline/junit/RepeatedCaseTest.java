package dev.plumbline.junit;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.ResourceLock;

/**
 * One case alone: from the failure that found it, by its file, to a test that keeps it for ever.
 */
@ResourceLock("LaunchedTests")
class RepeatedCaseTest {
  @TempDir private Path folder;
  private Path file;

  @BeforeEach
  void findACase() throws IOException {
    Files.writeString(folder.resolve("bell.sv"), DesignExtensionTest.BELL);
    LaunchedTests.NOTES.clear();
    Throwable thrown =
        launch()
            .run(LaunchedTests.KeptCracked.class, "strikes(dev.plumbline.check.Bench$Builder)")
            .thrown();
    file = folder.resolve("reports").resolve("evening").resolve("bell").resolve("case-1.csv");
    assertTrue(Files.exists(file), thrown::getMessage);
    assertTrue(
        thrown.getMessage().contains(" -Dplumbline.case=" + file.toAbsolutePath()),
        thrown::getMessage);
    Files.createDirectory(folder.resolve("kept"));
    Files.copy(file, folder.resolve("kept").resolve("crack.csv"));
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
