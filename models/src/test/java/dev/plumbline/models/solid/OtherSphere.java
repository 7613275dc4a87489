package dev.plumbline.models.solid;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;
import java.util.Random;

/**
 * A sphere as other people build one: five orders of evaluation on whole numbers, each operation
 * rounded to the working format's LSB as chance has it: down, up, to the nearest or towards zero.
 * Written from the textbook formulas, without any code of the models.
 */
final class OtherSphere {
  /** Guard bits enough for every product. */
  private static final int KEPT = 128;

  /** Far beyond any word: what a division by zero gives. */
  private static final int BEYOND = 200;

  enum Order {
    /** (2b &#177; &#8730;((2b)^2 - 4ac)) / 2a, by a division or by the inverse of 2a. */
    QUADRATIC(Sphere.Formula.LENGTH),
    /** The inverse of a first, then (b &#177; &#8730;(b^2 - ac)) times it. */
    RECIPROCAL(Sphere.Formula.LENGTH),
    /** The inverse of a or 2a first, b and c times it, then b &#177; &#8730;(b^2 - c). */
    DIVIDED_FIRST(Sphere.Formula.LENGTH),
    /** r^2 - (|m|^2 - b^2): half of the chord beside the foot. */
    GEOMETRIC(Sphere.Formula.SQUARES),
    /** r^2 - |m - b d|^2. */
    PERPENDICULAR(Sphere.Formula.PERPENDICULAR);

    final Sphere.Formula declared;

    Order(Sphere.Formula declared) {
      this.declared = declared;
    }
  }

  /** What its maker got wrong. */
  enum Fault {
    NONE,
    RADIUS_ONE_MORE,
    RADIUS_ONE_LESS,
    TANGENT_MISSES
  }

  private final Format word;
  private final int directionBits;
  private final int bits;
  private final Order order;
  private final Fault fault;
  private final Random random;
  private final BigInteger[] d = new BigInteger[3];
  private final BigInteger[] m = new BigInteger[3];

  private int guard; // bits of sums beyond the working format

  boolean hit;
  boolean inside;
  long entry;
  long exit;

  OtherSphere(
      Format word, Format direction, Format working, Order order, Fault fault, Random random) {
    this.word = word;
    this.directionBits = direction.fractionBits();
    this.bits = working.fractionBits();
    this.order = order;
    this.fault = fault;
    this.random = random;
  }

  void compute(long[][] columns, int i) {
    for (int k = 0; k < 3; k++) {
      d[k] = BigInteger.valueOf(columns[SphereCases.DIRECTION + k][i]);
      long apart = columns[SphereCases.CENTRE + k][i] - columns[SphereCases.ORIGIN + k][i];
      m[k] = rounded(BigInteger.valueOf(apart), word.fractionBits() - bits);
    }
    BigInteger radius = BigInteger.valueOf(columns[SphereCases.RADIUS][i]);
    boolean negative = radius.signum() < 0;
    radius = radius.add(BigInteger.valueOf(fault == Fault.RADIUS_ONE_MORE ? 1 : 0));
    radius = radius.subtract(BigInteger.valueOf(fault == Fault.RADIUS_ONE_LESS ? 1 : 0));
    BigInteger square = rounded(radius.pow(2), 2 * word.fractionBits() - bits);
    guard = guard();
    Sum b = new Sum(directionBits);
    Sum a = new Sum(2 * directionBits - bits);
    BigInteger far = BigInteger.ZERO;
    for (int k = 0; k < 3; k++) {
      b.add(m[k].multiply(d[k]));
      a.add(d[k].pow(2));
      far = far.add(product(m[k], m[k]));
    }
    BigInteger c = far.subtract(square);
    switch (order) {
      case QUADRATIC -> quadratic(b, c, a);
      case RECIPROCAL -> reciprocal(b, c, a);
      case DIVIDED_FIRST -> dividedFirst(b.use(), far, square, a.use());
      case GEOMETRIC -> crossings(b.use(), square(b.use()).subtract(c));
      case PERPENDICULAR -> crossings(b.use(), square.subtract(across(b.use())));
    }
    hit &= !negative;
    inside &= hit;
  }

  /** None, a few, or as many as products have. */
  private int guard() {
    if (random.nextBoolean()) {
      return 0;
    }
    return random.nextBoolean() ? KEPT : 1 + random.nextInt(3);
  }

  /**
   * A sum of three products, each rounded; or kept with guard bits or in full, as the accumulators
   * of multipliers do, and rounded by each that uses it.
   */
  private final class Sum {
    private final int drop;
    private BigInteger sum = BigInteger.ZERO;

    Sum(int drop) {
      this.drop = drop;
    }

    void add(BigInteger product) {
      sum = sum.add(rounded(product, drop - guard));
    }

    BigInteger use() {
      return rounded(sum, guard);
    }
  }

  private void quadratic(Sum b, BigInteger c, Sum a) {
    int late = random.nextInt(2); // four times the discriminant, or twice its root
    BigInteger square = square(b.use().shiftLeft(1 - late));
    BigInteger discriminant = square.subtract(product(a.use(), c).shiftLeft(2 - 2 * late));
    BigInteger root = root(discriminant).shiftLeft(late);
    BigInteger twice = b.use().shiftLeft(1);
    BigInteger near = twice.subtract(root);
    BigInteger far = twice.add(root);
    BigInteger under = a.use().shiftLeft(1);
    if (random.nextBoolean()) {
      decide(discriminant, over(near, under), over(far, under));
    } else {
      BigInteger inverse = over(one(), under);
      decide(discriminant, product(near, inverse), product(far, inverse));
    }
  }

  private void reciprocal(Sum b, BigInteger c, Sum a) {
    BigInteger inverse = over(one(), a.use());
    BigInteger discriminant = square(b.use()).subtract(product(a.use(), c));
    BigInteger root = root(discriminant);
    BigInteger along = b.use();
    decide(discriminant, product(along.subtract(root), inverse), product(along.add(root), inverse));
  }

  private void dividedFirst(BigInteger b, BigInteger far, BigInteger square, BigInteger a) {
    int twice = random.nextInt(2); // the inverse of a, or of 2a for 2b and 2c
    BigInteger inverse = over(one(), a.shiftLeft(twice));
    BigInteger along = product(b.shiftLeft(twice), inverse);
    BigInteger c =
        random.nextBoolean()
            ? product(far.subtract(square).shiftLeft(twice), inverse)
            : product(far.shiftLeft(twice), inverse)
                .subtract(product(square.shiftLeft(twice), inverse));
    crossings(along, square(along).subtract(c));
  }

  private void crossings(BigInteger b, BigInteger discriminant) {
    BigInteger root = root(discriminant);
    decide(discriminant, b.subtract(root), b.add(root));
  }

  /** Before or after the distances become words. */
  private void decide(BigInteger discriminant, BigInteger near, BigInteger far) {
    entry = word(near);
    exit = word(far);
    boolean first = random.nextBoolean();
    boolean meets = discriminant.signum() >= (fault == Fault.TANGENT_MISSES ? 1 : 0);
    hit = meets && (first ? far.signum() >= 0 : exit >= 0);
    inside = first ? near.signum() < 0 : entry < 0;
  }

  private BigInteger across(BigInteger b) {
    BigInteger sum = BigInteger.ZERO;
    for (int k = 0; k < 3; k++) {
      BigInteger component = m[k].subtract(rounded(b.multiply(d[k]), directionBits));
      sum = sum.add(product(component, component));
    }
    return sum;
  }

  private BigInteger one() {
    return BigInteger.ONE.shiftLeft(bits);
  }

  private BigInteger square(BigInteger x) {
    return product(x, x);
  }

  private BigInteger product(BigInteger x, BigInteger y) {
    return rounded(x.multiply(y), bits);
  }

  private BigInteger root(BigInteger square) {
    BigInteger[] root = square.max(BigInteger.ZERO).shiftLeft(bits).sqrtAndRemainder();
    boolean up =
        switch (random.nextInt(3)) {
          case 0 -> false;
          case 1 -> root[1].compareTo(root[0]) > 0;
          default -> root[1].signum() > 0;
        };
    return up ? root[0].add(BigInteger.ONE) : root[0];
  }

  private BigInteger over(BigInteger x, BigInteger y) {
    if (y.signum() == 0) {
      return BigInteger.valueOf(x.signum() < 0 ? -1 : 1).shiftLeft(BEYOND);
    }
    return quotient(x.shiftLeft(bits), y);
  }

  private BigInteger rounded(BigInteger code, int drop) {
    if (drop <= 0) {
      return code.shiftLeft(-drop);
    }
    BigInteger floor = code.shiftRight(drop);
    BigInteger rest = code.subtract(floor.shiftLeft(drop));
    return chosen(floor, code, rest, BigInteger.ONE.shiftLeft(drop));
  }

  /** Of a divisor above zero. */
  private BigInteger quotient(BigInteger x, BigInteger y) {
    BigInteger[] parts = x.divideAndRemainder(y);
    boolean isBelow = parts[1].signum() < 0;
    return chosen(
        isBelow ? parts[0].subtract(BigInteger.ONE) : parts[0],
        x,
        isBelow ? parts[1].add(y) : parts[1],
        y);
  }

  /** A quotient rounded in one of the ways that are common, from what it is rounded down. */
  private BigInteger chosen(BigInteger floor, BigInteger x, BigInteger rest, BigInteger y) {
    boolean up =
        switch (random.nextInt(4)) {
          case 0 -> false; // down
          case 1 -> x.signum() < 0 && rest.signum() != 0; // towards zero
          case 2 -> rest.signum() != 0;
          default -> rest.shiftLeft(1).compareTo(y) >= 0;
        };
    return up ? floor.add(BigInteger.ONE) : floor;
  }

  private long word(BigInteger code) {
    BigInteger whole = rounded(code, bits - word.fractionBits());
    return whole.max(word.minCode()).min(word.maxCode()).longValue();
  }
}
