package dev.plumbline.models.solid;

import dev.plumbline.models.fixed.Format;
import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;

/**
 * A ray and a sphere in decimal numbers, which hold every code and every square exactly: what the
 * mathematics says, and what it says when the named quantities are off by a budget, in each of the
 * three formulas. Written from the formulas alone, not from the steps of the models.
 */
final class SphereMath {
  private static final MathContext DIGITS = new MathContext(60);
  private static final BigDecimal TWO = BigDecimal.valueOf(2);

  private final Format word;
  private final BigDecimal[] offset = new BigDecimal[3];
  private final BigDecimal[] direction = new BigDecimal[3];
  private final BigDecimal radius;
  private final BigDecimal foot;
  private final BigDecimal length;
  private final BigDecimal excess;

  /** The least and the greatest discriminant seen. */
  private BigDecimal[] discriminant;

  private BigDecimal[] projection;
  private BigDecimal root;
  private BigDecimal distance;

  SphereMath(Format word, Format direction, long[][] columns, int i) {
    this.word = word;
    for (int k = 0; k < 3; k++) {
      BigDecimal from = real(columns[SphereCases.ORIGIN + k][i], word);
      offset[k] = real(columns[SphereCases.CENTRE + k][i], word).subtract(from);
      this.direction[k] = real(columns[SphereCases.DIRECTION + k][i], direction);
    }
    radius = real(columns[SphereCases.RADIUS][i], word);
    foot = dot(offset, this.direction);
    length = dot(this.direction, this.direction);
    excess = dot(offset, offset).subtract(radius.multiply(radius));
  }

  private static BigDecimal real(long code, Format format) {
    return format.toDecimal(java.math.BigInteger.valueOf(code));
  }

  private static BigDecimal dot(BigDecimal[] a, BigDecimal[] b) {
    return a[0].multiply(b[0]).add(a[1].multiply(b[1])).add(a[2].multiply(b[2]));
  }

  /** The squared length of the direction less 1. */
  double surplus() {
    return length.doubleValue() - 1;
  }

  /** Sets how far off everything may be: a budget, and a share of it more. */
  SphereMath within(Budget budget, double share) {
    BigDecimal place =
        BigDecimal.valueOf(budget.working().lastPlace()).multiply(BigDecimal.valueOf(1 + share));
    BigDecimal slip = place.multiply(BigDecimal.valueOf(budget.lastPlaces("projection")));
    BigDecimal nudge = place.multiply(BigDecimal.valueOf(budget.lastPlaces("offset")));
    BigDecimal square = place.multiply(BigDecimal.valueOf(budget.lastPlaces("squared_distance")));
    BigDecimal own = place.multiply(BigDecimal.valueOf(budget.lastPlaces("discriminant")));
    root = place.multiply(BigDecimal.valueOf(budget.lastPlaces("root")));
    distance = place.multiply(BigDecimal.valueOf(budget.lastPlaces("distance")));
    projection = new BigDecimal[] {foot.subtract(slip), foot.add(slip)};
    discriminant = null;
    for (int s = -1; s <= 1; s++) {
      BigDecimal b = foot.add(slip.multiply(BigDecimal.valueOf(s)));
      see(b.multiply(b).subtract(excess), own.add(square));
      see(b.multiply(b).subtract(length.multiply(excess)), own.add(square.multiply(length)));
      for (int corner = 0; corner < 27; corner++) {
        BigDecimal[] across = new BigDecimal[3];
        int rest = corner;
        for (int k = 0; k < 3; k++) {
          BigDecimal off = nudge.multiply(BigDecimal.valueOf(rest % 3 - 1));
          across[k] = offset[k].subtract(b.multiply(direction[k])).add(off);
          rest /= 3;
        }
        see(radius.multiply(radius).subtract(dot(across, across)), own.add(square));
      }
    }
    return this;
  }

  private void see(BigDecimal d, BigDecimal off) {
    BigDecimal low = d.subtract(off);
    BigDecimal high = d.add(off);
    if (discriminant == null) {
      discriminant = new BigDecimal[] {low, high};
    }
    discriminant[0] = discriminant[0].min(low);
    discriminant[1] = discriminant[1].max(high);
  }

  /** 1 where every perturbation hits, 0 where none does, -1 where they differ. */
  int hit() {
    if (radius.signum() < 0 || discriminant[1].signum() < 0) {
      return 0;
    }
    BigDecimal[] exit = exit();
    if (ceiling(exit[1]) < 0) {
      return 0;
    }
    return discriminant[0].signum() >= 0 && floor(exit[0]) >= 0 ? 1 : -1;
  }

  /** The like for the flag that says that the origin lies inside. */
  int inside() {
    int hit = hit();
    BigDecimal[] entry = entry();
    if (hit == 0 || floor(entry[0]) >= 0) {
      return 0;
    }
    return hit == 1 && ceiling(entry[1]) < 0 ? 1 : -1;
  }

  BigDecimal[] entry() {
    BigDecimal[] root = roots();
    return overLength(projection[0].subtract(root[1]), projection[1].subtract(root[0]));
  }

  BigDecimal[] exit() {
    BigDecimal[] root = roots();
    return overLength(projection[0].add(root[0]), projection[1].add(root[1]));
  }

  private BigDecimal[] roots() {
    BigDecimal low = discriminant[0].max(BigDecimal.ZERO).sqrt(DIGITS).subtract(root);
    BigDecimal high = discriminant[1].max(BigDecimal.ZERO).sqrt(DIGITS).add(root);
    return new BigDecimal[] {low.max(BigDecimal.ZERO), high};
  }

  private BigDecimal[] overLength(BigDecimal low, BigDecimal high) {
    BigDecimal lowest = low;
    BigDecimal highest = high;
    if (length.signum() > 0) {
      lowest = low.min(low.divide(length, DIGITS));
      highest = high.max(high.divide(length, DIGITS));
    }
    return new BigDecimal[] {lowest.subtract(distance), highest.add(distance)};
  }

  private long floor(BigDecimal value) {
    return code(value, RoundingMode.FLOOR);
  }

  private long ceiling(BigDecimal value) {
    return code(value, RoundingMode.CEILING);
  }

  private long code(BigDecimal value, RoundingMode mode) {
    return value
        .multiply(TWO.pow(word.fractionBits()))
        .setScale(0, mode)
        .toBigInteger()
        .max(word.minCode())
        .min(word.maxCode())
        .longValue();
  }
}
