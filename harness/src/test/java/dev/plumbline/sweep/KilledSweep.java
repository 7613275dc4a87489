package dev.plumbline.sweep;

import java.nio.file.Path;

/** A sweep in a process of its own that dies, as by SIGKILL, at a chosen moment. */
final class KilledSweep {
  /** What a process says as it dies, by its status. */
  static final int DIED = 9;

  private KilledSweep() {}

  /** Takes the ledger's file, after how many ranges to die, and whether the last is noted yet. */
  public static void main(String[] arguments) {
    int ranges = Integer.parseInt(arguments[1]);
    boolean noted = Boolean.parseBoolean(arguments[2]);
    Sweep sweep = SweepTest.pegs();
    SweepLedger ledger =
        new SweepLedger(Path.of(arguments[0]), sweep.key()) {
          @Override
          void finish(int range) {
            if (count() == ranges - 1 && !noted) {
              Runtime.getRuntime().halt(DIED);
            }
            super.finish(range);
            if (count() == ranges) {
              Runtime.getRuntime().halt(DIED);
            }
          }
        };
    sweep.run(ledger, sweep.ranges(), range -> {});
  }
}
