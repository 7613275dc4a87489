package dev.plumbline.models.picture;

import java.util.Objects;

/**
 * Brings 24-bit colours to the codes of a palette, with or without ordered dither.
 *
 * <pre>{@code
 * Quantiser quantiser = Quantiser.of(Palette.levels(8, 8, 4)).withDither(DitherMatrix.bayer(3));
 * int code = quantiser.code(x, y, 0xC08040);
 * }</pre>
 *
 * <p>Without dither a colour goes to the palette's nearest. With it, of a palette of levels, a
 * channel v of L levels stands at level floor(v (L - 1) / 255) with a rest of 0 to 254, and goes to
 * the level above where {@code ranks * rest > 255 * rank + 127}: all in integers. Of a table, each
 * channel is moved by {@code spread * (2 rank + 1 - ranks) / (2 ranks)}, to the nearest integer (a
 * half up), clamped to 0 to 255, and the nearest colour of the table is taken. Truncated, a channel
 * of L levels goes to level floor(v L / 256): where L is a power of two, its highest bits.
 */
public final class Quantiser {
  private static final int PEAK = 255;

  private final Palette palette;
  private final DitherMatrix matrix; // null for none
  private final int spread;
  private final boolean truncating;

  private Quantiser(Palette palette, DitherMatrix matrix, int spread, boolean truncating) {
    this.palette = Objects.requireNonNull(palette, "palette");
    this.matrix = matrix;
    this.spread = spread;
    this.truncating = truncating;
  }

  /**
   * Nearest colours.
   *
   * @param palette to take them from
   * @return a quantiser without dither
   */
  public static Quantiser of(Palette palette) {
    return new Quantiser(palette, null, 0, false);
  }

  /**
   * Low parts of channels dropped: of a palette of 8, 8 and 4 levels, the highest bits as they are.
   *
   * @param palette of levels
   * @return a quantiser without dither
   * @throws IllegalArgumentException when the palette is a table
   */
  public static Quantiser truncating(Palette palette) {
    requireLevels("Truncation to", palette);
    return new Quantiser(palette, null, 0, true);
  }

  private static void requireLevels(String what, Palette palette) {
    if (!palette.hasLevels()) {
      throw new IllegalArgumentException(
          what
              + " a palette of \""
              + palette
              + "\": it has no levels; make it by its levels, or give dither a spread.");
    }
  }

  /**
   * Dither between the levels of a palette of levels.
   *
   * @param dither by which matrix
   * @return a quantiser
   * @throws IllegalArgumentException when the palette is a table, which needs a spread
   */
  public Quantiser withDither(DitherMatrix dither) {
    requireLevels("Dither of", palette);
    return new Quantiser(palette, Objects.requireNonNull(dither, "dither"), 0, false);
  }

  /**
   * Dither by moving colours before the nearest is taken.
   *
   * @param dither by which matrix
   * @param width from the least to the greatest movement of a channel, 1 to 255
   * @return a quantiser
   * @throws IllegalArgumentException for another width
   */
  public Quantiser withDither(DitherMatrix dither, int width) {
    if (width < 1 || width > PEAK) {
      throw new IllegalArgumentException(
          "Dither with a spread of \"" + width + "\": it has to be 1 to 255.");
    }
    return new Quantiser(palette, Objects.requireNonNull(dither, "dither"), width, false);
  }

  /**
   * The palette.
   *
   * @return as given
   */
  public Palette palette() {
    return palette;
  }

  /**
   * The code of a pixel.
   *
   * @param x of the pixel, 0 or more
   * @param y of the pixel, 0 or more
   * @param colour 24 bits
   * @return a code of the palette
   */
  public int code(int x, int y, int colour) {
    if (matrix == null) {
      return truncating ? palette.truncated(colour) : palette.nearest(colour);
    }
    int rank = matrix.rank(x, y);
    if (spread == 0) {
      return palette.levelled(colour, matrix.ranks(), rank);
    }
    int ranks = matrix.ranks();
    int move = Math.floorDiv(spread * (2 * rank + 1 - ranks) + ranks, 2 * ranks);
    int moved = 0;
    for (int shift = 16; shift >= 0; shift -= 8) {
      int value = (colour >> shift & PEAK) + move;
      moved |= Math.max(0, Math.min(PEAK, value)) << shift;
    }
    return palette.nearest(moved);
  }

  /**
   * A whole picture in codes.
   *
   * @param picture in colours
   * @return a picture of the same size
   */
  public CodePicture convert(Picture picture) {
    CodePicture codes = CodePicture.of(picture.width(), picture.height());
    for (int y = 0; y < picture.height(); y++) {
      for (int x = 0; x < picture.width(); x++) {
        codes.set(x, y, code(x, y, picture.at(x, y)));
      }
    }
    return codes;
  }
}
