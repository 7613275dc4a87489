package dev.plumbline.lockstep;

import dev.plumbline.lockstep.LockstepChecker.Divergence;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.function.LongUnaryOperator;
import java.util.function.Supplier;

/**
 * What the output that is wrong first shows there, and what simple changes would make that of it.
 */
final class OutputCodes implements LockstepRunner.Watcher {
  private final Divergence first;
  private final List<Change> changes = new ArrayList<>();
  private boolean diverged;

  OutputCodes(Divergence first) {
    this.first = first;
  }

  List<Change> changes() {
    return changes;
  }

  @Override
  public void row(LockstepRunner.Call call, int row) {
    Divergence now = call.checker().divergence();
    if (diverged || now == null) {
      return;
    }
    diverged = true;
    Output output = now.output();
    if (output == null || !now.role().equals(first.role())) {
      return;
    }
    for (int element = 0; element < output.promise.elements(); element++) {
      BigInteger actual = output.code(output.sampled(), row, element);
      BigInteger wanted = output.code(output.expected(), now.record(), element);
      if (!actual.equals(wanted)) {
        guess(output.port, output.promise.format(), wanted, actual);
        return;
      }
    }
  }

  @Override
  public boolean wantsMore() {
    return !diverged;
  }

  private void guess(String port, Format format, BigInteger wanted, BigInteger actual) {
    long off = actual.subtract(wanted).longValue();
    if (format.width() == 1) {
      add(() -> code -> actual.longValue(), LikelyKind.STUCK_BIT, port + " is always " + actual);
      add(() -> code -> 1 - code, LikelyKind.DECISION, port + " is inverted");
      return;
    }
    add(
        () -> code -> format.extend(code + off),
        LikelyKind.CONSTANT,
        port + " is off by " + (off > 0 ? "+" : "") + off);
    BigInteger differs = actual.xor(wanted);
    int low = differs.getLowestSetBit();
    if (low > 0 && low < Long.SIZE) {
      long mask = (1L << low) - 1;
      add(
          () -> code -> code & mask,
          LikelyKind.WIDTH,
          port + " has " + low + (low == 1 ? " bit" : " bits") + " only");
    }
    if (low >= 0 && low < Long.SIZE - 1) {
      long bit = 1L << low;
      boolean high = actual.testBit(low);
      add(
          () -> code -> format.extend(high ? code | bit : code & ~bit),
          LikelyKind.STUCK_BIT,
          port + " has bit " + low + " always " + (high ? 1 : 0));
    }
    add(Sum::new, LikelyKind.LEFT_OVER, port + " goes on from the value before");
    changes.add(Change.lasting(first.role(), Sum::new, port + " goes on from the value before"));
    add(Before::new, LikelyKind.NEIGHBOUR, port + " is that of the one before");
  }

  private void add(Supplier<LongUnaryOperator> codes, LikelyKind kind, String words) {
    changes.add(Change.of(first.role(), codes, kind, words));
  }

  /** Adds up. */
  private static final class Sum implements LongUnaryOperator {
    private long sum;

    @Override
    public long applyAsLong(long code) {
      sum += code;
      return sum;
    }
  }

  /** One behind. */
  private static final class Before implements LongUnaryOperator {
    private long before;

    @Override
    public long applyAsLong(long code) {
      long shown = before;
      before = code;
      return shown;
    }
  }
}
