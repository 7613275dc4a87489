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
 * @param isPort whether a port of the DUT shows it by what was promised, not by what it had
 */
record QuantityMatch(
    Quantity quantity,
    int g,
    int offset,
    int width,
    int delay,
    int differs,
    int agreed,
    boolean isPort) {
  boolean isRight() {
    return differs < 0;
  }

  /** The same at a signal that has the same bits. */
  QuantityMatch at(int alike) {
    return new QuantityMatch(
        quantity, alike, offset, width, delay, differs, agreed, isPort);
  }

  /** Whether another one of the same signal has all of its bits. */
  boolean isWithin(QuantityMatch other) {
    return offset >= other.offset
        && offset + width <= other.offset + other.width;
  }
}
