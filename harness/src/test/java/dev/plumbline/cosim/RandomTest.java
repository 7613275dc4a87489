package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import dev.plumbline.rtl.RtlSource;
import java.nio.file.Path;
import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** {@code $random}: each DUT has a stream of its own, which follows from its seed alone. */
@Execution(ExecutionMode.CONCURRENT)
class RandomTest {
  private static final int CYCLES = 64;

  private final CompiledDesign model =
      CompiledDesign.of(RtlSource.of(Path.of("src/test/rtl/dice.sv")));

  private Dut open(long seed) {
    return model.open(DutOptions.defaults().withSeed(seed));
  }

  private static long draw(Dut dut) {
    dut.cycle();
    return dut.get("out_number");
  }

  private long[] alone(long seed) {
    try (Dut dut = open(seed)) {
      long[] drawn = new long[CYCLES];
      Arrays.setAll(drawn, cycle -> draw(dut));
      return drawn;
    }
  }

  @Test
  void streamFollowsFromTheSeed() {
    assertArrayEquals(alone(1), alone(1));
    assertNotEquals(Arrays.toString(alone(1)), Arrays.toString(alone(2)));
    // The first is the initial state; 63 draws of 32 bits meet with chance below one in a million.
    assertEquals(CYCLES - 1, Arrays.stream(alone(1)).skip(1).distinct().count());
  }

  @Test
  void neighboursDoNotDisturbEachOther() {
    long[] first = alone(1);
    long[] second = alone(2);
    try (Dut a = open(1);
        Dut b = open(2)) {
      for (int cycle = 0; cycle < CYCLES; cycle++) {
        assertEquals(first[cycle], draw(a), "cycle " + cycle);
        assertEquals(second[cycle], draw(b), "cycle " + cycle);
        open(3).close(); // seeds again, which in Verilator's own library reaches every model
      }
    }
  }

  @Test
  void anotherThreadGoesOnWithTheSameStream() throws InterruptedException {
    long[] expected = alone(1);
    try (Dut dut = open(1)) {
      long[] drawn = new long[CYCLES];
      for (int cycle = 0; cycle < CYCLES; cycle++) {
        int index = cycle;
        Thread thread = new Thread(() -> drawn[index] = draw(dut));
        thread.start();
        thread.join();
      }
      assertArrayEquals(expected, drawn);
    }
  }
}
