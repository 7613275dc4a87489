package dev.plumbline.models.fixed;

/**
 * How a value that falls between two codes is brought to one of them.
 *
 * <p>Names follow IEEE 754-2019 section 4.3 in plain words; {@link #HALF_UP} is
 * add-half-then-floor, which is what {@link Math#round(double)} does and <em>not</em> {@link
 * java.math.RoundingMode#HALF_UP}.
 */
public enum Rounding {
  /** Towards minus infinity: the low bits are dropped. */
  DOWN,
  /** Towards zero. */
  TO_ZERO,
  /** To the nearest code; a tie goes towards plus infinity. */
  HALF_UP,
  /** To the nearest code; a tie goes away from zero. */
  HALF_AWAY,
  /** To the nearest code; a tie goes to the even code. */
  HALF_EVEN
}
