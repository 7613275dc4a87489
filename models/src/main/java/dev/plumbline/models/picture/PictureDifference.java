package dev.plumbline.models.picture;

/**
 * How far one picture is from another, over all channels of all pixels.
 *
 * @param meanSquare mean of the squared differences of channels
 * @param largest the largest difference of a channel, 0 to 255
 * @param x of the first pixel that has it, in the order of rows; 0 where all are equal
 * @param y of that pixel
 * @param pixels how many pixels differ
 */
public record PictureDifference(double meanSquare, int largest, int x, int y, int pixels) {
  private static final int PEAK = 255;

  static PictureDifference of(Picture a, Picture b) {
    if (a.width() != b.width() || a.height() != b.height()) {
      throw new IllegalArgumentException(
          "Difference of pictures of \""
              + a
              + "\" and \""
              + b
              + "\": they have to be of one size.");
    }
    long squares = 0;
    int largest = 0;
    int at = 0;
    int pixels = 0;
    int[] left = a.colours();
    int[] right = b.colours();
    for (int i = 0; i < left.length; i++) {
      pixels += left[i] == right[i] ? 0 : 1;
      for (int shift = 16; shift >= 0; shift -= 8) {
        int d = Math.abs((left[i] >> shift & PEAK) - (right[i] >> shift & PEAK));
        squares += (long) d * d;
        if (d > largest) {
          largest = d;
          at = i;
        }
      }
    }
    double mean = squares / (3.0 * left.length);
    return new PictureDifference(mean, largest, at % a.width(), at / a.width(), pixels);
  }

  /**
   * The peak signal-to-noise ratio, 10 log10(255<sup>2</sup> / mean square).
   *
   * @return in dB; infinite for equal pictures
   */
  public double psnr() {
    return 10 * Math.log10((double) PEAK * PEAK / meanSquare);
  }
}
