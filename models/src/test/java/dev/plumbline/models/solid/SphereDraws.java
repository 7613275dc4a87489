package dev.plumbline.models.solid;

import dev.plumbline.models.fixed.Format;
import java.util.List;
import java.util.Random;

/**
 * Formats and cases by chance: directions of unit length and of any length a format has, drawn
 * evenly in their logarithm; spheres from one LSB to the whole format; rays through, at the rim,
 * from inside, behind; ends of formats; and a lattice on which nothing has to be rounded.
 */
final class SphereDraws {
  /** Legs and hypotenuse. */
  private static final List<int[]> TRIPLES =
      List.of(new int[] {3, 4, 5}, new int[] {5, 12, 13}, new int[] {0, 1, 1});

  /** Formats that a ray's hardware may have. */
  record Formats(Format word, Format direction, Format working) {
    static Formats draw(Random random) {
      int fraction = 4 + random.nextInt(17);
      Format word = Format.signed(5 + random.nextInt(12), fraction);
      int directionBits = Math.max(4, fraction + random.nextInt(9) - 4);
      int finer = List.of(0, 0, 0, 4, 1, -2).get(random.nextInt(6));
      return new Formats(
          word,
          Format.signed(2 + random.nextInt(4) / 3, directionBits),
          Format.signed(40, fraction + finer));
    }

    Sphere sphere(Sphere.Formula formula) {
      return Sphere.of(word, direction).withFormula(formula);
    }

    /** The least code of a word whose square the working format holds, as an exponent. */
    int latticeBits() {
      int kept = Math.min(word.fractionBits(), Math.floorDiv(working.fractionBits(), 2));
      return word.fractionBits() - kept;
    }
  }

  private final Formats formats;
  private final Random random;
  final long[][] columns;

  SphereDraws(Formats formats, int count, Random random) {
    this.formats = formats;
    this.random = random;
    this.columns = new long[SphereCases.OPERANDS][count];
  }

  SphereDraws any() {
    for (int i = 0; i < columns[0].length; i++) {
      switch (random.nextInt(8)) {
        case 0 -> ends(i);
        case 1 -> lattice(i, random.nextInt(3) - 1, random.nextInt(3) > 0);
        default -> aimed(i);
      }
    }
    return this;
  }

  /**
   * Rays along an axis at a sphere ahead on the lattice, its rim so many lattice points from the
   * ray: 0 is a tangent, more is through.
   */
  SphereDraws onLattice(int through) {
    for (int i = 0; i < columns[0].length; i++) {
      lattice(i, through, true);
    }
    return this;
  }

  /** Rays along an axis through the centre, all on the lattice. */
  SphereDraws atCentres() {
    for (int i = 0; i < columns[0].length; i++) {
      lattice(i, 0, false);
    }
    return this;
  }

  private void lattice(int i, int through, boolean beside) {
    int unit = formats.latticeBits();
    int room = Math.max(1, formats.word.width() - 1 - unit);
    int[] triple = TRIPLES.get(random.nextInt(TRIPLES.size()));
    long scale = 1L + random.nextInt(1 << Math.min(12, Math.max(room - 6, 0)));
    int axis = random.nextInt(3);
    boolean back = random.nextBoolean();
    for (int k = 0; k < 3; k++) {
      long leg = triple[k == (axis + 1) % 3 ? 0 : 1] * scale * (random.nextBoolean() ? 1 : -1);
      leg = beside ? leg : 0;
      long ahead = (triple[2] + 1 + random.nextInt(3)) * scale * (back ? -1 : 1);
      long centre = random.nextInt(5) - 2L;
      put(SphereCases.CENTRE + k, i, centre << unit);
      put(SphereCases.ORIGIN + k, i, (centre - (k == axis ? ahead : leg)) << unit);
      long one = 1L << formats.direction.fractionBits();
      columns[SphereCases.DIRECTION + k][i] = k == axis ? (back ? -one : one) : 0;
    }
    put(SphereCases.RADIUS, i, (triple[2] * scale + through) << unit);
  }

  private void put(int operand, int i, long code) {
    columns[operand][i] = clamp(code, formats.word);
  }

  private void ends(int i) {
    for (int k = 0; k < SphereCases.OPERANDS; k++) {
      Format format = k < SphereCases.DIRECTION ? formats.word : formats.direction;
      long some = random.nextLong() >>> (64 - 1 - random.nextInt(format.width()));
      columns[k][i] =
          switch (random.nextInt(4)) {
            case 0 -> format.minCode().longValue() + random.nextInt(2);
            case 1 -> format.maxCode().longValue() - random.nextInt(2);
            default -> clamp(random.nextBoolean() ? some : -some, format);
          };
    }
  }

  private void aimed(int i) {
    double unit = formats.word.lsbs();
    double size = Math.scalb(1.0, formats.word.integerBits() - 1);
    double radius = magnitude(unit, size / 4);
    double[] d = turned();
    double[] across = square(d);
    double impact =
        switch (random.nextInt(4)) {
          case 0 -> radius + unit * (random.nextInt(13) - 6) * 0.5;
          case 1 -> radius * (1 + random.nextDouble());
          default -> radius * random.nextDouble();
        };
    double half = Math.sqrt(Math.max(radius * radius - impact * impact, 0));
    double along =
        switch (random.nextInt(8)) {
          case 0 -> half * (2 * random.nextDouble() - 1);
          case 1 -> -half - magnitude(unit, size / 4);
          case 2 -> (random.nextBoolean() ? half : -half) + unit * random.nextInt(3);
          default -> half + magnitude(unit, size / 2);
        };
    double length =
        random.nextBoolean()
            ? 1
            : magnitude(
                formats.direction.lsbs(),
                Math.sqrt(3) * Math.scalb(1.0, formats.direction.integerBits() - 1));
    for (int k = 0; k < 3; k++) {
      double centre = (random.nextDouble() - 0.5) * size / 2;
      columns[SphereCases.CENTRE + k][i] = code(centre, formats.word);
      columns[SphereCases.ORIGIN + k][i] =
          code(centre - along * d[k] - impact * across[k], formats.word);
      columns[SphereCases.DIRECTION + k][i] = code(length * d[k], formats.direction);
    }
    columns[SphereCases.RADIUS][i] = code(radius, formats.word);
  }

  private double magnitude(double least, double most) {
    return least * Math.exp(random.nextDouble() * Math.log(most / least));
  }

  private double[] turned() {
    if (random.nextInt(5) == 0) {
      double[] d = new double[3];
      d[random.nextInt(3)] = random.nextBoolean() ? 1 : -1;
      return d;
    }
    return normalised(random.nextGaussian(), random.nextGaussian(), random.nextGaussian());
  }

  private double[] square(double[] d) {
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
