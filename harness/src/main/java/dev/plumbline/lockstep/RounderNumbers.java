package dev.plumbline.lockstep;

import dev.plumbline.models.fixed.Format;
import java.util.function.LongPredicate;

/** Looks for the simplest number that still shows what another one shows. */
final class RounderNumbers {
  private RounderNumbers() {}

  /** Zero, else as little as shows it, by halves. */
  static void shorter(int given, LongPredicate shows) {
    if (given == 0 || shows.test(0)) {
      return;
    }
    int less = 0; // does not show it
    int shown = given;
    while (shown - less > 1) {
      int middle = (less + shown) / 2;
      if (shows.test(middle)) {
        shown = middle;
      } else {
        less = middle;
      }
    }
  }

  /** Zero, else one, else as few ones in its magnitude as still show it. */
  static void rounder(Format format, long given, LongPredicate shows) {
    if (given == 0) {
      return;
    }
    long one = 1L << Math.max(0, Math.min(format.fractionBits(), format.width() - 2));
    for (long round : new long[] {0, one, -one}) {
      if (given == round) {
        return;
      }
      boolean allowed = round >= 0 || format.signed();
      if (allowed && shows.test(round)) {
        return;
      }
    }
    boolean negative = given < 0;
    long magnitude = negative ? -given : given;
    for (int bit = Long.SIZE - 2; bit >= 0; bit--) { // the low bits all at once, as many as may go
      long less = magnitude & (-1L << bit);
      if (less != 0 && less != magnitude && shows.test(negative ? -less : less)) {
        magnitude = less;
        break;
      }
    }
    for (int bit = 0; bit < Long.SIZE; bit++) {
      long less = magnitude & ~(1L << bit);
      if (less != 0 && less != magnitude && shows.test(negative ? -less : less)) {
        magnitude = less;
      }
    }
  }
}
