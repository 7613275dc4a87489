package dev.plumbline.cases;

import static dev.plumbline.cases.ColumnStream.ROWS;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.stimulus.RandomStream;

/** The range of a format of up to 62 bits, and its corners: ends, zero, powers of two. */
final class Limits {
  private final long least;
  private final long most;
  private final int bits;

  Limits(Format format) {
    if (format.width() > 62) {
      throw new IllegalArgumentException(
          "Rays in " + format + " cannot be drawn; formats of up to 62 bits are allowed.");
    }
    this.least = format.minCode().longValueExact();
    this.most = format.maxCode().longValueExact();
    this.bits = format.width();
  }

  long least() {
    return least;
  }

  long most() {
    return most;
  }

  long clamp(long code) {
    return Math.max(least, Math.min(most, code));
  }

  /** Codes of 62 bits at most, saturated. */
  void clamp(ColumnStream chance, long[] codes, long[] out) {
    chance.then(
        () -> clamp(codes, least, most, out), out, "limited($0, $1, $2)", codes, least, most);
  }

  private static void clamp(long[] codes, long least, long most, long[] out) {
    for (int i = 0; i < ColumnStream.ROWS; i++) {
      long over = codes[i] - least;
      long code = codes[i] - (over & (over >> 63));
      long under = most - code;
      out[i] = code + (under & (under >> 63));
    }
  }

  /** An end of the range, or the code beside it. */
  long end(RandomStream chance) {
    long beside = chance.below(4) == 0 ? 1 : 0;
    return chance.below(2) == 0 ? least + beside : most - beside;
  }

  /** The highest code, or the one below it. */
  long top(RandomStream chance) {
    return most - (chance.below(4) == 0 ? 1 : 0);
  }

  long draw(RandomStream chance) {
    int near = chance.below(3) - 1;
    return switch (chance.below(5)) {
      case 0 -> clamp(least + near);
      case 1 -> clamp(most + near);
      case 2 -> clamp(near);
      case 3 -> clamp((1L << chance.below(bits)) + near);
      default -> clamp(-(1L << chance.below(bits)) + near);
    };
  }

  /** The same row after row, from the state of a stream on, which is returned as it is then. */
  long draw(long state, long[] out, int from, int to) {
    return draw(state, least, most, bits, out, from, to);
  }

  private static long draw(
      long state, long least, long most, long bits, long[] out, int from, int to) {
    long next = state;
    for (int i = from; i < to; i++) {
      long near = below(3, next + RandomStream.STEP) - 1;
      long kind = below(5, next + RandomStream.STEP + RandomStream.STEP);
      long isPower = (2 - kind) >> 63; // kinds 3 and 4, which take a third draw
      long minus = (3 - kind) >> 63;
      next += RandomStream.STEP;
      next += RandomStream.STEP;
      long power = 1L << below(bits, next + RandomStream.STEP);
      next += RandomStream.STEP & isPower;
      long code =
          near
              + (least & ((kind - 1) >> 63))
              + (most & (((kind ^ 1) - 1) >> 63))
              + (((power ^ minus) - minus) & isPower);
      long over = code - least;
      code -= over & (over >> 63);
      long under = most - code;
      out[i] = code + (under & (under >> 63));
    }
    return next;
  }

  private static long below(long bound, long state) {
    return ((RandomStream.mix(state) >>> 32) * bound) >>> 32;
  }

  /** The same in each row of a column, with two to work in. */
  void draw(ColumnStream chance, long[] kind, long[] place, long[] out) {
    chance.below(5, kind);
    chance.below(bits, place);
    chance.within(1, out);
    chance.then(
        () -> corners(kind, place, out),
        out,
        "$2 + (turned(3 < $0, whole(1) << $1) & (2 < $0))",
        kind,
        place,
        out);
    chance.then(
        () -> ends(kind, least, most, out),
        out,
        "$3 + (($1 & ($0 < 1)) | ($2 & ($0 == 1)))",
        kind,
        least,
        most,
        out);
    clamp(chance, out, out);
  }

  private static void corners(long[] kind, long[] place, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      long minus = (3 - kind[i]) >> 63; // kind 4
      out[i] += (((1L << place[i]) ^ minus) - minus) & ((2 - kind[i]) >> 63); // kinds 3 and 4
    }
  }

  private static void ends(long[] kind, long least, long most, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] += (least & ((kind[i] - 1) >> 63)) | (most & (((kind[i] ^ 1) - 1) >> 63));
    }
  }
}
