package dev.plumbline.junit;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.Dut;
import dev.plumbline.evidence.CsvTable;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.program.WordLayout;
import dev.plumbline.rtl.RtlException;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ParameterResolutionException;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.ResourceLock;
import org.opentest4j.AssertionFailedError;

/** The extension as JUnit runs it, from annotation to report. */
@ResourceLock("LaunchedTests")
class DesignExtensionTest {
  @TempDir private Path folder;

  @BeforeEach
  void forgetOtherTests() {
    LaunchedTests.NOTES.clear();
  }

  private Launch launch() {
    return new Launch(folder);
  }

  @Test
  void modelDutBenchAndSeedAreHandedToTests() {
    launch().with("plumbline.seed", "0x2A").run(LaunchedTests.Parameters.class).passed(4);

    Seed seed = (Seed) LaunchedTests.NOTES.get("seed");
    assertEquals(42, seed.run());
    Verdict verdict = (Verdict) LaunchedTests.NOTES.get("verdict");
    assertEquals("LaunchedTests$Parameters.areBoundToTheDesign", verdict.bench());
    assertEquals(42, verdict.origin().seed());
    Dut dut = (Dut) LaunchedTests.NOTES.get("dut");
    assertThrows(
        IllegalStateException.class, () -> dut.get("out_strikes"), "closed after its test");
  }

  @Test
  void everyVerdictOfABenchStandsInTheRunAndOnTheConsole() {
    Launch.Outcome outcome = launch().run(LaunchedTests.Parameters.class).passed(4);

    List<Map<String, String>> rows =
        CsvTable.read(folder.resolve("reports").resolve("latest").resolve("summary.csv"));
    assertEquals(1, rows.size());
    assertEquals("LaunchedTests$Parameters.areBoundToTheDesign", rows.get(0).get("bench"));
    assertEquals("pass", rows.get(0).get("verdict"));
    assertTrue(
        outcome
            .output()
            .endsWith(
                "1 bench, all pass. Files: "
                    + folder.resolve("reports").resolve("evening").toAbsolutePath()
                    + System.lineSeparator()),
        outcome.output());
    assertFalse(outcome.output().contains("to repeat it"), "reported on failure only");
  }

  @Test
  void aDutWakesUpByTheTestsOwnSeed() {
    Map<String, Object> once = notes(launch(), LaunchedTests.WakingUp.class, 2);
    Map<String, Object> again = notes(launch(), LaunchedTests.WakingUp.class, 2);
    Map<String, Object> other =
        notes(launch().with("plumbline.seed", "2"), LaunchedTests.WakingUp.class, 2);

    assertEquals(once, again);
    assertNotEquals(once, other);
    assertEquals(
        3, distinct(once, "first wakes up", other, "first wakes up", once, "second wakes up"));
  }

  private static long distinct(Object... pairs) {
    HashSet<Object> values = new HashSet<>();
    for (int i = 0; i < pairs.length; i += 2) {
      values.add(((Map<?, ?>) pairs[i]).get(pairs[i + 1]));
    }
    return values.size();
  }

  @Test
  void everyTestDrawsFromAStreamOfItsOwn() {
    Map<String, Object> notes = notes(launch(), LaunchedTests.Streams.class, 6);
    notes.putAll(notes(launch(), LaunchedTests.OtherStreams.class, 1));

    assertEquals(8, notes.size());
    assertEquals(8, new HashSet<>(notes.values()).size(), notes::toString);
  }

  @Test
  void aStreamFollowsFromTheRunsSeedAndTheTestAlone() throws NoSuchMethodException {
    Map<String, Object> one = notes(launch(), LaunchedTests.Streams.class, 6);
    for (String order : List.of("1", "2", "3")) {
      Launch shuffled =
          launch()
              .with(
                  "junit.jupiter.testmethod.order.default",
                  "org.junit.jupiter.api.MethodOrderer$Random")
              .with("junit.jupiter.execution.order.random.seed", order);
      assertEquals(one, notes(shuffled, LaunchedTests.Streams.class, 6), "whatever the order");
    }
    LaunchedTests.NOTES.clear();
    launch()
        .run(
            LaunchedTests.Streams.class,
            "first(org.junit.jupiter.api.TestInfo, dev.plumbline.junit.Seed)")
        .passed(1);
    assertEquals(1, LaunchedTests.NOTES.size());
    LaunchedTests.NOTES.forEach(
        (test, drawn) -> assertEquals(one.get(test), drawn, "whatever others there are"));

    Map<String, Object> two =
        notes(launch().with("plumbline.seed", "2"), LaunchedTests.Streams.class, 6);
    one.forEach((test, drawn) -> assertNotEquals(drawn, two.get(test), test));
    Seed seed =
        new Seed(
            1, "dev.plumbline.junit.LaunchedTests$OtherStreams.first(dev.plumbline.junit.Seed)");
    assertEquals(
        seed.stream().next(),
        notes(launch(), LaunchedTests.OtherStreams.class, 1).get("other first"));
    assertEquals(RandomStream.derive(1, seed.test()), seed.value());
  }

  private static Map<String, Object> notes(Launch launch, Class<?> tests, int count) {
    LaunchedTests.NOTES.clear();
    launch.run(tests).passed(count);
    return new HashMap<>(LaunchedTests.NOTES);
  }

  @Test
  void aMismatchIsAnAssertionWithExpectedActualAndEvidenceFolder() {
    Throwable thrown = launch().run(LaunchedTests.Cracked.class).thrown();

    AssertionFailedError error = assertInstanceOf(AssertionFailedError.class, thrown);
    int expected = code(error.getExpected().getStringRepresentation());
    int actual = code(error.getActual().getStringRepresentation());
    int hours = code(fact(error.getMessage(), "inputs {5}hours = "));
    int quarters = code(fact(error.getMessage(), " {11}quarters = "));
    assertEquals(99, hours);
    assertEquals(99 + quarters, expected);
    assertEquals(100 + quarters, actual);

    Path evidenceFolder = Path.of(fact(error.getMessage(), "folder +"));
    assertEquals(
        folder
            .resolve("reports")
            .resolve("evening")
            .resolve("LaunchedTests_Cracked.strikesTheHours")
            .toAbsolutePath(),
        evidenceFolder);
    assertTrue(Files.isRegularFile(evidenceFolder.resolve("mismatch.csv")));
    String printed = fact(error.getMessage(), "printed +");
    assertTrue(printed.startsWith("cracked at quarter "), error::getMessage);
  }

  /** An executor of the smallest kind whose hands stand still: it takes rays and never answers. */
  private static final String STOPPED =
      """
      module stopped (
          input  logic         clk,
          input  logic         rst,
          input  logic         load_valid,
          input  logic [5:0]   load_address,
          input  logic [WORD:0] load_word,
          input  logic         ray_valid,
          output logic         ray_ready,
          input  logic signed [15:0] ray_origin_x, ray_origin_y, ray_origin_z,
          input  logic signed [9:0] ray_direction_x, ray_direction_y, ray_direction_z,
          output logic         result_valid
      );
        logic busy;
        assign ray_ready = !busy && !rst;
        assign result_valid = 1'b0;
        always_ff @(posedge clk) busy <= !rst && (busy || ray_valid);
      endmodule
      """;

  @Test
  void aLockstepBenchIsHandedToTestsAsAnyBenchIs() {
    SceneFormats formats = SceneFormats.of(Format.signed(8, 8), Format.signed(2, 8));
    int word = WordLayout.standard(formats).width();
    Throwable thrown =
        launch()
            .file("stopped.sv", STOPPED.replace("WORD", Integer.toString(word - 1)))
            .with("plumbline.seed", "42")
            .run(LaunchedTests.Stopped.class)
            .thrown();

    AssertionFailedError error = assertInstanceOf(AssertionFailedError.class, thrown);
    assertTrue(
        error.getMessage().startsWith("LaunchedTests$Stopped.followsTheModel: valid missing"),
        error::getMessage);
    assertEquals(
        "mvn test -Dtest='LaunchedTests$Stopped#followsTheModel' -Dplumbline.seed=42",
        fact(error.getMessage(), "repeat +"));
    Path evidence = Path.of(fact(error.getMessage(), "folder +"));
    assertTrue(Files.isRegularFile(evidence.resolve("mismatch.csv")), error::getMessage);
  }

  private static String fact(String message, String label) {
    Matcher line = Pattern.compile("^ *" + label + "(.*)$", Pattern.MULTILINE).matcher(message);
    assertTrue(line.find(), () -> label + " is not in\n" + message);
    return line.group(1);
  }

  private static int code(String text) {
    return Integer.decode(text.replaceFirst(" .*", ""));
  }

  @Test
  @Tag("thorough")
  void theCommandOfAFailureRepeatsIt() {
    Launch.Outcome first = launch().with("plumbline.seed", "-77").run(LaunchedTests.Cracked.class);
    String repeat = fact(first.thrown().getMessage(), "repeat +");
    assertTrue(
        first
            .output()
            .contains(
                String.format(
                    "LaunchedTests$Cracked.strikesTheHours failed with seed -77; to repeat it:"
                        + "%n  %s%n",
                    repeat)),
        first.output());

    Matcher command =
        Pattern.compile("mvn test -Dtest='([^#']+)#([^#']+)' -Dplumbline.seed=(-?\\d+)")
            .matcher(repeat);
    assertTrue(command.matches(), repeat);
    assertEquals("LaunchedTests$Cracked", command.group(1));
    assertEquals("strikesTheHours", command.group(2));
    Launch.Outcome again =
        launch().with("plumbline.seed", command.group(3)).run(LaunchedTests.Cracked.class);
    assertEquals(facts(first), facts(again));
    assertNotEquals(facts(first), facts(launch().run(LaunchedTests.Cracked.class)), "seed 1");
  }

  /** Without the folder, which is another one the second time, and without the seed. */
  private static List<String> facts(Launch.Outcome outcome) {
    return outcome
        .thrown()
        .getMessage()
        .lines()
        .filter(line -> !line.matches(" *(folder|seed|repeat|one case) .*"))
        .toList();
  }

  @Test
  @Tag("thorough")
  void onFailureTheDutsTextIsShownAndNeverOtherwise() {
    Launch.Outcome outcome = launch().run(LaunchedTests.Failing.class);

    assertEquals(2, outcome.tests().size());
    assertTrue(
        outcome.output().contains(String.format("the DUT printed:%n  cracked at quarter 1%n")),
        outcome.output());
    assertFalse(outcome.output().contains("cracked at quarter 2"), outcome.output());
  }

  @Test
  @Tag("thorough")
  void theLastCyclesOfADutThatWasDrivenByHandAreKept() {
    Launch.Outcome outcome = launch().run(LaunchedTests.ByHand.class);

    String output = outcome.output();
    assertTrue(output.contains("it failed at LaunchedTests.java:"), output);
    Path file = Path.of(fact(output, "the last cycles of the DUT: "));
    List<Map<String, String>> rows = CsvTable.read(file);
    assertEquals(64, rows.size());
    Map<String, String> last = rows.get(63);
    assertEquals("159", last.get("cycle"), "two cycles a call");
    assertEquals("1", last.get("in_valid"));
    assertEquals("7", last.get("in_hours_value"));
    assertFalse(last.containsKey("clk"));
    assertTrue(Files.isRegularFile(file.resolveSibling("facts.txt")));
    String waveform = text(Path.of(fact(output, "with the signals inside: ")));
    assertTrue(waveform.contains(" cracked $end\n"), waveform);
    assertTrue(waveform.contains("#159\n") && !waveform.contains("#95\n"), waveform);
  }

  @Test
  @Tag("thorough")
  void whatNeverSettlesNamesTheSignalsThatChangeForEver() {
    String output = launch().run(LaunchedTests.Fluttering.class).output();
    assertEquals("flutter.vane", fact(output, "oscillate: "));
    assertTrue(output.contains("it failed at LaunchedTests.java:"), output);
  }

  @Test
  @Tag("thorough")
  void aTestThatPassesLeavesTheWaveformThatItAskedFor() {
    String output = launch().run(LaunchedTests.Watched.class).passed(1).output();
    String waveform =
        text(folder.resolve("reports/evening/LaunchedTests_Watched.rings/waveform.vcd"));
    assertTrue(output.contains("the waveform of LaunchedTests$Watched.rings: "), output);
    assertTrue(waveform.contains(" cracked $end\n"), waveform);
    assertTrue(waveform.contains("#2\n") && waveform.endsWith("#5\n"), waveform);
  }

  @Test
  @Tag("thorough")
  void thePropertyAsksForWaveformsOfAllTests() {
    String output =
        launch()
            .with("plumbline.waveform", "0-3 bell")
            .run(LaunchedTests.WakingUp.class)
            .passed(2)
            .output();
    assertTrue(output.contains("the waveform of LaunchedTests$WakingUp.first: "), output);
  }

  private static String text(Path file) {
    try {
      return Files.readString(file);
    } catch (IOException e) {
      throw new java.io.UncheckedIOException(e);
    }
  }

  @Test
  @Tag("thorough")
  void aFailureBeforeTheTestIsReportedInTheSameWay() {
    Launch.Outcome outcome = launch().run(LaunchedTests.FailingBefore.class);

    assertEquals("the spring broke", outcome.thrown().getMessage().replaceFirst(" ==>.*", ""));
    assertTrue(
        outcome.output().contains("-Dtest='LaunchedTests$FailingBefore#neverReached'"),
        outcome.output());
    assertTrue(outcome.output().contains("cracked at quarter 3"), outcome.output());
  }

  @Test
  @Tag("thorough")
  void testsInParallelKeepApart() {
    Launch.Outcome outcome =
        launch()
            .with("junit.jupiter.execution.parallel.enabled", "true")
            .with("junit.jupiter.execution.parallel.config.strategy", "fixed")
            .with("junit.jupiter.execution.parallel.config.fixed.parallelism", "2")
            .run(LaunchedTests.SideBySide.class);

    assertEquals(2, outcome.tests().size());
    outcome
        .tests()
        .forEach(
            (test, thrown) ->
                assertInstanceOf(AssertionFailedError.class, thrown.orElseThrow(), test));
    String output = outcome.output().replace(System.lineSeparator(), "\n");
    for (String[] each : new String[][] {{"east", "11"}, {"west", "22"}}) {
      Pattern block =
          Pattern.compile(
              "LaunchedTests\\$SideBySide\\."
                  + each[0]
                  + " failed with seed 1; to repeat it:\n  mvn test [^\n]*#"
                  + each[0]
                  + "[^\n]*\nthe DUT printed:\n((  cracked at quarter "
                  + each[1]
                  + "\n)+)(?!  )");
      assertTrue(block.matcher(output).find(), output);
      Verdict verdict = (Verdict) LaunchedTests.NOTES.get("verdict " + each[1]);
      assertEquals("LaunchedTests$SideBySide." + each[0], verdict.bench());
    }
    assertNotEquals(LaunchedTests.NOTES.get("seed 11"), LaunchedTests.NOTES.get("seed 22"));
    assertEquals(
        List.of("LaunchedTests$SideBySide.east", "LaunchedTests$SideBySide.west"),
        CsvTable.read(folder.resolve("reports").resolve("evening").resolve("summary.csv")).stream()
            .map(row -> row.get("bench"))
            .collect(Collectors.toList()));
  }

  @Test
  void wrongAnnotationsAreReportedByTypeAndName() {
    Throwable noFile = cause(LaunchedTests.NoSuchFile.class, RtlException.class);
    assertTrue(
        noFile.getMessage().contains(Launch.RTL.resolve("gone.sv").toString()), noFile::toString);
    Throwable noTop = cause(LaunchedTests.NoSuchTop.class, RtlException.class);
    assertTrue(noTop.getMessage().contains("gong"), noTop::toString);
    Throwable noParameter = cause(LaunchedTests.NoSuchParameter.class, RtlException.class);
    assertTrue(noParameter.getMessage().contains("Clapper"), noParameter::toString);
    assertEquals(
        "Parameter \"Crack\" has no value; NAME=VALUE is allowed, such as W=32.",
        cause(LaunchedTests.NoValue.class, IllegalArgumentException.class).getMessage());
    cause(LaunchedTests.NoSources.class, RtlException.class);
    Throwable none = launch().run(LaunchedTests.NoAnnotation.class).thrown();
    assertEquals(
        "No @DesignUnderTest names the RTL of test(Dut); put one on the test or its class.",
        none.getMessage());
  }

  private <T extends Throwable> T cause(Class<?> tests, Class<T> type) {
    Throwable thrown = launch().run(tests).thrown();
    assertInstanceOf(ParameterResolutionException.class, thrown);
    assertEquals(thrown.getCause().getMessage(), thrown.getMessage(), "nothing before it");
    return assertInstanceOf(type, thrown.getCause());
  }

  @Test
  void aSeedThatIsNoNumberIsRefused() {
    Throwable thrown =
        launch().with("plumbline.seed", "twelve").run(LaunchedTests.OtherStreams.class).thrown();

    assertTrue(
        thrown
            .getMessage()
            .contains(
                "Property plumbline.seed: A seed cannot be \"twelve\"; a whole number of 64 bits is"
                    + " allowed, with a sign or without, decimal or hexadecimal with 0x before"
                    + " it."),
        thrown::getMessage);
  }
}
