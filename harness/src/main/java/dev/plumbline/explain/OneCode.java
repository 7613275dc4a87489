package dev.plumbline.explain;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import java.util.ArrayList;
import java.util.List;
import java.util.function.LongUnaryOperator;

/** What a fault may make of one code, whatever it is the code of. */
final class OneCode {
  private OneCode() {}

  /**
   * A change.
   *
   * @param words what is changed, to follow a name
   */
  record Change(LikelyKind kind, String words, LongUnaryOperator code) {
    void applyTo(long[] column, int count) {
      for (int i = 0; i < count; i++) {
        column[i] = code.applyAsLong(column[i]);
      }
    }
  }

  /** Every change of a format of one word, the simplest first. */
  static List<Change> changes(Format format) {
    List<Change> all = new ArrayList<>();
    int width = format.width();
    if (width == 1) {
      all.add(new Change(LikelyKind.DECISION, "is inverted", code -> format.extend(~code)));
      all.add(new Change(LikelyKind.DECISION, "is always 0", code -> 0));
      all.add(new Change(LikelyKind.DECISION, "is always 1", code -> format.extend(1)));
      return all;
    }
    all.add(new Change(LikelyKind.SIGN, "has the other sign", code -> format.extend(-code)));
    all.add(
        new Change(
            LikelyKind.SIGN,
            "is its magnitude",
            code -> format.signed() ? format.extend(Math.abs(code)) : code));
    all.add(new Change(LikelyKind.WIDTH, "is twice as much", code -> format.extend(code << 1)));
    all.add(new Change(LikelyKind.WIDTH, "is half as much", code -> halved(format, code)));
    all.add(new Change(LikelyKind.CONSTANT, "is 1 LSB more", code -> format.extend(code + 1)));
    all.add(new Change(LikelyKind.CONSTANT, "is 1 LSB less", code -> format.extend(code - 1)));
    for (int bits = width - 1; bits > 0; bits--) {
      int unused = Long.SIZE - bits;
      all.add(
          new Change(
              LikelyKind.WIDTH,
              "wraps at " + bits + " bits",
              code -> format.extend(code << unused >> unused)));
      all.add(
          new Change(
              LikelyKind.WIDTH,
              "keeps its lowest " + bits + " bits",
              code -> format.extend(code << unused >>> unused)));
    }
    for (int bit = 0; bit < width; bit++) {
      long mask = 1L << bit;
      all.add(
          new Change(
              LikelyKind.STUCK_BIT,
              "has bit " + bit + " always 0",
              code -> format.extend(code & ~mask)));
      all.add(
          new Change(
              LikelyKind.STUCK_BIT,
              "has bit " + bit + " always 1",
              code -> format.extend(code | mask)));
    }
    return all;
  }

  private static long halved(Format format, long code) {
    return format.signed() ? code >> 1 : code >>> 1;
  }
}
