package dev.plumbline.models.solid;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;

/**
 * Hardware as a stranger might build it: four formulas, three roundings, one rounding an operation
 * to a working format. Written from the formulas in whole numbers, without any code of the models.
 */
final class SphereFormulas {
  enum Formula {
    /** b^2 - (|o-c|^2 - r^2). */
    SQUARES,
    /** The perpendicular vector from the centre to the line. */
    PERPENDICULAR,
    /** (2b)^2 - 4c, then half of the sum. */
    QUADRATIC,
    /** (b^2 - ac)/a, with the direction's squared length as it is. */
    LENGTH
  }

  enum Mode {
    FLOOR,
    HALF_UP,
    TRUNCATE
  }

  private final Format word;
  private final int directionFraction;
  private final int fraction;
  private final Formula formula;
  private final Mode mode;

  boolean hit;
  boolean inside;
  long entry;
  long exit;

  SphereFormulas(Format word, Format direction, Format working, Formula formula, Mode mode) {
    this.word = word;
    this.directionFraction = direction.fractionBits();
    this.fraction = working.fractionBits();
    this.formula = formula;
    this.mode = mode;
  }

  void compute(long[][] columns, int i) {
    BigInteger[] offset = new BigInteger[3];
    BigInteger projection = BigInteger.ZERO;
    for (int k = 0; k < 3; k++) {
      long exact = columns[SphereCases.CENTRE + k][i] - columns[SphereCases.ORIGIN + k][i];
      offset[k] = rounded(BigInteger.valueOf(exact), word.fractionBits() - fraction);
      projection = projection.add(along(offset[k], columns, k, i));
    }
    BigInteger radius = BigInteger.valueOf(columns[SphereCases.RADIUS][i]);
    BigInteger squaredRadius = rounded(radius.pow(2), 2 * word.fractionBits() - fraction);
    BigInteger[] across = offset.clone();
    if (formula == Formula.PERPENDICULAR) {
      for (int k = 0; k < 3; k++) {
        across[k] = offset[k].subtract(along(projection, columns, k, i));
      }
    }
    BigInteger excess = squaredRadius.negate();
    for (BigInteger component : across) {
      excess = excess.add(rounded(component.pow(2), fraction));
    }
    int doubled = formula == Formula.QUADRATIC ? 1 : 0;
    BigInteger b = projection.shiftLeft(doubled);
    BigInteger length = BigInteger.ONE.shiftLeft(2 * directionFraction);
    if (formula == Formula.LENGTH) {
      length = BigInteger.ZERO;
      for (int k = 0; k < 3; k++) {
        length = length.add(BigInteger.valueOf(columns[SphereCases.DIRECTION + k][i]).pow(2));
      }
      excess = rounded(excess.multiply(length), 2 * directionFraction);
    }
    BigInteger discriminant = excess.shiftLeft(2 * doubled).negate();
    if (formula != Formula.PERPENDICULAR) {
      discriminant = discriminant.add(rounded(b.pow(2), fraction));
    }
    BigInteger root = root(discriminant.max(BigInteger.ZERO).shiftLeft(fraction));
    entry = word(over(rounded(b.subtract(root), doubled), length));
    exit = word(over(rounded(b.add(root), doubled), length));
    hit = discriminant.signum() >= 0 && radius.signum() >= 0 && exit >= 0;
    inside = hit && entry < 0;
  }

  private BigInteger along(BigInteger length, long[][] columns, int k, int i) {
    long direction = columns[SphereCases.DIRECTION + k][i];
    return rounded(length.multiply(BigInteger.valueOf(direction)), directionFraction);
  }

  private BigInteger root(BigInteger square) {
    BigInteger[] root = square.sqrtAndRemainder();
    boolean up = mode == Mode.HALF_UP && root[1].compareTo(root[0]) > 0;
    return up ? root[0].add(BigInteger.ONE) : root[0];
  }

  /** A quotient; a direction of zero leaves the distance as it is. */
  private BigInteger over(BigInteger distance, BigInteger length) {
    if (length.signum() == 0) {
      return distance;
    }
    BigInteger full = distance.shiftLeft(2 * directionFraction);
    if (mode == Mode.TRUNCATE) {
      return full.divide(length);
    }
    BigInteger half = mode == Mode.HALF_UP ? length.shiftRight(1) : BigInteger.ZERO;
    BigInteger[] parts = full.add(half).divideAndRemainder(length);
    return parts[1].signum() < 0 ? parts[0].subtract(BigInteger.ONE) : parts[0];
  }

  private long word(BigInteger code) {
    BigInteger whole = rounded(code, fraction - word.fractionBits());
    return whole.max(word.minCode()).min(word.maxCode()).longValue();
  }

  private BigInteger rounded(BigInteger code, int drop) {
    if (drop <= 0) {
      return code.shiftLeft(-drop);
    }
    return switch (mode) {
      case FLOOR -> code.shiftRight(drop);
      case HALF_UP -> code.add(BigInteger.ONE.shiftLeft(drop - 1)).shiftRight(drop);
      case TRUNCATE -> code.divide(BigInteger.ONE.shiftLeft(drop));
    };
  }
}
