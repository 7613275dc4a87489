package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** A model that asks for memory without end: an exception here, and no memory of this process. */
@Tag("thorough")
@Execution(ExecutionMode.CONCURRENT)
class MemoryTest {
  private static final CompiledDesign MODEL = Driven.model("visitor_book");
  // A hang that is ended by the watchdog would be another exception.
  private static final DutOptions TIGHT =
      DutOptions.defaults().withMemory(512).withTimeout(Duration.ofMinutes(5));

  @ParameterizedTest
  @ValueSource(ints = {1, 2, 3})
  void memoryWithoutEndIsAnExceptionAndTheNextModelRuns(int order) {
    try (Dut dut = MODEL.open(TIGHT)) {
      dut.cycles(2);
      dut.set("order", order);
      DutEndedException e = assertThrows(DutEndedException.class, () -> dut.cycles(1000));
      assertEquals(DutEndedException.Kind.INTERNAL, e.kind());
      assertTrue(e.cycle() >= 2 && e.cycle() < 40, "cycle " + e.cycle());
      assertEquals(
          "no memory is left, as by a string, queue or array that grows without end; allowed is"
              + " 512 MB for the process of a model. Bound what grows, or allow more by"
              + " DutOptions.withMemory",
          e.reason());
    }
    try (Dut dut = MODEL.open()) {
      dut.cycles(2);
      assertEquals(6, dut.get("length"));
    }
  }

  @Test
  void tooLittleMemoryIsRefused() {
    DutOptions options = DutOptions.defaults();
    assertEquals(512, options.withMemory(512).memory());
    for (int megabytes : new int[] {511, 0, -1, Integer.MIN_VALUE}) {
      IllegalArgumentException e =
          assertThrows(IllegalArgumentException.class, () -> options.withMemory(megabytes));
      assertEquals("The memory is " + megabytes + " MB; allowed is 512 or more.", e.getMessage());
    }
  }
}
