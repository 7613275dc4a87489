package dev.plumbline.lockstep;

import dev.plumbline.lockstep.QuantityMatch.By;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Finds the signals that have quantities: those that go with one for long from the beginning. */
final class QuantityMatches {
  /** Bits of an array of more elements are not looked at. */
  private static final int MOST_ELEMENTS = 16;

  /** What has to be told by all changes together, in bits as it were. */
  private static final double ENOUGH = 36;

  /**
   * Changes that are compared in any case: after fewer than three more than one, too little is
   * told.
   */
  private static final int FIRST_CHANGES = 4;

  private static final double MOST_OF_TIME = 6;
  private static final double MOST_OF_BITS = 6;

  private final SignalSlices slices;
  private final List<Integer> changing = new ArrayList<>(); // signals

  QuantityMatches(SignalSlices slices) {
    this.slices = slices;
    for (int g = 0; g < slices.count(); g++) {
      boolean isFirst = slices.firstAlike(g) == g;
      if (isFirst && slices.signal(g).elements() <= MOST_ELEMENTS && !slices.isConstant(g)) {
        changing.add(g);
      }
    }
  }

  /**
   * What a change tells in which a signal goes with a quantity: more of what has many bits, and of
   * what has stood still for long before.
   */
  private static double told(int bits, int rows) {
    return Math.min(MOST_OF_TIME, Math.log(1 + rows) / Math.log(2))
        + Math.min(MOST_OF_BITS, bits / 2.0);
  }

  /** All signals that have a quantity, at least for long; of those that are alike the first. */
  List<QuantityMatch> of(Quantity quantity) {
    int[] changes = quantity.changes();
    List<QuantityMatch> found = new ArrayList<>();
    if (changes.length < 2) {
      return found;
    }
    int used = used(quantity);
    for (int delay = quantity.delays.least(); delay <= quantity.delays.most(); delay++) {
      for (int g : changing) {
        int width = slices.signal(g).width();
        if (width < quantity.bits) {
          if (width > 1 && width >= used) {
            match(quantity, changes, g, 0, width, delay, found);
          }
          continue;
        }
        for (int word = 0; word * Long.SIZE + quantity.bits <= width; word++) {
          for (long left = offsets(quantity, changes, g, word, delay);
              left != 0;
              left &= left - 1) {
            int offset = word * Long.SIZE + Long.numberOfTrailingZeros(left);
            match(quantity, changes, g, offset, quantity.bits, delay, found);
          }
        }
      }
    }
    return found;
  }

  /**
   * The same where a DUT does as a change says. A signal that departs from what is promised never
   * was that quantity where the change says nothing else there.
   */
  List<QuantityMatch> of(Quantity promised, Optional<Quantity> changed) {
    return of(promised).stream()
        .filter(
            match -> match.isRight() || changed.stream().noneMatch(other -> isSame(other, match)))
        .toList();
  }

  /** Whether another one has the same as a quantity where a signal has something else. */
  private static boolean isSame(Quantity other, QuantityMatch match) {
    int row = match.differs() - match.delay();
    return other.isDefined(row) && other.value(row) == match.quantity().value(row);
  }

  /** Where in a word the lowest bit of a quantity may be, by its first changes: all at once. */
  private long offsets(Quantity quantity, int[] changes, int g, int word, int delay) {
    int count = slices.signal(g).width() - quantity.bits + 1 - word * Long.SIZE;
    long left = count >= Long.SIZE ? -1 : (1L << count) - 1;
    int few = Math.min(changes.length, FIRST_CHANGES);
    for (int i = 0; i < few && left != 0; i++) {
      int row = changes[i] + delay;
      if (row >= 0 && row < slices.rows()) {
        long bits = slices.word(g, word, row);
        left &= (quantity.value(changes[i]) & 1) == 1 ? bits : ~bits;
      }
    }
    return left;
  }

  /** Bits that it ever needs. */
  private static int used(Quantity quantity) {
    long used = 0;
    for (int row = 0; row < quantity.rows(); row++) {
      used |= quantity.isDefined(row) ? quantity.value(row) : 0;
    }
    return Quantities.bitsOf(used);
  }

  private void match(
      Quantity quantity,
      int[] changes,
      int g,
      int offset,
      int width,
      int delay,
      List<QuantityMatch> into) {
    long mask = width == Long.SIZE ? -1 : (1L << width) - 1;
    double told = 0;
    int before = -1;
    for (int i = 0; i < changes.length && told < ENOUGH; i++) {
      int row = changes[i] + delay;
      if (row < 0 || row >= slices.rows()) {
        continue;
      }
      if (slices.bits(g, offset, width, row) != (quantity.value(changes[i]) & mask)) {
        return;
      }
      told += before < 0 ? 0 : told(quantity.bits, quantity.definedBetween(before, changes[i]));
      before = changes[i];
    }
    if (told >= ENOUGH) {
      QuantityMatch match = compared(quantity, g, offset, width, delay, By.PROMISE);
      if (match.isRight() || match.differs() - delay > before) {
        into.add(match);
      }
    }
  }

  /** The same signal held to another quantity. */
  QuantityMatch compared(Quantity other, QuantityMatch as, By by) {
    QuantityMatch now = compared(other, as.g(), as.offset(), as.width(), as.delay(), by);
    return new QuantityMatch(
        other, as.g(), as.offset(), as.width(), as.delay(), now.differs(), as.agreed(), by);
  }

  /** Compares bits of a signal with a quantity, row by row, up to the first that differs. */
  QuantityMatch compared(Quantity quantity, int g, int offset, int width, int delay, By by) {
    long mask = width == Long.SIZE ? -1 : (1L << width) - 1;
    int agreed = 0;
    long before = 0;
    boolean any = false;
    int from = Math.max(0, -delay);
    int to = Math.min(quantity.rows(), slices.rows() - delay);
    for (int row = from; row < to; row++) {
      if (!quantity.isDefined(row)) {
        continue;
      }
      long wanted = quantity.value(row) & mask;
      if (slices.bits(g, offset, width, row + delay) != wanted) {
        return new QuantityMatch(quantity, g, offset, width, delay, row + delay, agreed, by);
      }
      agreed += !any || wanted != before ? 1 : 0;
      any = true;
      before = wanted;
    }
    return new QuantityMatch(quantity, g, offset, width, delay, -1, agreed, by);
  }
}
