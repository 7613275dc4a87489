package dev.plumbline.cli;

import dev.plumbline.cosim.Batch;
import dev.plumbline.cosim.Dut;
import dev.plumbline.cosim.DutEndedException;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import dev.plumbline.rtl.Port.Direction;
import dev.plumbline.stimulus.Fnv64;
import dev.plumbline.stimulus.RandomStream;
import java.util.ArrayList;
import java.util.List;

/**
 * Drives a design with seeded random inputs and folds what comes out into a digest, a batch of rows
 * at a time. Nothing is allocated a cycle.
 *
 * <p>The digest is public: README and {@code plumbline shake --help} say it in words, so that a
 * bench in any language can arrive at the same one.
 */
final class Shake {
  /** How long the reset is asserted, in cycles. */
  static final int RESET_CYCLES = 8;

  private static final int ROWS = 4096;

  /** The most that a batch's columns may take together, in words; wide designs get fewer rows. */
  private static final int WORDS = 8 << 20;

  /**
   * What is driven apart from the random inputs.
   *
   * @param clock the clock's name; empty for a design without one
   * @param reset the reset's name; empty for none
   * @param resetActiveLow whether the reset is asserted by 0
   */
  record Pins(String clock, String reset, boolean resetActiveLow) {
    private boolean randomInput(Port port) {
      return port.direction() == Direction.INPUT
          && !port.name().equals(clock)
          && !port.name().equals(reset);
    }
  }

  private final Dut dut;
  private final Batch batch;
  private final int rows;
  private final List<PortWord> inputs = new ArrayList<>();
  private final List<PortWord> outputs = new ArrayList<>();
  private final long[] reset;
  private final long asserted;
  private final long seed;
  private long digest = Fnv64.BASIS;
  private long cycles;
  private long dutNanos;

  Shake(Dut dut, Design design, Pins pins, long seed) {
    long words = design.ports().stream().mapToLong(p -> (long) p.words() * p.elements()).sum();
    this.dut = dut;
    this.rows = (int) Math.max(1, Math.min(ROWS, WORDS / Math.max(1, words)));
    this.batch = dut.batch(rows);
    this.seed = seed;
    this.reset = pins.reset().isEmpty() ? new long[0] : batch.column(pins.reset());
    this.asserted = pins.resetActiveLow() ? 0 : 1;
    for (Port port : design.ports()) {
      if (pins.randomInput(port)) {
        inputs.addAll(PortWord.of(batch, port));
      } else if (port.direction() != Direction.INPUT) {
        outputs.addAll(PortWord.of(batch, port));
      }
    }
  }

  /**
   * Runs until so many cycles are done or the design ends itself by {@code $finish}.
   *
   * @throws DutEndedException when it ends in any other way
   */
  void run(long wanted) {
    boolean finished = false;
    while (!finished && cycles < wanted) {
      int count = (int) Math.min(rows, wanted - cycles);
      drive(count);
      long before = dut.cyclesRun();
      long start = System.nanoTime();
      try {
        dut.run(batch, count);
      } catch (DutEndedException e) {
        if (e.kind() != DutEndedException.Kind.FINISH) {
          throw e;
        }
        finished = true;
      }
      dutNanos += System.nanoTime() - start;
      int ran = (int) (dut.cyclesRun() - before);
      fold(ran);
      cycles += ran;
    }
  }

  long digest() {
    return digest;
  }

  long cycles() {
    return cycles;
  }

  /** Time spent in the design alone, in nanoseconds. */
  long dutNanos() {
    return dutNanos;
  }

  private void drive(int count) {
    int draws = inputs.size();
    for (int i = 0; i < draws; i++) {
      // Row r's draws are numbers r * draws + 1 to (r + 1) * draws, in the order of the inputs.
      fill(inputs.get(i), count, seed + (cycles * draws + i + 1) * RandomStream.STEP, draws);
    }
    for (int row = 0; row < Math.min(count, reset.length); row++) {
      reset[row] = cycles + row < RESET_CYCLES ? asserted : 1 - asserted;
    }
  }

  private static void fill(PortWord word, int count, long first, int draws) {
    long[] column = word.column;
    long mask = word.mask;
    long stride = draws * RandomStream.STEP;
    for (int row = 0; row < count; row++) {
      column[row] = RandomStream.mix(first + row * stride) & mask;
    }
  }

  private void fold(int count) {
    int size = outputs.size();
    for (int row = 0; row < count; row++) {
      for (int i = 0; i < size; i++) {
        PortWord word = outputs.get(i);
        digest = Fnv64.fold(digest, word.column[row] & word.mask);
      }
    }
  }
}
