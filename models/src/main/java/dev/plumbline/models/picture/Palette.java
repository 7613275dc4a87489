package dev.plumbline.models.picture;

import java.util.Arrays;

/**
 * Up to 256 colours by code: evenly spaced levels of each channel, or any table.
 *
 * <pre>{@code
 * Palette bits = Palette.levels(8, 8, 4);       // 3-3-2: code = 32 red + 4 green + blue
 * Palette cube = Palette.levels(6, 6, 6);       // code = 36 red + 6 green + blue
 * Palette greens = Palette.of(0x000000, 0x004000, 0x00C000).withWeights(2, 4, 1);
 * }</pre>
 *
 * <p>Level k of L is round(255 k / (L - 1)), a half rounded up. Of a palette of levels the nearest
 * code takes each channel's nearest level, floor((2 v (L - 1) + 255) / 510); of a table it is the
 * one of the least weighted sum of squared differences, of several the lowest.
 */
public final class Palette {
  private static final int MAX_SIZE = 256;
  private static final int PEAK = 255;

  private final int[] colours;
  private final int[] levels; // of red, green, blue; null for a table
  private final int[] weights;

  private Palette(int[] colours, int[] levels, int... weights) {
    this.colours = colours;
    this.levels = levels;
    this.weights = weights;
  }

  /**
   * A palette of evenly spaced levels; red counts slowest in the code, blue fastest.
   *
   * @param red how many levels, 2 to 256
   * @param green how many levels
   * @param blue how many levels
   * @return a palette of {@code red * green * blue} colours, at most 256
   * @throws IllegalArgumentException when it cannot be
   */
  public static Palette levels(int red, int green, int blue) {
    int least = Math.min(red, Math.min(green, blue));
    int most = Math.max(red, Math.max(green, blue));
    if (least < 2 || most > MAX_SIZE || (long) red * green * blue > MAX_SIZE) {
      throw new IllegalArgumentException(
          "Palette of \""
              + red
              + " x "
              + green
              + " x "
              + blue
              + "\" levels: each channel needs 2 or more, and there are at most 256 colours.");
    }
    int[] colours = new int[red * green * blue];
    for (int code = 0; code < colours.length; code++) {
      int r = value(code / (green * blue), red);
      int g = value(code / blue % green, green);
      int b = value(code % blue, blue);
      colours[code] = r << 16 | g << 8 | b;
    }
    return new Palette(colours, new int[] {red, green, blue}, 1, 1, 1);
  }

  private static int value(int level, int levels) {
    return (2 * PEAK * level + levels - 1) / (2 * (levels - 1));
  }

  /**
   * A palette by its colours.
   *
   * @param colours of 24 bits each, 1 to 256 of them, in the order of their codes
   * @return a palette
   * @throws IllegalArgumentException when there are none or too many, or one has more bits
   */
  public static Palette of(int... colours) {
    if (colours.length < 1 || colours.length > MAX_SIZE) {
      throw new IllegalArgumentException(
          "Palette of \"" + colours.length + "\" colours: there have to be 1 to 256.");
    }
    for (int colour : colours) {
      Picture.requireColour(colour);
    }
    return new Palette(colours.clone(), null, 1, 1, 1);
  }

  /**
   * The same palette, as a table, with another measure of nearness.
   *
   * @param red weight of the squared difference, 0 to 1000
   * @param green weight
   * @param blue weight; one of the three is above 0
   * @return a palette
   * @throws IllegalArgumentException for other weights
   */
  public Palette withWeights(int red, int green, int blue) {
    int[] given = {red, green, blue};
    int least = Arrays.stream(given).min().getAsInt();
    int most = Arrays.stream(given).max().getAsInt();
    if (least < 0 || most > 1000 || most == 0) {
      throw new IllegalArgumentException(
          "Weights \""
              + Arrays.toString(given)
              + "\" of a palette's channels: they have to be 0 to 1000, one of them above 0.");
    }
    return new Palette(colours, null, given);
  }

  /**
   * How many colours there are.
   *
   * @return 1 to 256
   */
  public int size() {
    return colours.length;
  }

  /**
   * How many bits a code has.
   *
   * @return 1 to 8
   */
  public int bits() {
    return Math.max(1, Integer.SIZE - Integer.numberOfLeadingZeros(colours.length - 1));
  }

  /**
   * The colour of a code.
   *
   * @param code from 0
   * @return 24 bits
   * @throws IllegalArgumentException when there is none
   */
  public int colour(int code) {
    if (code < 0 || code >= colours.length) {
      throw new IllegalArgumentException(
          "Code \"" + code + "\" of a palette: it has " + colours.length + " colours, from 0 on.");
    }
    return colours[code];
  }

  /**
   * The code of the nearest colour.
   *
   * @param colour 24 bits
   * @return a code
   */
  public int nearest(int colour) {
    return levels == null ? nearestOfTable(colour) : levelled(colour, 0, 0);
  }

  boolean hasLevels() {
    return levels != null;
  }

  /**
   * The code of levels: each channel at the level below or the one above it; above where the rest
   * exceeds what a cell of a dither matrix asks for. Without ranks the nearest.
   */
  int levelled(int colour, int ranks, int rank) {
    int code = 0;
    for (int channel = 0; channel < 3; channel++) {
      int top = levels[channel] - 1;
      int scaled = (colour >> (16 - 8 * channel) & PEAK) * top;
      int level;
      if (ranks == 0) {
        level = (2 * scaled + PEAK) / (2 * PEAK);
      } else {
        level = scaled / PEAK;
        level += ranks * (scaled - PEAK * level) > PEAK * rank + PEAK / 2 ? 1 : 0;
      }
      code = code * levels[channel] + level;
    }
    return code;
  }

  /** The code of levels that takes the highest parts of each channel. */
  int truncated(int colour) {
    int code = 0;
    for (int channel = 0; channel < 3; channel++) {
      int value = colour >> (16 - 8 * channel) & PEAK;
      code = code * levels[channel] + value * levels[channel] / (PEAK + 1);
    }
    return code;
  }

  private int nearestOfTable(int colour) {
    int best = 0;
    int least = Integer.MAX_VALUE;
    for (int code = 0; code < colours.length; code++) {
      int sum = 0;
      for (int channel = 0; channel < 3; channel++) {
        int shift = 16 - 8 * channel;
        int d = (colour >> shift & PEAK) - (colours[code] >> shift & PEAK);
        sum += weights[channel] * d * d;
      }
      if (sum < least) {
        least = sum;
        best = code;
      }
    }
    return best;
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof Palette p
        && Arrays.equals(colours, p.colours)
        && Arrays.equals(levels, p.levels)
        && Arrays.equals(weights, p.weights);
  }

  @Override
  public int hashCode() {
    return Arrays.hashCode(colours);
  }

  /** How many colours, of which levels. */
  @Override
  public String toString() {
    return colours.length + " colours" + (levels == null ? "" : " " + Arrays.toString(levels));
  }
}
