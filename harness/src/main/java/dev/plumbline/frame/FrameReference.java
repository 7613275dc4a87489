package dev.plumbline.frame;

import dev.plumbline.models.light.BoundedFrame;
import dev.plumbline.models.picture.Picture;
import java.util.Optional;

/**
 * The colours that pixels may have, channel by channel.
 *
 * @param least of each channel
 * @param greatest of each channel, a picture of the same size
 * @param bounds which of them the declared precision leaves open; empty for one colour a pixel
 */
record FrameReference(Picture least, Picture greatest, Optional<BoundedFrame> bounds) {
  static FrameReference of(Picture picture) {
    return new FrameReference(picture, picture, Optional.empty());
  }

  static FrameReference of(BoundedFrame bounds) {
    return new FrameReference(bounds.least(), bounds.greatest(), Optional.of(bounds));
  }

  boolean isExact() {
    return bounds.isEmpty();
  }

  /** How far a channel of a pixel lies outside, 0 within. */
  int off(int x, int y, int colour, int shift) {
    int channel = colour >> shift & 0xFF;
    int low = least.at(x, y) >> shift & 0xFF;
    int high = greatest.at(x, y) >> shift & 0xFF;
    return channel < low ? low - channel : Math.max(0, channel - high);
  }

  /** How far a pixel lies outside: the most of its channels. */
  int off(int x, int y, int colour) {
    int most = 0;
    for (int shift = 16; shift >= 0; shift -= 8) {
      most = Math.max(most, off(x, y, colour, shift));
    }
    return most;
  }
}
