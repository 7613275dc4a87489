package dev.plumbline.blocks;

/**
 * The margins of a box that all results of a trial fit. It says what was met: other results of the
 * same hardware may not fit.
 *
 * @param least the smallest, in LSB of the word
 * @param most the largest, in LSB of the word
 * @param cases how many cases were held to each
 */
public record MeasuredMargin(int least, int most, long cases) {
  /**
   * The margin to declare.
   *
   * @return the one in the middle, since roundings hide a larger one as they do a smaller
   */
  public int margin() {
    return least == 0 ? 0 : (least + most) / 2;
  }

  /**
   * What was found, in words.
   *
   * @return one line
   */
  public String words() {
    String some = least == most ? "a margin of " + least : "margins of " + least + " to " + most;
    return "all "
        + cases
        + " cases of a trial fit "
        + some
        + " LSB"
        + (most < MOST ? "" : " and more");
  }

  /** The largest margin that is tried. */
  static final int MOST = 15;
}
