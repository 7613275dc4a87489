package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.rtl.RtlSource;
import java.nio.file.Path;
import java.time.Duration;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * A model that ends, fails, hangs or prints: an exception or text of its own, never the JVM's end.
 */
@Execution(ExecutionMode.CONCURRENT)
class AbnormalEndTest {
  private static final CompiledDesign MODEL =
      CompiledDesign.of(
          RtlSource.of(Path.of("src/test/rtl/alarm_panel.sv")).withTop("alarm_panel"));

  private static DutEndedException pull(Dut dut, int alarm, long amount) {
    dut.cycles(3);
    dut.set("alarm", alarm);
    dut.set("amount", amount);
    return assertThrows(DutEndedException.class, dut::cycle);
  }

  @ParameterizedTest
  @CsvSource({
    "1, FINISH, ''",
    "2, STOP, ''",
    "3, ERROR, bell 7 is cracked",
    "4, FATAL, bell 7 fell down",
    "5, ASSERTION, ''",
    "6, ASSERTION, bell 7 rings",
    "16, NOT_SETTLED, did not converge"
  })
  void endIsAnExceptionWithKindMessagePlaceAndCycle(
      int alarm, DutEndedException.Kind kind, String reason) {
    try (Dut dut = MODEL.open()) {
      DutEndedException e = pull(dut, alarm, 7);
      assertEquals(kind, e.kind());
      assertTrue(e.reason().contains(reason), e.reason());
      assertEquals(3, e.cycle());
      assertTrue(e.location().file().endsWith("alarm_panel.sv"), e.location().toString());
    }
  }

  @Test
  void aFailedAssertionNamesItsLineAndIsReportedOnce() {
    try (Dut dut = MODEL.open()) {
      DutEndedException bare = pull(dut, 5, 7);
      assertTrue(bare.getMessage().contains("alarm_panel.sv:24"), bare.getMessage());
      assertTrue(bare.getMessage().contains("assert (amount == 32'd0);"), bare.getMessage());
    }
    for (int alarm : new int[] {3, 4, 6}) {
      try (Dut dut = MODEL.open()) {
        dut.set("alarm", 8);
        dut.cycle();
        String message = pull(dut, alarm, 7).getMessage();
        assertEquals(2, message.split("bell 7 ", -1).length, message);
        assertTrue(message.contains("it printed:"), message);
        assertTrue(message.contains("ding 0"), message);
      }
    }
  }

  @Test
  void loopThatDoesNotEndIsCancelled() {
    DutOptions options = DutOptions.defaults().withTimeout(Duration.ofMillis(300));
    try (Dut dut = MODEL.open(options)) {
      dut.set("alarm", 7);
      DutHungException e = assertThrows(DutHungException.class, dut::cycle);
      assertEquals(0, e.cycle());
    }
  }

  /** Where an argument lets an evaluation go on for ever, it asks whether it is to end. */
  @Test
  @Tag("thorough")
  void logicThatNeverSettlesIsCancelledWhateverTheLimitOfTurns() {
    CompiledDesign patient =
        CompiledDesign.of(
            RtlSource.of(Path.of("src/test/rtl/alarm_panel.sv"))
                .withTop("alarm_panel")
                .withArgument("--converge-limit")
                .withArgument("2147483647"));
    try (Dut dut = patient.open(DutOptions.defaults().withTimeout(Duration.ofMillis(300)))) {
      dut.set("alarm", 16);
      assertThrows(DutHungException.class, dut::cycle);
    }
  }

  @Test
  void afterAnEndOnlyCloseIsLeftAndOthersGoOn() {
    try (Dut ended = MODEL.open();
        Dut other = MODEL.open()) {
      DutEndedException first = pull(ended, 4, 7);
      DutEndedException again = assertThrows(DutEndedException.class, ended::cycle);
      assertSame(first, again.getCause());
      other.cycles(5);
      assertEquals(5, other.cyclesRun());
    }
  }

  @Test
  void continueOnErrorMeansThatAnErrorIsTextOnly() {
    try (Dut dut = MODEL.open(DutOptions.defaults().withContinueOnError())) {
      dut.set("alarm", 12);
      dut.set("amount", 7);
      dut.cycles(2);
      assertEquals(2, dut.cyclesRun());
      assertTrue(
          Pattern.compile("(?s)before\n.*bell 7 is cracked.*after\n.*before\n")
              .matcher(dut.text())
              .find(),
          dut.text());
    }
  }

  @Test
  void whatIsPrintedStaysWithTheDutInOrder() {
    try (Dut dut = MODEL.open()) {
      for (int alarm : new int[] {8, 11, 14}) {
        dut.set("alarm", alarm);
        dut.cycle();
      }
      String text = dut.text();
      assertTrue(text.startsWith("ding 0\nto the first stream\nwritten strobed\n"), text);
      assertTrue(text.contains("bell 0 is dusty"), text);
    }
  }

  @Test
  void systemCallsAreNotRunUnlessAllowed() {
    try (Dut dut = MODEL.open()) {
      dut.set("alarm", 9);
      dut.cycle();
      assertTrue(
          dut.text().contains("$system(\"echo the museum is open\") was not run"), dut.text());
    }
  }

  @Test
  void onlyTheNewestTextIsKeptAndTheRestIsCounted() {
    try (Dut dut = MODEL.open()) {
      dut.set("alarm", 10);
      dut.cycle();
      String text = dut.text();
      assertTrue(text.endsWith("\ndong 199999 of 0\n"), "the newest is there");
      Matcher head = Pattern.compile("\\[(\\d+) bytes before this were not kept]\n").matcher(text);
      assertTrue(head.lookingAt(), text.substring(0, 80));
      int kept = text.length() - head.end();
      assertTrue(kept >= 1 << 16 && kept <= 1 << 18, kept + " bytes");
      long printed = 0;
      for (int i = 0; i < 200_000; i++) {
        printed += ("dong " + i + " of 0\n").length();
      }
      assertEquals(printed, Long.parseLong(head.group(1)) + kept);
    }
  }
}
