package dev.plumbline.cases;

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

  long clamp(long code) {
    return Math.max(least, Math.min(most, code));
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
}
