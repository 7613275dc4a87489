package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** What registers and memories hold at first: zeros, ones, or what follows from the seed. */
@Execution(ExecutionMode.CONCURRENT)
class InitialStateTest {
  private static final CompiledDesign MODEL = Driven.model("night_watch");

  /** The register, the counter and the whole memory, as they are before anything has run. */
  private static List<Long> state(InitialState initial, long seed) {
    List<Long> state = new ArrayList<>();
    try (Dut dut = MODEL.open(DutOptions.defaults().withInitialState(initial).withSeed(seed))) {
      dut.settle();
      state.add(dut.get("left"));
      state.add(dut.get("rounds"));
      for (int place = 0; place < 32; place++) {
        dut.set("place", place);
        dut.settle();
        state.add(dut.get("shown"));
      }
      dut.set("rst", 1);
      dut.cycle();
      dut.set("rst", 0);
      dut.cycles(3);
      assertEquals(2, dut.get("rounds"), "after reset no initial state shows");
    }
    return state;
  }

  @Test
  void zerosAndOnesAreThatEverywhere() {
    assertEquals(Set.of(0L), new HashSet<>(state(InitialState.ZEROS, 5)));
    List<Long> ones = state(InitialState.ONES, 5);
    assertEquals((1L << 40) - 1, ones.get(0));
    assertEquals(255, ones.get(1));
    assertEquals(Set.of(1023L), new HashSet<>(ones.subList(2, 34)));
  }

  @Test
  void aRandomStateFollowsFromTheSeedAlone() {
    long[] seeds = {0, 1, 2, -1, -2, 1L << 31, 1L << 32, 1L << 62, Long.MIN_VALUE, Long.MAX_VALUE};
    Set<List<Long>> states = new HashSet<>();
    for (long seed : seeds) {
      List<Long> state = state(InitialState.RANDOM, seed);
      states.add(state);
      assertEquals(state, state(InitialState.RANDOM, seed), "seed " + seed);
      // 32 places of 10 bits: less than 24 different ones happen about once in a million seeds.
      assertTrue(new HashSet<>(state.subList(2, 34)).size() >= 24, "seed " + seed + ": " + state);
    }
    assertEquals(seeds.length, states.size());
  }

  @Test
  void aStateThatIsNotResetShows() {
    Set<Long> left = new HashSet<>();
    for (int seed = 0; seed < 4; seed++) {
      DutOptions options =
          DutOptions.defaults().withInitialState(InitialState.RANDOM).withSeed(seed);
      try (Dut dut = MODEL.open(options)) {
        dut.set("rst", 1);
        dut.cycles(4);
        left.add(dut.get("left"));
      }
    }
    assertEquals(4, left.size());
  }
}
