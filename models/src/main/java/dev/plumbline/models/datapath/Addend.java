package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Rounding;
import java.math.BigInteger;

/**
 * What rounding adds to the dropped bits before they are dropped: always, when the code is
 * negative, when the code that remains is odd. The sum of dropped bits and addend is below twice
 * the unit, so that at most one is carried into the code that remains.
 */
record Addend(BigInteger always, BigInteger whenNegative, BigInteger whenOdd) {
  static Addend of(Rounding rounding, int droppedBits) {
    BigInteger unit = BigInteger.ONE.shiftLeft(droppedBits);
    return new Addend(rounding.always(unit), rounding.whenNegative(unit), rounding.whenOdd(unit));
  }

  /** Towards plus infinity, for the upper ends of bounds. */
  static Addend up(int droppedBits) {
    BigInteger unit = BigInteger.ONE.shiftLeft(droppedBits);
    return new Addend(unit.subtract(BigInteger.ONE), BigInteger.ZERO, BigInteger.ZERO);
  }

  /** Whether the same is added to every code. */
  boolean constant() {
    return whenNegative.signum() == 0 && whenOdd.signum() == 0;
  }

  boolean nothing() {
    return always.signum() == 0 && whenNegative.signum() == 0 && whenOdd.signum() == 0;
  }
}
