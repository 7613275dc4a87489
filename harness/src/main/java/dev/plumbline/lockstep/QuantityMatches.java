package dev.plumbline.lockstep;

import java.util.ArrayList;
import java.util.List;

/** Finds the signals that have quantities: those that go with one for long from the beginning. */
final class QuantityMatches {
  /** Bits of an array of more elements are not looked at. */
  private static final int MOST_ELEMENTS = 64;

  private final SignalSlices slices;
  private final List<Integer> changing = new ArrayList<>(); // signals

  QuantityMatches(SignalSlices slices) {
    this.slices = slices;
    for (int g = 0; g < slices.count(); g++) {
      if (slices.signal(g).elements() <= MOST_ELEMENTS && !slices.isConstant(g)) {
        changing.add(g);
      }
    }
  }

  /** How often a quantity of so many bits has to change with a signal to be taken for it. */
  static int needed(int bits) {
    return bits == 1 ? 16 : bits < 4 ? 8 : 5;
  }

  /** All signals that have a quantity, at least for long. */
  List<QuantityMatch> of(Quantity quantity) {
    int[] changes = quantity.changes();
    List<QuantityMatch> found = new ArrayList<>();
    if (changes.length < needed(quantity.bits)) {
      return found;
    }
    for (int delay = quantity.delays.least(); delay <= quantity.delays.most(); delay++) {
      for (int g : changing) {
        int width = slices.signal(g).width();
        if (width < quantity.bits) {
          if (width > 1 && width >= used(quantity)) {
            match(quantity, changes, g, 0, width, delay, found);
          }
          continue;
        }
        for (int offset = 0; offset + quantity.bits <= width; offset++) {
          match(quantity, changes, g, offset, quantity.bits, delay, found);
        }
      }
    }
    return found;
  }

  private int used(Quantity quantity) {
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
    int needed = needed(quantity.bits);
    int seen = 0;
    for (int i = 0; i < changes.length && seen < needed; i++) {
      int row = changes[i] + delay;
      if (row < 0 || row >= slices.rows()) {
        continue;
      }
      if (slices.bits(g, offset, width, row) != (quantity.value(changes[i]) & mask)) {
        return;
      }
      seen++;
    }
    QuantityMatch match = compared(quantity, g, offset, width, delay, false);
    if (match.agreed() >= needed) {
      into.add(match);
    }
  }

  /** Compares bits of a signal with a quantity, row by row, up to the first that differs. */
  QuantityMatch compared(
      Quantity quantity, int g, int offset, int width, int delay, boolean isPort) {
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
        return new QuantityMatch(
            quantity, g, offset, width, delay, row + delay, agreed, isPort);
      }
      agreed += !any || wanted != before ? 1 : 0;
      any = true;
      before = wanted;
    }
    return new QuantityMatch(quantity, g, offset, width, delay, -1, agreed, isPort);
  }
}
