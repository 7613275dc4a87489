package dev.plumbline.models.solid;

import dev.plumbline.models.fixed.Format;
import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.EnumMap;
import java.util.Map;
import java.util.function.ToIntFunction;

/**
 * A ray and a sphere in decimal numbers, which hold every code and every square exactly: what the
 * mathematics says, and what it says when the named quantities are off by a budget, in each of the
 * three formulas. Written from the formulas alone, not from the steps of the models.
 */
final class SphereMath {
  private static final MathContext DIGITS = new MathContext(40);
  private static final BigDecimal TWO = BigDecimal.valueOf(2);

  private final Format word;
  private final BigDecimal[] offset = new BigDecimal[3];
  private final BigDecimal[] direction = new BigDecimal[3];
  private final BigDecimal radius;
  private final BigDecimal foot;
  private final BigDecimal length;
  private final BigDecimal excess;

  /** The least and the greatest discriminant of each formula. */
  private final Map<Sphere.Formula, BigDecimal[]> discriminants =
      new EnumMap<>(Sphere.Formula.class);

  /** The roots that go with them, where they were wanted already. */
  private final Map<Sphere.Formula, BigDecimal[]> roots = new EnumMap<>(Sphere.Formula.class);

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
        BigDecimal.valueOf(budget.working().lsbs()).multiply(BigDecimal.valueOf(1 + share));
    BigDecimal slip = place.multiply(BigDecimal.valueOf(budget.lsbs("projection")));
    BigDecimal nudge = place.multiply(BigDecimal.valueOf(budget.lsbs("offset")));
    BigDecimal square = place.multiply(BigDecimal.valueOf(budget.lsbs("squared_distance")));
    BigDecimal own = place.multiply(BigDecimal.valueOf(budget.lsbs("discriminant")));
    root = place.multiply(BigDecimal.valueOf(budget.lsbs("root")));
    distance = place.multiply(BigDecimal.valueOf(budget.lsbs("distance")));
    projection = new BigDecimal[] {foot.subtract(slip), foot.add(slip)};
    discriminants.clear();
    roots.clear();
    for (int s = -1; s <= 1; s++) {
      BigDecimal b = foot.add(slip.multiply(BigDecimal.valueOf(s)));
      see(Sphere.Formula.SQUARES, b.multiply(b).subtract(excess), own.add(square));
      BigDecimal scaled = length.multiply(excess);
      see(Sphere.Formula.LENGTH, b.multiply(b).subtract(scaled), own.add(square.multiply(length)));
      // Each component may be off by itself.
      BigDecimal near = radius.multiply(radius);
      BigDecimal far = near;
      for (int k = 0; k < 3; k++) {
        BigDecimal across = offset[k].subtract(b.multiply(direction[k]));
        BigDecimal less = across.subtract(nudge).pow(2);
        BigDecimal same = across.pow(2);
        BigDecimal more = across.add(nudge).pow(2);
        near = near.subtract(less.min(same).min(more));
        far = far.subtract(less.max(same).max(more));
      }
      see(Sphere.Formula.PERPENDICULAR, near, own.add(square));
      see(Sphere.Formula.PERPENDICULAR, far, own.add(square));
    }
    return this;
  }

  private void see(Sphere.Formula formula, BigDecimal d, BigDecimal off) {
    BigDecimal low = d.subtract(off);
    BigDecimal high = d.add(off);
    discriminants.merge(
        formula,
        new BigDecimal[] {low, high},
        (seen, more) -> new BigDecimal[] {seen[0].min(more[0]), seen[1].max(more[1])});
  }

  /** 1 where every perturbation hits, 0 where none does, -1 where they differ. */
  int hit() {
    return all(this::hit);
  }

  /** The like for the flag that says that the origin lies inside. */
  int inside() {
    return all(this::inside);
  }

  private int all(ToIntFunction<Sphere.Formula> decision) {
    int[] results = discriminants.keySet().stream().mapToInt(decision).distinct().toArray();
    return results.length == 1 ? results[0] : -1;
  }

  private int hit(Sphere.Formula formula) {
    BigDecimal[] d = discriminants.get(formula);
    if (radius.signum() < 0 || d[1].signum() < 0) {
      return 0;
    }
    BigDecimal[] exit = exit(formula);
    if (ceiling(exit[1]) < 0) {
      return 0;
    }
    return d[0].signum() >= 0 && floor(exit[0]) >= 0 ? 1 : -1;
  }

  private int inside(Sphere.Formula formula) {
    int hit = hit(formula);
    BigDecimal[] entry = entry(formula);
    if (hit == 0 || floor(entry[0]) >= 0) {
      return 0;
    }
    return hit == 1 && ceiling(entry[1]) < 0 ? 1 : -1;
  }

  BigDecimal[] entry(Sphere.Formula formula) {
    return formula == Sphere.Formula.ANY
        ? discriminants.keySet().stream().map(this::entry).reduce(SphereMath::hull).orElseThrow()
        : entryBy(formula);
  }

  BigDecimal[] exit(Sphere.Formula formula) {
    return formula == Sphere.Formula.ANY
        ? discriminants.keySet().stream().map(this::exit).reduce(SphereMath::hull).orElseThrow()
        : exitBy(formula);
  }

  private static BigDecimal[] hull(BigDecimal[] a, BigDecimal[] b) {
    return new BigDecimal[] {a[0].min(b[0]), a[1].max(b[1])};
  }

  private BigDecimal[] entryBy(Sphere.Formula formula) {
    BigDecimal[] root = roots.computeIfAbsent(formula, this::rootsOf);
    return along(formula, projection[0].subtract(root[1]), projection[1].subtract(root[0]));
  }

  private BigDecimal[] exitBy(Sphere.Formula formula) {
    BigDecimal[] root = roots.computeIfAbsent(formula, this::rootsOf);
    return along(formula, projection[0].add(root[0]), projection[1].add(root[1]));
  }

  private BigDecimal[] rootsOf(Sphere.Formula formula) {
    BigDecimal[] d = discriminants.get(formula);
    BigDecimal low = d[0].max(BigDecimal.ZERO).sqrt(DIGITS).subtract(root);
    BigDecimal high = d[1].max(BigDecimal.ZERO).sqrt(DIGITS).add(root);
    return new BigDecimal[] {low.max(BigDecimal.ZERO), high};
  }

  /** Over the length where that is measured. */
  private BigDecimal[] along(Sphere.Formula formula, BigDecimal low, BigDecimal high) {
    boolean over = formula == Sphere.Formula.LENGTH && length.signum() > 0;
    return new BigDecimal[] {
      (over ? low.divide(length, DIGITS) : low).subtract(distance),
      (over ? high.divide(length, DIGITS) : high).add(distance)
    };
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
