package dev.plumbline.models.picture;

import java.util.Arrays;

/** A picture of palette codes, 0 to 255 each; pixels are counted as in {@link Picture}. */
public final class CodePicture {
  private final int width;
  private final int height;
  private final byte[] codes;

  private CodePicture(int width, int height) {
    Picture.requireSides("Picture of codes", width, height);
    this.width = width;
    this.height = height;
    this.codes = new byte[width * height];
  }

  /**
   * A picture of code 0.
   *
   * @param width pixels in a row, 1 to 16384
   * @param height rows, 1 to 16384
   * @return a picture to be filled
   */
  public static CodePicture of(int width, int height) {
    return new CodePicture(width, height);
  }

  /**
   * Pixels in a row.
   *
   * @return 1 or more
   */
  public int width() {
    return width;
  }

  /**
   * Rows.
   *
   * @return 1 or more
   */
  public int height() {
    return height;
  }

  /**
   * A pixel's code.
   *
   * @param x from 0 at the left
   * @param y from 0 at the top
   * @return 0 to 255
   * @throws IndexOutOfBoundsException when the pixel lies outside
   */
  public int at(int x, int y) {
    return codes[index(x, y)] & 0xFF;
  }

  /**
   * Sets a pixel.
   *
   * @param x from 0 at the left
   * @param y from 0 at the top
   * @param code 0 to 255
   * @throws IndexOutOfBoundsException when the pixel lies outside
   * @throws IllegalArgumentException for another code
   */
  public void set(int x, int y, int code) {
    if (code < 0 || code > 255) {
      throw new IllegalArgumentException("Code \"" + code + "\" of a pixel: it is 0 to 255.");
    }
    codes[index(x, y)] = (byte) code;
  }

  private int index(int x, int y) {
    if (x < 0 || y < 0 || x >= width || y >= height) {
      throw new IndexOutOfBoundsException(
          "Pixel \"" + x + ", " + y + "\": the picture has " + width + " x " + height + ".");
    }
    return y * width + x;
  }

  /**
   * The picture in colours.
   *
   * @param palette that the codes are of
   * @return a picture of the same size
   * @throws IllegalArgumentException when the palette has no colour for a code
   */
  public Picture colours(Palette palette) {
    Picture picture = Picture.of(width, height);
    for (int y = 0; y < height; y++) {
      for (int x = 0; x < width; x++) {
        picture.set(x, y, palette.colour(at(x, y)));
      }
    }
    return picture;
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof CodePicture p && width == p.width && Arrays.equals(codes, p.codes);
  }

  @Override
  public int hashCode() {
    return 31 * width + Arrays.hashCode(codes);
  }

  /** Its size. */
  @Override
  public String toString() {
    return width + " x " + height;
  }
}
