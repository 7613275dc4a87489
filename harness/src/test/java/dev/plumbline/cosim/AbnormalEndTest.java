package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.rtl.RtlSource;
import java.nio.file.Path;
import java.time.Duration;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class AbnormalEndTest {
  private static final Model MODEL =
      Model.of(RtlSource.of(Path.of("src/test/rtl/alarm_panel.sv")).withTop("alarm_panel"));

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
      System.out.println(e.getMessage());
      assertEquals(kind, e.kind());
      assertTrue(e.reason().contains(reason), e.reason());
      assertEquals(3, e.cycle());
      assertTrue(e.location().file().endsWith("alarm_panel.sv"), e.location().toString());
    }
  }

  @Test
  void loopThatDoesNotEndIsCancelled() {
    DutOptions options = DutOptions.defaults().withPatience(Duration.ofMillis(300));
    try (Dut dut = MODEL.open(options)) {
      dut.set("alarm", 7);
      DutHungException e = assertThrows(DutHungException.class, dut::cycle);
      System.out.println(e.getMessage());
      assertEquals(0, e.cycle());
    }
  }

  @Test
  void textStays() {
    try (Dut dut = MODEL.open()) {
      for (int alarm : new int[] {8, 9, 11, 14, 10}) {
        dut.set("alarm", alarm);
        dut.cycle();
        if (alarm != 10) System.out.println(dut.text());
      }
      System.out.println(dut.text().length());
    }
  }
}
