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
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;

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

  /** The most that a block's columns may take together, in words; wide designs get fewer rows. */
  private static final int WORDS = 4 << 20;

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
  private final int rows;
  private final long asserted;
  private final long seed;
  private final long[] turns; // what the draws of the rows before a row add to the state
  private Block running; // what the design is given
  private Block beside; // what it was given before: folded, then filled with what comes next
  private long digest = Fnv64.BASIS;
  private long cycles;
  private long dutNanos;

  /** A batch and its words. */
  private static final class Block {
    final Batch batch;
    final List<PortWord> inputs = new ArrayList<>();
    final List<PortWord> outputs = new ArrayList<>();
    final long[] reset;
    int ran; // rows with outputs that are not folded yet

    Block(Dut dut, Design design, Pins pins, int rows) {
      batch = dut.batch(rows);
      reset = pins.reset().isEmpty() ? new long[0] : batch.column(pins.reset());
      for (Port port : design.ports()) {
        if (pins.randomInput(port)) {
          inputs.addAll(PortWord.of(batch, port));
        } else if (port.direction() != Direction.INPUT) {
          outputs.addAll(PortWord.of(batch, port));
        }
      }
    }
  }

  Shake(Dut dut, Design design, Pins pins, long seed) {
    long words = design.ports().stream().mapToLong(p -> (long) p.words() * p.elements()).sum();
    this.dut = dut;
    this.rows = (int) Math.max(1, Math.min(ROWS, WORDS / Math.max(1, words)));
    this.seed = seed;
    this.asserted = pins.resetActiveLow() ? 0 : 1;
    this.running = new Block(dut, design, pins, rows);
    this.turns = new long[rows];
    for (int row = 0; row < rows; row++) {
      turns[row] = (long) row * running.inputs.size() * RandomStream.STEP;
    }
    this.beside = new Block(dut, design, pins, rows);
  }

  /**
   * Runs until so many cycles are done or the design ends itself by {@code $finish}. While the
   * design runs a block of rows, a second thread folds the one before and draws the one after.
   *
   * @throws DutEndedException when it ends in any other way
   */
  void run(long wanted) {
    ExecutorService helper =
        Executors.newSingleThreadExecutor(
            task -> {
              Thread thread = new Thread(task, "plumbline-shake");
              thread.setDaemon(true);
              return thread;
            });
    try {
      drive(running, cycles, rowsAt(cycles, wanted));
      boolean finished = false;
      while (!finished && cycles < wanted) {
        int count = rowsAt(cycles, wanted);
        Block other = beside;
        long next = cycles + count;
        Future<?> folded =
            helper.submit(
                () -> {
                  fold(other);
                  drive(other, next, rowsAt(next, wanted));
                });
        finished = runs(count);
        await(folded);
        beside = running;
        running = other;
      }
      fold(beside);
    } finally {
      helper.shutdown();
    }
  }

  private int rowsAt(long cycle, long wanted) {
    return (int) Math.max(0, Math.min(rows, wanted - cycle));
  }

  /** Runs the block that is filled; says whether the design ended itself. */
  private boolean runs(int count) {
    boolean finished = false;
    long before = dut.cyclesRun();
    long start = System.nanoTime();
    try {
      dut.run(running.batch, count);
    } catch (DutEndedException e) {
      if (e.kind() != DutEndedException.Kind.FINISH) {
        throw e;
      }
      finished = true;
    }
    dutNanos += System.nanoTime() - start;
    running.ran = (int) (dut.cyclesRun() - before);
    cycles += running.ran;
    return finished;
  }

  private static void await(Future<?> work) {
    try {
      work.get();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException(
          "The run was interrupted; nothing is known of its cases. Run it again.", e);
    } catch (ExecutionException e) {
      throw new IllegalStateException(
          "A block could not be drawn or folded; the cause says why. Report it as a defect of"
              + " Plumbline.",
          e.getCause());
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

  private void drive(Block block, long cycle, int count) {
    int draws = block.inputs.size();
    for (int i = 0; i < draws; i++) {
      // Row r's draws are numbers r * draws + 1 to (r + 1) * draws, in the order of the inputs.
      long first = seed + (cycle * draws + i + 1) * RandomStream.STEP;
      fill(block.inputs.get(i).column, block.inputs.get(i).mask, turns, first, count);
    }
    for (int row = 0; row < Math.min(count, block.reset.length); row++) {
      block.reset[row] = cycle + row < RESET_CYCLES ? asserted : 1 - asserted;
    }
  }

  /** In a loop of its own, and by what each row adds to a state, so that it runs in vectors. */
  private static void fill(long[] column, long mask, long[] turns, long first, int count) {
    for (int row = 0; row < count; row++) {
      column[row] = RandomStream.mix(first + turns[row]) & mask;
    }
  }

  private void fold(Block block) {
    PortWord[] outputs = block.outputs.toArray(PortWord[]::new);
    long folded = digest;
    for (int row = 0; row < block.ran; row++) {
      for (PortWord word : outputs) {
        folded = Fnv64.fold(folded, word.column[row] & word.mask, word.bytes);
      }
    }
    digest = folded;
    block.ran = 0;
  }
}
