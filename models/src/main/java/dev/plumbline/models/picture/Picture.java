package dev.plumbline.models.picture;

import java.util.Arrays;

/**
 * A picture of 24-bit colours: red in bits 23 to 16, green in 15 to 8, blue in 7 to 0.
 *
 * <pre>{@code
 * Picture picture = Picture.of(320, 200);
 * picture.set(0, 0, 0xFF8000);                 // the pixel at the top left
 * }</pre>
 *
 * <p>Pixels are counted from the top left, x to the right, y down.
 */
public final class Picture {
  private static final int MAX_SIDE = 1 << 14;

  private final int width;
  private final int height;
  private final int[] colours;

  private Picture(int width, int height) {
    requireSides("Picture", width, height);
    this.width = width;
    this.height = height;
    this.colours = new int[width * height];
  }

  static void requireSides(String what, int width, int height) {
    if (width < 1 || height < 1 || width > MAX_SIDE || height > MAX_SIDE) {
      throw new IllegalArgumentException(
          what
              + " of \""
              + width
              + " x "
              + height
              + "\" pixels: each side has to be 1 to "
              + MAX_SIDE
              + ".");
    }
  }

  /**
   * A black picture.
   *
   * @param width pixels in a row, 1 to 16384
   * @param height rows, 1 to 16384
   * @return a picture to be filled
   */
  public static Picture of(int width, int height) {
    return new Picture(width, height);
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
   * A pixel's colour.
   *
   * @param x from 0 at the left
   * @param y from 0 at the top
   * @return 24 bits
   * @throws IndexOutOfBoundsException when the pixel lies outside
   */
  public int at(int x, int y) {
    return colours[index(x, y)];
  }

  /**
   * Sets a pixel.
   *
   * @param x from 0 at the left
   * @param y from 0 at the top
   * @param colour 24 bits
   * @throws IndexOutOfBoundsException when the pixel lies outside
   * @throws IllegalArgumentException when the colour has more bits
   */
  public void set(int x, int y, int colour) {
    colours[index(x, y)] = requireColour(colour);
  }

  static int requireColour(int colour) {
    if (colour >>> 24 != 0) {
      throw new IllegalArgumentException(
          "Colour \""
              + Integer.toHexString(colour)
              + "\": it has to have 24 bits, red in the highest eight.");
    }
    return colour;
  }

  private int index(int x, int y) {
    if (x < 0 || y < 0 || x >= width || y >= height) {
      throw new IndexOutOfBoundsException(
          "Pixel \"" + x + ", " + y + "\": the picture has " + width + " x " + height + ".");
    }
    return y * width + x;
  }

  /**
   * All pixels, row after row from the top.
   *
   * @return a copy
   */
  public int[] colours() {
    return colours.clone();
  }

  /**
   * How far another picture is from this one.
   *
   * @param other of the same size
   * @return the difference
   * @throws IllegalArgumentException when the sizes differ
   */
  public PictureDifference difference(Picture other) {
    return PictureDifference.of(this, other);
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof Picture p && width == p.width && Arrays.equals(colours, p.colours);
  }

  @Override
  public int hashCode() {
    return 31 * width + Arrays.hashCode(colours);
  }

  /** Its size. */
  @Override
  public String toString() {
    return width + " x " + height;
  }
}
