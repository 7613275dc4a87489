package dev.plumbline.models.solid;

import dev.plumbline.models.fixed.Format;
import java.util.List;
import java.util.Random;

/**
 * Rays and spheres as columns of codes, in the order of a sphere's operands: aimed through, past
 * and along the surface, from before, inside, on and behind it, and at the ends of the formats.
 */
final class SphereCases {
  static final int ORIGIN = 0;
  static final int CENTRE = 3;
  static final int RADIUS = 6;
  static final int DIRECTION = 7;
  static final int OPERANDS = 10;

  /** Where a case is meant to lie; its name says what its rounding may have left of it. */
  enum Kind {
    TWO_CROSSINGS,
    NEAR_TANGENT,
    INSIDE,
    MISS,
    BEHIND,
    ON_SURFACE,
    DEGENERATE,
    ANYTHING
  }

  private static final List<double[]> RATIONAL =
      List.of(
          new double[] {1, 0, 0},
          new double[] {0, -1, 0},
          new double[] {0, 0, 1},
          new double[] {0.6, 0.8, 0},
          new double[] {0, -0.28, 0.96},
          new double[] {1 / 3.0, -2 / 3.0, 2 / 3.0});

  private final Format word;
  private final Format direction;
  private final Random random;
  final long[][] columns;
  final Kind[] kinds;

  SphereCases(Format word, Format direction, int count, long seed) {
    this.word = word;
    this.direction = direction;
    this.random = new Random(seed);
    this.columns = new long[OPERANDS][count];
    this.kinds = new Kind[count];
    for (int i = 0; i < count; i++) {
      kinds[i] = Kind.values()[random.nextInt(Kind.values().length)];
      fill(i);
    }
  }

  private void fill(int i) {
    if (kinds[i] == Kind.ANYTHING) {
      for (int k = 0; k < OPERANDS; k++) {
        columns[k][i] = anything(k < DIRECTION ? word : direction);
      }
      return;
    }
    double unit = word.lsbs();
    double size = Math.scalb(1.0, word.integerBits() - 1);
    double radius = code(magnitude(unit, size / 4), word) * unit;
    if (kinds[i] == Kind.DEGENERATE) {
      radius = unit * (random.nextInt(4) - 2);
    }
    double[] d = direction();
    double[] across = across(d);
    double impact =
        switch (kinds[i]) {
          case NEAR_TANGENT -> radius + unit * (random.nextInt(13) - 6) * 0.5;
          case MISS -> radius * (1.02 + random.nextDouble()) + 2 * unit;
          default -> radius * 0.95 * random.nextDouble();
        };
    double half = Math.sqrt(Math.max(radius * radius - impact * impact, 0));
    double along =
        switch (kinds[i]) {
          case INSIDE -> half * (2 * random.nextDouble() - 1) * 0.98;
          case BEHIND -> -half - magnitude(unit, size / 4);
          case ON_SURFACE -> (random.nextBoolean() ? half : -half) + unit * random.nextInt(3);
          default -> half + magnitude(unit, size / 2);
        };
    for (int k = 0; k < 3; k++) {
      double centre = (random.nextDouble() - 0.5) * size / 2;
      long centreCode = code(centre, word);
      columns[CENTRE + k][i] = centreCode;
      columns[ORIGIN + k][i] = code(centreCode * unit - along * d[k] - impact * across[k], word);
      columns[DIRECTION + k][i] = code(d[k], direction);
    }
    columns[RADIUS][i] = code(radius, word);
  }

  private long anything(Format format) {
    int bits = random.nextInt(format.width());
    long some = random.nextLong() >>> (64 - bits - 1);
    return switch (random.nextInt(4)) {
      case 0 -> format.minCode().longValue() + random.nextInt(2);
      case 1 -> format.maxCode().longValue() - random.nextInt(2);
      default -> clamp(random.nextBoolean() ? some : -some, format);
    };
  }

  /** Uniform in its logarithm. */
  private double magnitude(double least, double most) {
    return least * Math.exp(random.nextDouble() * Math.log(most / least));
  }

  private double[] direction() {
    if (random.nextInt(4) == 0) {
      return RATIONAL.get(random.nextInt(RATIONAL.size()));
    }
    return normalised(random.nextGaussian(), random.nextGaussian(), random.nextGaussian());
  }

  private double[] across(double[] d) {
    double[] v = {random.nextGaussian(), random.nextGaussian(), random.nextGaussian()};
    double along = v[0] * d[0] + v[1] * d[1] + v[2] * d[2];
    return normalised(v[0] - along * d[0], v[1] - along * d[1], v[2] - along * d[2]);
  }

  private static double[] normalised(double x, double y, double z) {
    double length = Math.sqrt(x * x + y * y + z * z);
    return new double[] {x / length, y / length, z / length};
  }

  private static long code(double value, Format format) {
    return clamp(Math.round(Math.scalb(value, format.fractionBits())), format);
  }

  private static long clamp(long code, Format format) {
    return Math.min(Math.max(code, format.minCode().longValue()), format.maxCode().longValue());
  }
}
