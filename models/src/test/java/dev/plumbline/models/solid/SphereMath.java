package dev.plumbline.models.solid;

import dev.plumbline.models.fixed.Format;
import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.EnumMap;
import java.util.Map;
import java.util.function.ToIntFunction;
import java.util.stream.Stream;

/**
 * A ray and a sphere in decimal numbers, which hold every code and every square exactly: what the
 * mathematics says, and what it says when each product goes to either neighbour in the working
 * format, in each of the formulas. Written from the formulas alone, for the default budget, not
 * from the steps of the models.
 */
final class SphereMath {
  private static final MathContext DIGITS = new MathContext(45);
  private static final BigDecimal TWO = BigDecimal.valueOf(2);
  private static final BigDecimal ENDLESS = BigDecimal.TEN.pow(30);

  private final Format word;
  private final BigDecimal[] offset = new BigDecimal[3];
  private final BigDecimal[] direction = new BigDecimal[3];
  private final BigDecimal radius;
  private final BigDecimal foot;
  private final BigDecimal length;

  /** What hardware may have of each formula: the discriminant, and both distances. */
  private record Hardware(Span discriminant, Span entry, Span exit) {}

  /** Everything between two numbers. */
  private record Span(BigDecimal low, BigDecimal high) {
    static Span of(BigDecimal at) {
      return new Span(at, at);
    }

    static Span around(BigDecimal off) {
      return new Span(off.negate(), off);
    }

    boolean decided() {
      return low.compareTo(high) == 0;
    }

    Span plus(Span other) {
      return new Span(low.add(other.low), high.add(other.high));
    }

    Span minus(Span other) {
      return new Span(low.subtract(other.high), high.subtract(other.low));
    }

    Span times(Span other) {
      BigDecimal[] ends = {
        low.multiply(other.low), low.multiply(other.high),
        high.multiply(other.low), high.multiply(other.high)
      };
      return new Span(
          Stream.of(ends).min(BigDecimal::compareTo).orElseThrow(),
          Stream.of(ends).max(BigDecimal::compareTo).orElseThrow());
    }

    Span squared() {
      Span square = times(this);
      boolean through = low.signum() <= 0 && high.signum() >= 0;
      BigDecimal least = low.pow(2).min(high.pow(2));
      return new Span(through ? BigDecimal.ZERO : least, square.high);
    }

    /** One over it; without an end where it reaches zero. */
    Span inverse() {
      return low.signum() <= 0
          ? new Span(ENDLESS.negate(), ENDLESS)
          : new Span(BigDecimal.ONE.divide(high, DIGITS), BigDecimal.ONE.divide(low, DIGITS));
    }

    Span or(Span other) {
      return new Span(low.min(other.low), high.max(other.high));
    }

    Span and(Span other) {
      return new Span(low.max(other.low), high.min(other.high));
    }

    Span atLeast(BigDecimal least) {
      return new Span(low.max(least), high.max(least));
    }
  }

  private final Map<Sphere.Formula, Hardware> hardware = new EnumMap<>(Sphere.Formula.class);
  private int bits;
  private int discriminant;
  private BigDecimal lsb;
  private BigDecimal share;

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

  /** Rounds everything to a working format, the default budget, and a share of it more. */
  SphereMath within(Budget budget, double more) {
    bits = budget.working().fractionBits();
    lsb = BigDecimal.ONE.divide(TWO.pow(Math.max(bits, 0)));
    share = BigDecimal.valueOf(more);
    discriminant = budget.lsbs("discriminant");
    Span distance = off(budget.lsbs("distance"));
    Span b = rounded(offset, direction);
    Span squares = rounded(offset, offset).minus(Span.of(radius.pow(2)));
    boolean exactFoot = exact(products(offset, direction));
    boolean exactSquares = exactFoot && exact(foot.pow(2), radius.pow(2));
    Span own = exactSquares ? off(0) : off(discriminant);
    Hardware apart = plain(b, b.squared().minus(squares).plus(own), distance);
    hardware.put(
        Sphere.Formula.SQUARES, together(apart, Span.of(BigDecimal.ONE), b, squares.plus(own)));
    hardware.put(Sphere.Formula.PERPENDICULAR, plain(b, across(exactFoot), distance));
    Span measured = rounded(direction, direction).atLeast(BigDecimal.ZERO);
    Span inverse = coarse(measured.inverse());
    Span a = inverse.low.signum() <= 0 ? ENDLESSLY : measured.or(inverse.inverse());
    boolean whole = exactly(inverse, 0);
    hardware.put(
        Sphere.Formula.LENGTH, over(a, b, squares, exactSquares && whole, whole, distance));
    Span either = a.or(Span.of(BigDecimal.ONE));
    Hardware one = over(either, b, squares, exactSquares && whole, whole, distance);
    Hardware other = hardware.get(Sphere.Formula.PERPENDICULAR);
    hardware.put(
        Sphere.Formula.ANY,
        new Hardware(
            one.discriminant.or(other.discriminant),
            one.entry.or(other.entry),
            one.exit.or(other.exit)));
    return this;
  }

  private static final Span ENDLESSLY = new Span(ENDLESS.negate(), ENDLESS);

  /** The inverse, or that of twice the length: to a multiple of two LSB. */
  private Span coarse(Span inverse) {
    return new Span(
        rounded(inverse.low, bits - 1, RoundingMode.FLOOR),
        rounded(inverse.high, bits - 1, RoundingMode.CEILING));
  }

  private Hardware over(
      Span a, Span foot, Span excess, boolean exact, boolean whole, Span distance) {
    Span times = a.atLeast(BigDecimal.ONE);
    Span b = whole ? foot : foot.plus(off(1).times(a));
    Span scaled = a.times(excess);
    boolean held = exact && scaled.decided() && exact(scaled.low);
    Span own = held ? off(0) : off(discriminant).times(times).times(times);
    Span d = b.squared().minus(scaled).plus(own);
    Span root = root(d);
    Span near = exactRoot(root) ? new Span(root.low.subtract(lsb), root.high) : null;
    Span all = near != null ? near : root.plus(off(1).times(times));
    all = all.atLeast(BigDecimal.ZERO);
    Hardware apart =
        new Hardware(
            d, distance(over(b.minus(all), a), distance), distance(over(b.plus(all), a), distance));
    return together(apart, a, b, excess.plus(exact ? off(0) : off(discriminant)));
  }

  /**
   * What hardware reaches that has one b for both of its uses: the root of each b goes with that b.
   * No limit for bounds, which also hold hardware that rounds b for each use by itself.
   */
  private Hardware together(Hardware apart, Span a, Span b, Span c) {
    if (share.signum() > 0 || apart.discriminant.low.signum() < 0 || a.low.signum() <= 0) {
      return apart;
    }
    Span exit = apart.exit.and(crossings(a, b, c, BigDecimal.ONE));
    boolean along = exactly(b, bits) && exactly(a, 0);
    // From inside, the root of more than b^2, to whichever neighbour, is no less than such a b.
    boolean ahead = along && c.high.signum() < 0;
    return new Hardware(
        apart.discriminant,
        apart.entry.and(crossings(a, b, c, BigDecimal.ONE.negate())),
        ahead ? exit.atLeast(BigDecimal.ZERO) : exit);
  }

  /** Of a t^2 - 2 b t + c at all corners, and an LSB of the root. */
  private Span crossings(Span a, Span b, Span c, BigDecimal side) {
    Span all = null;
    for (BigDecimal length : new BigDecimal[] {a.low, a.high}) {
      for (BigDecimal along : new BigDecimal[] {b.low, b.high}) {
        for (BigDecimal less : new BigDecimal[] {c.low, c.high}) {
          BigDecimal square = along.pow(2).subtract(length.multiply(less)).max(BigDecimal.ZERO);
          BigDecimal root = square.sqrt(DIGITS).multiply(side);
          Span at = Span.of(along.add(root).divide(length, DIGITS));
          all = all == null ? at : all.or(at);
        }
      }
    }
    return all.plus(off(1));
  }

  private static Span over(Span along, Span a) {
    return a.low.signum() <= 0 ? ENDLESSLY : along.times(a.inverse());
  }

  private Span distance(Span exact, Span off) {
    return exact.decided() && exact(exact.low) ? exact : exact.plus(off);
  }

  private Hardware plain(Span b, Span d, Span distance) {
    Span root = root(d);
    BigDecimal low = rounded(root.low, bits, RoundingMode.CEILING).subtract(lsb);
    BigDecimal high = rounded(root.high, bits, RoundingMode.CEILING);
    Span rounded = new Span(low, high).plus(off(1).times(Span.of(share))).atLeast(BigDecimal.ZERO);
    return new Hardware(
        d, distance(b.minus(rounded), distance), distance(b.plus(rounded), distance));
  }

  private static Span root(Span d) {
    return new Span(
        d.low.max(BigDecimal.ZERO).sqrt(DIGITS), d.high.max(BigDecimal.ZERO).sqrt(DIGITS));
  }

  private boolean exactRoot(Span root) {
    return exactly(root, bits);
  }

  private static boolean exactly(Span span, int bits) {
    return span.decided() && rounded(span.low, bits, RoundingMode.FLOOR).compareTo(span.low) == 0;
  }

  /** The squared radius less the squares of what is left beside the foot. */
  private Span across(boolean exactFoot) {
    Span slip = rounded(offset, direction).minus(Span.of(foot));
    boolean exact = exactFoot;
    for (int k = 0; k < 3; k++) {
      BigDecimal along = foot.multiply(direction[k]);
      exact &= exact(along) && exact(offset[k].subtract(along).pow(2));
    }
    Span own = exact(radius.pow(2)) ? off(0) : off(discriminant);
    Span square = exact ? off(0) : off(3);
    Span all = null;
    for (BigDecimal s : new BigDecimal[] {slip.low, BigDecimal.ZERO, slip.high}) {
      BigDecimal b = foot.add(s);
      Span d = Span.of(radius.pow(2));
      for (int k = 0; k < 3; k++) {
        boolean held =
            direction[k].signum() == 0 || (exactFoot && exact(foot.multiply(direction[k])));
        Span component = Span.of(offset[k].subtract(b.multiply(direction[k])));
        d = d.minus(component.plus(held ? off(0) : off(1)).squared());
      }
      all = all == null ? d : all.or(d);
    }
    return all.plus(own).plus(square);
  }

  /** So many LSB either way, and the share of it. */
  private Span off(int lsbs) {
    return Span.around(lsb.multiply(BigDecimal.valueOf(lsbs)).multiply(share.add(BigDecimal.ONE)));
  }

  private static BigDecimal[] products(BigDecimal[] x, BigDecimal[] y) {
    return new BigDecimal[] {x[0].multiply(y[0]), x[1].multiply(y[1]), x[2].multiply(y[2])};
  }

  /** The sum of three products, each rounded to either neighbour. */
  private Span rounded(BigDecimal[] x, BigDecimal[] y) {
    Span sum = Span.of(BigDecimal.ZERO);
    for (BigDecimal product : products(x, y)) {
      sum =
          sum.plus(
              new Span(
                  rounded(product, bits, RoundingMode.FLOOR),
                  rounded(product, bits, RoundingMode.CEILING)));
    }
    BigDecimal slack = sum.decided() ? BigDecimal.ZERO : share.multiply(lsb);
    return sum.plus(Span.around(slack));
  }

  private boolean exact(BigDecimal... products) {
    return Stream.of(products)
        .allMatch(p -> rounded(p, bits, RoundingMode.FLOOR).compareTo(p) == 0);
  }

  private static BigDecimal rounded(BigDecimal value, int bits, RoundingMode mode) {
    BigDecimal unit = TWO.pow(Math.abs(bits));
    return bits >= 0
        ? value.multiply(unit).setScale(0, mode).divide(unit)
        : value.divide(unit).setScale(0, mode).multiply(unit);
  }

  /** 1 where all such hardware hits, 0 where none does, -1 where it differs. */
  int hit() {
    return all(this::hit);
  }

  /** The like for the flag that says that the origin lies inside. */
  int inside() {
    return all(this::inside);
  }

  private int all(ToIntFunction<Sphere.Formula> decision) {
    int[] results = hardware.keySet().stream().mapToInt(decision).distinct().toArray();
    return results.length == 1 ? results[0] : -1;
  }

  private int hit(Sphere.Formula formula) {
    Span d = hardware.get(formula).discriminant;
    if (radius.signum() < 0 || d.high.signum() < 0) {
      return 0;
    }
    Span exit = hardware.get(formula).exit;
    if (ceiling(exit.high) < 0) {
      return 0;
    }
    return d.low.signum() >= 0 && floor(exit.low) >= 0 ? 1 : -1;
  }

  private int inside(Sphere.Formula formula) {
    int hit = hit(formula);
    Span entry = hardware.get(formula).entry;
    if (hit == 0 || floor(entry.low) >= 0) {
      return 0;
    }
    return hit == 1 && ceiling(entry.high) < 0 ? 1 : -1;
  }

  BigDecimal[] entry(Sphere.Formula formula) {
    Span entry = hardware.get(formula).entry;
    return new BigDecimal[] {entry.low, entry.high};
  }

  BigDecimal[] exit(Sphere.Formula formula) {
    Span exit = hardware.get(formula).exit;
    return new BigDecimal[] {exit.low, exit.high};
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
