package dev.plumbline.lockstep;

/**
 * Bits of a signal that have a quantity, up to a row or throughout.
 *
 * @param g the signal's place
 * @param offset its lowest bit there
 * @param width bits that are compared: the quantity's, or fewer where the signal has no more
 * @param delay cycles from the quantity to the signal
 * @param differs the first row in which the signal has something else; -1 for none
 * @param agreed how often the quantity changed and the signal with it, up to then
 * @param by how it was found
 */
record QuantityMatch(
    Quantity quantity, int g, int offset, int width, int delay, int differs, int agreed, By by) {
  /** How a signal is found. */
  enum By {
    /** It is the port that is promised to show the quantity. */
    PORT,
    /** It has had the quantity for long. */
    PROMISE,
    /** It has had the quantity for long in another segment. */
    SEGMENT,
    /** It has the quantity of a changed model that the DUT agrees with, throughout. */
    CHANGE
  }

  boolean isPort() {
    return by == By.PORT;
  }

  boolean isRight() {
    return differs < 0;
  }

  /** The same at a signal that has the same bits. */
  QuantityMatch at(int alike) {
    return new QuantityMatch(quantity, alike, offset, width, delay, differs, agreed, by);
  }

  /** Whether another one of the same signal has all of its bits. */
  boolean isWithin(QuantityMatch other) {
    return offset >= other.offset && offset + width <= other.offset + other.width;
  }
}
