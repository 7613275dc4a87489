package dev.plumbline.models.unit;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.math.BigDecimal;
import java.math.BigInteger;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

/**
 * Why two truncated Newton steps and one upward correction give the quotient's floor.
 *
 * <p>With e = 1 - Dr, a step r' = r(2 - Dr) gives e' = e^2 exactly, so r' never exceeds 1/D, and
 * truncation only lowers it. What truncation takes is at most r 2^-c for a correction of c fraction
 * bits and 2^-n for an estimate of n. The estimate that leaves the second step is worth 2^34/D; a
 * result within W <= 32 bits is that shifted right by at least 3. So a shortfall below 2^3 last
 * places leaves the shifted estimate at the floor or one below it, which the remainder shows.
 */
class NewtonProofTest {
  private static final BigDecimal TWO = BigDecimal.valueOf(2);

  @Test
  void secondEstimateFallsShortByLessThanTheCorrectionRepairs() {
    long[] seeds = MidpointTable.reciprocals(8, 10);
    BigDecimal worst = BigDecimal.ZERO;
    for (int i = 0; i < seeds.length; i++) {
      BigDecimal seed = BigDecimal.valueOf(seeds[i]).multiply(power(-10));
      BigDecimal from = BigDecimal.valueOf(256L + i).multiply(power(-9));
      BigDecimal to = from.add(power(-9));
      BigDecimal e0 =
          BigDecimal.ONE
              .subtract(from.multiply(seed))
              .abs()
              .max(BigDecimal.ONE.subtract(to.multiply(seed)).abs());
      // D <= to in every term; an estimate is below 2.
      BigDecimal e1 = e0.pow(2).add(to.multiply(TWO.multiply(power(-24)).add(power(-20))));
      BigDecimal e2 = e1.pow(2).add(to.multiply(TWO.multiply(power(-36)).add(power(-34))));
      // The shortfall is e2 / D, largest at the slice's start, in places of 2^-34.
      worst = worst.max(e2.multiply(power(34)).divide(from, java.math.MathContext.DECIMAL64));
    }
    assertTrue(worst.compareTo(BigDecimal.valueOf(8)) < 0, "shortfall " + worst);
    assertTrue(worst.compareTo(BigDecimal.ONE) > 0, "a proof too good to be true: " + worst);
  }

  @Test
  @DisplayName("B7: a Newton step squares the error; from 48/17 - 32/17 D it is 1/17, 1/289, ...")
  void newtonStepSquaresTheError() {
    // Newton-Raphson division as textbooks give it; fractions with denominator 17^n, D = 1/2 and 1.
    for (BigInteger twiceD : new BigInteger[] {BigInteger.ONE, BigInteger.TWO}) {
      BigInteger seventeen = BigInteger.valueOf(17);
      BigInteger r = BigInteger.valueOf(48).subtract(twiceD.shiftLeft(4)); // over 17
      BigInteger denominator = seventeen;
      BigInteger error = error(twiceD, r, denominator);
      assertEquals(BigInteger.ONE, error.abs(), "1/17 at either end");
      for (int step = 1; step <= 3; step++) {
        // r(2 - Dr) = r (4q - 2D r) / (2 q^2); r stays even, so the half is exact.
        BigInteger doubled = r.multiply(denominator.shiftLeft(2).subtract(twiceD.multiply(r)));
        r = doubled.shiftRight(1);
        assertEquals(doubled, r.shiftLeft(1), "the half is exact");
        denominator = denominator.pow(2);
        error = error(twiceD, r, denominator);
        assertEquals(BigInteger.ONE, error, "1 over 17 to the " + (1 << step));
      }
      assertEquals(6975757441L, denominator.longValueExact());
    }
  }

  /** (1 - Dr) times the denominator. */
  private static BigInteger error(BigInteger twiceD, BigInteger r, BigInteger denominator) {
    return denominator.subtract(twiceD.multiply(r).shiftRight(1));
  }

  private static BigDecimal power(int exponent) {
    return exponent >= 0
        ? BigDecimal.valueOf(1L << exponent)
        : BigDecimal.ONE.divide(BigDecimal.valueOf(1L << -exponent));
  }
}
