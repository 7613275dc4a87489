package dev.plumbline.models.span;

import dev.plumbline.models.fixed.Format;
import java.util.Random;

/** Span lists for tests, in codes of a wide word, with every span's number as its surfaces. */
public final class Spans {
  static final Distances CODES = Distances.codes(Format.signed(32, 0));

  private Spans() {}

  /** From entries and exits in turn; span k has surfaces {@code first + k}. */
  static SpanList of(int first, long... ends) {
    SpanList list = SpanList.of(CODES, 64);
    for (int i = 0; i < ends.length; i += 2) {
      list.add(ends[i], ends[i + 1], first + i / 2, first + i / 2);
    }
    return list;
  }

  static SpanList combined(SpanOperator operator, SpanList left, SpanList right) {
    SpanList result = SpanList.of(CODES, 64);
    result.combine(operator, left, right);
    return result;
  }

  /** The ends without their surfaces. */
  static long[] ends(SpanList list) {
    long[] ends = new long[2 * list.count()];
    for (int i = 0; i < ends.length; i++) {
      ends[i] = list.distance(i);
    }
    return ends;
  }

  public static long length(SpanList list) {
    long length = 0;
    for (int i = 0; i < 2 * list.count(); i += 2) {
      length += list.distance(i + 1) - list.distance(i);
    }
    return length;
  }

  /** Up to five spans between 0 and 40, so that many ends coincide. */
  static SpanList random(Random random, int first) {
    SpanList list = SpanList.of(CODES, 64);
    long at = random.nextInt(6);
    int spans = random.nextInt(6);
    for (int i = 0; i < spans; i++) {
      long exit = at + 1 + random.nextInt(5);
      list.add(at, exit, first + i, first + i);
      at = exit + 1 + random.nextInt(4);
    }
    return list;
  }
}
