package dev.plumbline.models.solid;

import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/**
 * How a box unit of another build may compute the distance to a face, in the JDK's integers: each
 * circuit rounds wherever it does in a way of its own. They share nothing with the model.
 */
interface SlabCircuit {
  /**
   * The distance in LSB of the word, not saturated.
   *
   * @param ray the component of the direction, or its inverse where that is given; never a zero
   *     direction
   * @param far whether the face is the farther one
   */
  BigInteger distance(BigInteger face, BigInteger origin, BigInteger ray, boolean far);

  /** A rounding of quotients. */
  enum Cut {
    FLOOR,
    NEAREST,
    NEAREST_EVEN,
    TOWARD_ZERO,
    CEILING;

    private static final Cut[] USUAL = {FLOOR, NEAREST, NEAREST_EVEN, TOWARD_ZERO};

    static Cut any(Random random) {
      return USUAL[random.nextInt(USUAL.length)];
    }

    /** To either neighbour: a unit by table and iteration may end on the upper one as well. */
    static Cut anyNeighbour(Random random) {
      return values()[random.nextInt(values().length)];
    }

    BigInteger divide(BigInteger dividend, BigInteger divisor) {
      BigInteger n = divisor.signum() < 0 ? dividend.negate() : dividend;
      BigInteger d = divisor.abs();
      BigInteger[] parts = n.divideAndRemainder(d);
      boolean below = parts[1].signum() < 0;
      BigInteger floor = below ? parts[0].subtract(BigInteger.ONE) : parts[0];
      int half = n.subtract(floor.multiply(d)).shiftLeft(1).compareTo(d);
      boolean up =
          switch (this) {
            case FLOOR -> false;
            case CEILING -> parts[1].signum() != 0;
            case TOWARD_ZERO -> below;
            case NEAREST -> half >= 0;
            case NEAREST_EVEN -> half > 0 || (half == 0 && floor.testBit(0));
          };
      return up ? floor.add(BigInteger.ONE) : floor;
    }

    /** A code with so many bits fewer behind the point, or more. */
    BigInteger drop(BigInteger code, int bits) {
      return bits <= 0 ? code.shiftLeft(-bits) : divide(code, BigInteger.ONE.shiftLeft(bits));
    }
  }

  /** One over a direction, or the inverse as it is given; so many bits behind its point. */
  interface Inverse {
    BigInteger of(BigInteger ray);

    int fractionBits();
  }

  /** An inverse that is an operand. */
  record Given(int fractionBits) implements Inverse {
    @Override
    public BigInteger of(BigInteger ray) {
      return ray;
    }
  }

  /**
   * A reciprocal within one LSB of so many fraction bits and guard bits more.
   *
   * @param from fraction bits of the direction
   * @param integerBits where it saturates, or 0
   * @param shy whether a quotient that is a code comes out one LSB nearer to zero, as from an
   *     iteration that approaches it from below
   */
  record Computed(int from, int fractionBits, Cut cut, int integerBits, boolean shy)
      implements Inverse {
    @Override
    public BigInteger of(BigInteger ray) {
      BigInteger one = BigInteger.ONE.shiftLeft(from + fractionBits);
      BigInteger inverse = cut.divide(one, ray);
      if (shy && inverse.multiply(ray).equals(one)) {
        inverse = inverse.subtract(BigInteger.valueOf(inverse.signum()));
      }
      int bits = integerBits - 1 + fractionBits;
      if (integerBits == 0 || bits < 0) {
        return inverse;
      }
      BigInteger limit = BigInteger.ONE.shiftLeft(bits);
      return inverse.max(limit.negate()).min(limit.subtract(BigInteger.ONE));
    }
  }

  /** {@code (face - origin) * inverse}; near distances may be rounded down and far ones up. */
  record OneProduct(Inverse inverse, Cut near, Cut far) implements SlabCircuit {
    @Override
    public BigInteger distance(BigInteger face, BigInteger origin, BigInteger ray, boolean isFar) {
      BigInteger product = face.subtract(origin).multiply(inverse.of(ray));
      return (isFar ? far : near).drop(product, inverse.fractionBits());
    }
  }

  /** {@code face * inverse - origin * inverse}, both rounded, each in its way. */
  record TwoProducts(Inverse inverse, Cut ofFace, Cut ofOrigin) implements SlabCircuit {
    @Override
    public BigInteger distance(BigInteger face, BigInteger origin, BigInteger ray, boolean isFar) {
      BigInteger i = inverse.of(ray);
      int drop = inverse.fractionBits();
      return ofFace.drop(face.multiply(i), drop).subtract(ofOrigin.drop(origin.multiply(i), drop));
    }
  }

  /**
   * {@code face * inverse + shift} rounded, the shift of the origin rounded once for both faces.
   */
  record MultiplyAdd(Inverse inverse, Cut ofShift, Cut ofSum) implements SlabCircuit {
    @Override
    public BigInteger distance(BigInteger face, BigInteger origin, BigInteger ray, boolean isFar) {
      BigInteger i = inverse.of(ray);
      int drop = Math.max(inverse.fractionBits(), 0);
      int more = Math.max(-inverse.fractionBits(), 0);
      BigInteger shift = ofShift.drop(origin.multiply(i).shiftLeft(more).negate(), drop);
      BigInteger sum = face.multiply(i).shiftLeft(more).add(shift.shiftLeft(drop));
      return ofSum.drop(sum, drop);
    }
  }

  /** {@code (face - origin) / direction}, a division for each face. */
  record Division(int directionBits, Cut cut) implements SlabCircuit {
    @Override
    public BigInteger distance(BigInteger face, BigInteger origin, BigInteger ray, boolean isFar) {
      BigInteger to = face.subtract(origin).shiftLeft(Math.max(directionBits, 0));
      return cut.divide(to, ray.shiftLeft(Math.max(-directionBits, 0)));
    }
  }

  /**
   * A circuit of each kind for each choice of roundings down or up, whose inverses are as far off
   * as a reciprocal within one LSB of the word may be.
   */
  static List<SlabCircuit> outermost(SlabFormats formats) {
    List<SlabCircuit> circuits = new ArrayList<>();
    int ray = formats.ray().fractionBits();
    int word = formats.word().fractionBits();
    List<Inverse> inverses =
        formats.inverses()
            ? List.of(new Given(ray))
            : List.of(
                new Computed(ray, word, Cut.FLOOR, 0, false),
                new Computed(ray, word, Cut.FLOOR, 0, true),
                new Computed(ray, word, Cut.CEILING, 0, false));
    List<Cut> ways = List.of(Cut.FLOOR, Cut.CEILING);
    for (Cut first : ways) {
      for (Inverse inverse : inverses) {
        circuits.add(new OneProduct(inverse, first, first));
        for (Cut second : ways) {
          circuits.add(new TwoProducts(inverse, first, second));
          circuits.add(new MultiplyAdd(inverse, first, second));
        }
      }
      if (!formats.inverses()) {
        circuits.add(new Division(ray, first));
      }
    }
    return circuits;
  }
}
