package dev.plumbline.models.solid;

import java.math.BigInteger;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Random;

/**
 * The slab rule in exact integers as a box unit of another build may compute it, drawn at random:
 * order of operations, guard bits, every rounding either way, division or reciprocal, distances
 * compared before or after they saturate, ties to the first or the last face. It shares nothing
 * with the model.
 */
final class OtherBox {
  private final PlaneFormats formats;
  private final boolean inverses;
  private final Random random;
  private final int guard;
  private final boolean products;
  private final boolean division;
  private final boolean comparesSaturated;
  private final boolean lastOfTies;

  final Map<String, Long> outputs = new LinkedHashMap<>();

  OtherBox(PlaneFormats formats, boolean inverses, Random random) {
    this.formats = formats;
    this.inverses = inverses;
    this.random = random;
    this.guard = random.nextInt(3) == 0 ? 0 : random.nextInt(9);
    this.products = inverses && random.nextBoolean();
    this.division = random.nextBoolean();
    this.comparesSaturated = random.nextBoolean();
    this.lastOfTies = random.nextBoolean();
  }

  void run(long[][] columns, int i) {
    BigInteger near = null;
    BigInteger far = null;
    long nearFace = 6;
    long farFace = 6;
    boolean missed = false;
    boolean inside = true;
    int faces = inverses ? 9 : 6;
    for (int axis = 0; axis < 3; axis++) {
      long origin = columns[axis][i];
      long given = columns[3 + axis][i];
      long min = columns[faces + axis][i];
      long max = columns[faces + 3 + axis][i];
      boolean between = min <= origin && origin <= max;
      inside &= between;
      if (inverses ? columns[6 + axis][i] == 1 : given == 0) {
        missed |= !between;
        continue;
      }
      boolean back = given < 0;
      BigInteger inverse = inverses || division ? big(given) : inverse(given);
      BigInteger in = distance(back ? max : min, origin, inverse);
      BigInteger out = distance(back ? min : max, origin, inverse);
      int order = near == null ? 1 : in.compareTo(near);
      if (order > 0 || (order == 0 && lastOfTies)) {
        near = in;
        nearFace = 2L * axis + (back ? 1 : 0);
      }
      order = far == null ? -1 : out.compareTo(far);
      if (order < 0 || (order == 0 && lastOfTies)) {
        far = out;
        farFace = 2L * axis + (back ? 0 : 1);
      }
    }
    BigInteger lowest = formats.word.minCode();
    BigInteger highest = formats.word.maxCode();
    if (missed) {
      outputs.put("hit", 0L);
      outputs.put("inside", inside ? 1L : 0);
      return;
    }
    BigInteger entry = near == null ? lowest : near;
    BigInteger exit = far == null ? highest : far;
    outputs.put("hit", entry.compareTo(exit) <= 0 && exit.signum() >= 0 ? 1L : 0);
    outputs.put("inside", inside ? 1L : 0);
    outputs.put("entry", entry.max(lowest).min(highest).longValueExact());
    outputs.put("exit", exit.max(lowest).min(highest).longValueExact());
    // A sentinel may win over a distance beyond the word.
    if (near != null && near.compareTo(lowest) > 0) {
      outputs.put("entry_face", nearFace);
    }
    if (far != null && far.compareTo(highest) < 0) {
      outputs.put("exit_face", farFace);
    }
  }

  private BigInteger inverse(long direction) {
    int places = formats.direction.fractionBits() + formats.word.fractionBits() + guard;
    return rounded(BigInteger.ONE.shiftLeft(places), big(direction));
  }

  private BigInteger distance(long face, long origin, BigInteger inverse) {
    BigInteger to = big(face).subtract(big(origin));
    BigInteger distance;
    if (!inverses && division) {
      distance = rounded(to.shiftLeft(formats.direction.fractionBits()), inverse);
    } else {
      int drop = formats.word.fractionBits() + (inverses ? 0 : guard);
      BigInteger one = BigInteger.ONE.shiftLeft(drop);
      distance =
          products
              ? rounded(big(face).multiply(inverse), one)
                  .subtract(rounded(big(origin).multiply(inverse), one))
              : rounded(to.multiply(inverse), one);
    }
    return comparesSaturated
        ? distance.max(formats.word.minCode()).min(formats.word.maxCode())
        : distance;
  }

  private BigInteger rounded(BigInteger dividend, BigInteger divisor) {
    BigInteger n = divisor.signum() < 0 ? dividend.negate() : dividend;
    BigInteger d = divisor.abs();
    BigInteger ceiling = n.add(d).subtract(BigInteger.ONE);
    BigInteger up = random.nextBoolean() ? ceiling : n;
    BigInteger[] parts = up.divideAndRemainder(d);
    return parts[1].signum() < 0 ? parts[0].subtract(BigInteger.ONE) : parts[0];
  }

  private static BigInteger big(long code) {
    return BigInteger.valueOf(code);
  }

  @Override
  public String toString() {
    return "unit with guard "
        + guard
        + (products ? ", two products" : ", one product")
        + (division ? ", divides" : "")
        + (comparesSaturated ? ", compares saturated" : "")
        + (lastOfTies ? ", last of ties" : "");
  }
}
