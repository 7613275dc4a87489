package dev.plumbline.models.solid;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Random;

/**
 * A plane unit of another build, drawn at random: which products are rounded before they are
 * summed, to how many more bits, which way each rounding falls, division or reciprocal, saturated
 * or not, and how the hit is decided. In exact integers; shares nothing with the model.
 */
final class OtherPlane {
  private final Random random;
  private final Format word;
  private final int guard;
  private final boolean early;
  private final boolean division;
  private final boolean saturates;
  private final boolean bySigns;

  final Map<String, Long> outputs = new LinkedHashMap<>();

  private OtherPlane(Random random, Format word) {
    this.random = random;
    this.word = word;
    this.guard = random.nextInt(3) == 0 ? 0 : random.nextInt(9);
    this.early = random.nextBoolean();
    this.division = random.nextBoolean();
    this.saturates = random.nextBoolean();
    this.bySigns = random.nextBoolean();
  }

  static OtherPlane any(Random random, Format word) {
    return new OtherPlane(random, word);
  }

  void run(long[][] columns, int i, Format direction) {
    int fine = direction.fractionBits();
    int places = word.fractionBits() + guard;
    BigInteger level = big(columns[9][i]).shiftLeft(guard);
    BigInteger height = level.subtract(dot(columns, i, 0, word.fractionBits() + fine - places));
    BigInteger slope = dot(columns, i, 3, 2 * fine - places);
    boolean inside = height.signum() >= 0;
    BigInteger lowest = word.minCode();
    BigInteger highest = word.maxCode();
    BigInteger entry = inside ? lowest : highest;
    BigInteger exit = inside ? highest : lowest;
    boolean hit = inside;
    if (slope.signum() != 0) {
      BigInteger distance = saturated(distance(height, slope, places));
      boolean leaving = slope.signum() > 0;
      entry = leaving ? lowest : distance;
      exit = leaving ? distance : highest;
      hit = bySigns ? inside || !leaving : exit.signum() >= 0;
    }
    outputs.put("hit", hit ? 1L : 0);
    outputs.put("inside", inside ? 1L : 0);
    outputs.put("leaving", slope.signum() > 0 ? 1L : 0);
    outputs.put("parallel", slope.signum() == 0 ? 1L : 0);
    outputs.put("entry", entry.longValueExact());
    outputs.put("exit", exit.longValueExact());
  }

  private BigInteger distance(BigInteger height, BigInteger slope, int places) {
    if (division) {
      return divided(height.shiftLeft(word.fractionBits()), slope);
    }
    BigInteger inverse = divided(BigInteger.ONE.shiftLeft(2 * places), slope);
    if (saturates) {
      inverse = inverse.min(word.maxCode().shiftLeft(guard)).max(word.minCode().shiftLeft(guard));
    }
    return shifted(height.multiply(inverse), 2 * places - word.fractionBits());
  }

  /** Products with {@code drop} places too many; they may be rounded early, or their sum late. */
  private BigInteger dot(long[][] columns, int i, int from, int drop) {
    BigInteger sum = BigInteger.ZERO;
    for (int axis = 0; axis < 3; axis++) {
      BigInteger product = big(columns[from + axis][i]).multiply(big(columns[6 + axis][i]));
      sum = sum.add(early ? shifted(product, drop) : product);
    }
    return early ? sum : shifted(sum, drop);
  }

  private BigInteger shifted(BigInteger code, int drop) {
    return drop <= 0 ? code.shiftLeft(-drop) : divided(code, BigInteger.ONE.shiftLeft(drop));
  }

  /** The quotient's floor, ceiling or nearest. */
  private BigInteger divided(BigInteger dividend, BigInteger divisor) {
    BigInteger n = divisor.signum() < 0 ? dividend.negate() : dividend;
    BigInteger d = divisor.abs();
    BigInteger[] parts = n.divideAndRemainder(d);
    BigInteger floor = parts[1].signum() < 0 ? parts[0].subtract(BigInteger.ONE) : parts[0];
    boolean exact = parts[1].signum() == 0;
    BigInteger twice = n.subtract(floor.multiply(d)).shiftLeft(1);
    boolean up =
        switch (random.nextInt(3)) {
          case 0 -> false;
          case 1 -> true;
          default -> twice.compareTo(d) >= 0;
        };
    return exact || !up ? floor : floor.add(BigInteger.ONE);
  }

  private BigInteger saturated(BigInteger code) {
    return code.max(word.minCode()).min(word.maxCode());
  }

  private static BigInteger big(long code) {
    return BigInteger.valueOf(code);
  }

  @Override
  public String toString() {
    return " from a unit with guard "
        + guard
        + (early ? ", rounds products" : ", rounds sums")
        + (division ? ", divides" : ", multiplies")
        + (saturates ? ", saturates" : "")
        + (bySigns ? ", decides by signs" : "");
  }
}
