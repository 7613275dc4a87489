package dev.plumbline.models.light;

import dev.plumbline.models.picture.Picture;
import java.util.BitSet;

/**
 * The colours that hardware of declared precision may give the pixels of a frame.
 *
 * <p>A pixel is <em>open</em> where the precision leaves a decision open: which surface is met,
 * whether it is in the shadow. Where the surface is open, so is every channel, from 0 to 255.
 */
public final class BoundedFrame {
  private final Picture least;
  private final Picture greatest;
  private final BitSet open;

  BoundedFrame(Picture least, Picture greatest, BitSet open) {
    this.least = least;
    this.greatest = greatest;
    this.open = open;
  }

  /**
   * What a picture comes to.
   *
   * @param wrong pixels that have a colour no such hardware gives
   * @param x of the first of them in the order of rows; 0 without one
   * @param y of it
   * @param open pixels whose colour the precision leaves open
   */
  public record Verdict(int wrong, int x, int y, int open) {}

  /**
   * Whether a pixel may have a colour.
   *
   * @param x of the pixel
   * @param y of the pixel
   * @param colour 24 bits
   * @return whether each channel lies within its bounds
   */
  public boolean admits(int x, int y, int colour) {
    int low = least.at(x, y);
    int high = greatest.at(x, y);
    for (int shift = 16; shift >= 0; shift -= 8) {
      int channel = colour >> shift & 0xFF;
      if (channel < (low >> shift & 0xFF) || channel > (high >> shift & 0xFF)) {
        return false;
      }
    }
    return true;
  }

  /**
   * Whether the precision leaves a pixel's colour open.
   *
   * @param x of the pixel
   * @param y of the pixel
   * @return true where a decision is open
   */
  public boolean isOpen(int x, int y) {
    return open.get(y * least.width() + x);
  }

  /**
   * How many pixels are open.
   *
   * @return 0 or more
   */
  public int openPixels() {
    return open.cardinality();
  }

  /**
   * The least value of each channel.
   *
   * @return a picture
   */
  public Picture least() {
    return least;
  }

  /**
   * The greatest value of each channel.
   *
   * @return a picture
   */
  public Picture greatest() {
    return greatest;
  }

  /**
   * Holds a picture to these bounds.
   *
   * @param picture of the same size
   * @return how many pixels are wrong, and which first
   * @throws IllegalArgumentException when it has another size
   */
  public Verdict judge(Picture picture) {
    if (picture.width() != least.width() || picture.height() != least.height()) {
      throw new IllegalArgumentException(
          "Picture of \"" + picture + "\" judged by bounds of " + least + ": sizes have to agree.");
    }
    int wrong = 0;
    int first = 0;
    for (int i = picture.width() * picture.height() - 1; i >= 0; i--) {
      int x = i % picture.width();
      int y = i / picture.width();
      if (!admits(x, y, picture.at(x, y))) {
        wrong++;
        first = i;
      }
    }
    return new Verdict(wrong, first % picture.width(), first / picture.width(), openPixels());
  }

  /**
   * A picture with its open pixels marked.
   *
   * @param picture of the same size
   * @param mark a colour of 24 bits
   * @return a copy
   */
  public Picture marked(Picture picture, int mark) {
    Picture copy = Picture.of(picture.width(), picture.height());
    for (int y = 0; y < picture.height(); y++) {
      for (int x = 0; x < picture.width(); x++) {
        copy.set(x, y, isOpen(x, y) ? mark : picture.at(x, y));
      }
    }
    return copy;
  }
}
