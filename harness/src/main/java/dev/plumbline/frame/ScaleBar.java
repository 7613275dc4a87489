package dev.plumbline.frame;

import dev.plumbline.models.picture.Picture;

/**
 * A scale below a picture: a block of each shade, and under it the number that the shade stands
 * for. Digits are drawn here, three by five pixels each, so that the same picture is the same bytes
 * on a machine with other fonts, or with none.
 */
final class ScaleBar {
  /** Rows that a scale adds. */
  static final int HEIGHT = 16;

  private static final int GAP = 2;
  private static final int BLOCK = 6; // rows of a block
  private static final int DIGIT_WIDTH = 3;
  private static final int DIGIT_HEIGHT = 5;
  private static final int PAPER = 0x303050; // no grey, as shades are
  private static final int INK = 0xFFFFFF;

  /** Row by row from the top, the left pixel of each in its highest bit. */
  private static final int[] DIGITS = {
    0b111_101_101_101_111,
    0b010_110_010_010_111,
    0b111_001_111_100_111,
    0b111_001_111_001_111,
    0b101_101_111_001_001,
    0b111_100_111_001_111,
    0b111_100_111_101_111,
    0b111_001_010_010_010,
    0b111_101_111_101_111,
    0b111_101_111_001_111
  };

  private ScaleBar() {}

  /**
   * A picture with a scale below, and as wide as that needs.
   *
   * @param picture stands at the top left as it was
   * @param greys 0 to 255, from the left
   * @param numbers 0 or more, as many
   * @return another picture
   */
  static Picture under(Picture picture, int[] greys, long[] numbers) {
    int widest = 0;
    for (long number : numbers) {
      widest = Math.max(widest, width(number));
    }
    int step = widest + GAP + 1;
    int width = Math.max(picture.width(), greys.length * step + 1);
    Picture whole = Picture.of(width, picture.height() + HEIGHT);
    fill(whole, 0, 0, width, whole.height(), PAPER);
    for (int y = 0; y < picture.height(); y++) {
      for (int x = 0; x < picture.width(); x++) {
        whole.set(x, y, picture.at(x, y));
      }
    }
    int top = picture.height() + GAP;
    for (int k = 0; k < greys.length; k++) {
      int left = 1 + k * step;
      fill(whole, left, top, step - GAP, BLOCK, greys[k] * 0x10101);
      write(whole, left, top + BLOCK + 1, numbers[k]);
    }
    return whole;
  }

  private static int width(long number) {
    return Long.toString(number).length() * (DIGIT_WIDTH + 1) - 1;
  }

  private static void fill(Picture into, int left, int top, int width, int height, int colour) {
    for (int y = top; y < top + height; y++) {
      for (int x = left; x < left + width; x++) {
        into.set(x, y, colour);
      }
    }
  }

  private static void write(Picture into, int left, int top, long number) {
    String digits = Long.toString(number);
    for (int k = 0; k < digits.length(); k++) {
      int shape = DIGITS[digits.charAt(k) - '0'];
      for (int pixel = 0; pixel < DIGIT_WIDTH * DIGIT_HEIGHT; pixel++) {
        if (((shape >> (DIGIT_WIDTH * DIGIT_HEIGHT - 1 - pixel)) & 1) == 1) {
          int x = left + k * (DIGIT_WIDTH + 1) + pixel % DIGIT_WIDTH;
          into.set(x, top + pixel / DIGIT_WIDTH, INK);
        }
      }
    }
  }
}
