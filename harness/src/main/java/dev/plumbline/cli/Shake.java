package dev.plumbline.cli;

import dev.plumbline.cosim.DigestRun;
import dev.plumbline.cosim.Dut;
import dev.plumbline.cosim.DutEndedException;

/** Drives a design with seeded random inputs, the reset asserted at first, and digests it. */
final class Shake {
  /** How long the reset is asserted, in cycles. */
  static final int RESET_CYCLES = 8;

  /**
   * What is driven apart from the random inputs.
   *
   * @param clock the clock's name; empty for a design without one
   * @param reset the reset's name; empty for none
   * @param resetActiveLow whether the reset is asserted by 0
   */
  record Pins(String clock, String reset, boolean resetActiveLow) {}

  private final Dut dut;
  private final Pins pins;
  private final DigestRun run;

  Shake(Dut dut, Pins pins, long seed) {
    this.dut = dut;
    this.pins = pins;
    String[] held = pins.reset().isEmpty() ? new String[0] : new String[] {pins.reset()};
    this.run = DigestRun.of(dut, seed, held);
  }

  /**
   * Runs until so many cycles are done or the design ends itself by {@code $finish}.
   *
   * @throws DutEndedException when it ends in any other way
   */
  void run(long wanted) {
    try {
      if (!pins.reset().isEmpty()) {
        long asserted = pins.resetActiveLow() ? 0 : 1;
        dut.set(pins.reset(), asserted);
        run.run(Math.min(wanted, RESET_CYCLES));
        dut.set(pins.reset(), 1 - asserted);
      }
      run.run(wanted - dut.cyclesRun());
    } catch (DutEndedException e) {
      if (e.kind() != DutEndedException.Kind.FINISH) {
        throw e;
      }
    }
  }

  long digest() {
    return run.digest();
  }

  long cycles() {
    return dut.cyclesRun();
  }
}
