package dev.plumbline.cases;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.stimulus.Generator;
import dev.plumbline.stimulus.Share;
import dev.plumbline.stimulus.Stimulus;

/** Stimuli for operands that do not depend on each other. */
public final class Numbers {
  private static final int WIDEST = 62;

  private Numbers() {}

  /**
   * All over the formats, with more at their corners and ends and at every magnitude.
   *
   * @return the stimulus
   */
  public static Stimulus everywhere() {
    return Stimulus.mix(
        Share.of(6, Stimulus.standard()),
        Share.of(2, Stimulus.each(Generator.corners())),
        Share.of(2, Stimulus.each(Generator.logarithmic())),
        Share.of(1, Stimulus.each(Numbers::ends)));
  }

  /**
   * The same, and squares of codes of the root with their neighbours.
   *
   * @param input what the root is taken of
   * @param root the format of the root
   * @return the stimulus
   */
  public static Stimulus squares(Format input, Format root) {
    int finer = 2 * root.fractionBits() - input.fractionBits(); // places of a square beyond x's
    int left = finer >= 0 ? finer & 1 : -finer;
    int bits = Math.min(31, (input.width() - (input.signed() ? 1 : 0) - left) / 2);
    Generator squares =
        Generator.drawn(
            stream -> {
              long side = stream.next() >>> 33 >>> (31 - Math.max(1, stream.below(bits + 1)));
              return ((side * side) << left) + stream.below(3) - 1;
            });
    return input.width() > WIDEST || bits < 1
        ? everywhere()
        : Stimulus.mix(
            Share.of(4, everywhere()), Share.of(1, Stimulus.standard().with("x", squares)));
  }

  /** The ends of a format and powers of two, few enough that operands coincide there. */
  private static Generator.Source ends(Format format, long seed) {
    if (format.width() > WIDEST) {
      return Generator.corners().open(format, seed);
    }
    Limits limits = new Limits(format);
    long[] state = {seed};
    return (words, from, to) -> state[0] = limits.draw(state[0], words[0], from, to);
  }
}
