package dev.plumbline.models.light;

/** Sizes of frames. */
final class Sizes {
  private static final int MOST = 1 << 12;

  private Sizes() {}

  static void require(int width, int height) {
    if (width < 1 || height < 1 || width > MOST || height > MOST) {
      throw new IllegalArgumentException(
          "Frame of \"" + width + " x " + height + "\" pixels: each side has to be 1 to 4096.");
    }
  }
}
