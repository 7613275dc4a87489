package dev.plumbline.models.light;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.datapath.Vectors;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.SceneFormats;

/**
 * What is where a ray meets a surface: the point, the normal that faces the ray, the cosine towards
 * the lamp, where secondary rays begin, and the mirrored direction.
 *
 * <p>Operands {@code origin_x} and so on (words), {@code direction_x} and so on, {@code distance}
 * (a word), the bits {@code sphere} and {@code box} (a half-space is neither), {@code face} (2 axis
 * + side, of a box), {@code centre_x} and so on and {@code inverse_radius} (words, of a sphere),
 * {@code plane_x} and so on (the normal of a half-space, a direction, taken as it is), {@code
 * lamp_x} and so on, {@code epsilon} (a word). Every rounding is to the nearest code, a tie going
 * up, and saturates. Results, with r for that rounding:
 *
 * <ul>
 *   <li>{@code normal_x} ...: r of (point - centre) inverse_radius, or the face's axis, or the
 *       plane; negated where its exact product with the direction is positive; a direction
 *   <li>{@code cosine}: r of normal . lamp to 16 fraction bits, from 0 to 1
 *   <li>{@code start_x} ...: r of point + epsilon normal, with point r of origin + distance
 *       direction; words
 *   <li>{@code reflected_x} ...: r of direction - 2 m normal, with m r of normal . direction; a
 *       direction
 * </ul>
 */
public final class SurfacePoint {
  /** Fraction bits of the cosine. */
  static final int COSINE_BITS = 16;

  private static final Format FACE = Format.unsigned(3, 0);

  private final SceneFormats formats;
  private final Datapath.Builder b;
  private final Vectors vectors;
  private final boolean bounded;

  private SurfacePoint(SceneFormats formats, boolean bounded) {
    this.formats = formats;
    this.bounded = bounded;
    this.b = Datapath.named(bounded ? "bounded_surface_point" : "surface_point");
    this.vectors = new Vectors(b);
  }

  /**
   * The steps.
   *
   * @param formats of word and direction
   * @return a datapath
   */
  public static Datapath datapath(SceneFormats formats) {
    return new SurfacePoint(formats, false).describe();
  }

  /**
   * The same of a ray and a distance that are intervals: for {@code origin_x} it has {@code
   * origin_x_low} and {@code origin_x_high}, and so on for origin, direction and distance. The
   * inverse radius may be one LSB off.
   */
  static Datapath bounded(SceneFormats formats) {
    return new SurfacePoint(formats, true).describe();
  }

  private Value interval(String name, Format format) {
    return bounded
        ? b.either(name, b.input(name + "_low", format), b.input(name + "_high", format))
        : b.input(name, format);
  }

  private Datapath describe() {
    Format word = formats.word();
    Format unit = formats.direction();
    Value[] origin = vectors.each("origin", (name, axis) -> interval(name, word));
    Value[] direction = vectors.each("direction", (name, axis) -> interval(name, unit));
    Value distance = interval("distance", word);
    Value sphere = b.input("sphere", Format.bit());
    Value box = b.input("box", Format.bit());
    Value face = b.input("face", FACE);
    Value[] centre = vectors.inputs("centre", word);
    Value given = b.input("inverse_radius", word);
    Value inverse = bounded ? b.allow("inverse_radius_allowed", given, 1, word) : given;
    Value[] plane = vectors.inputs("plane", unit);
    Value[] lamp = vectors.inputs("lamp", unit);
    Value epsilon = b.input("epsilon", word);
    Value[] point = vectors.each("point", (name, k) -> along(name, origin, distance, direction, k));
    Value[] outward =
        vectors.each(
            "outward",
            (name, k) -> {
              Value arm = b.subtract(name + "_arm", point[k], centre[k]);
              Value radial = near(name + "_radial", b.multiply(name + "_full", arm, inverse), unit);
              Value flat = b.select(name + "_flat", box, faceNormal(name, face, k), plane[k]);
              return b.select(name, sphere, radial, flat);
            });
    Value[] normal = facing(outward, direction);
    Value nought = b.constant("nought", unit, 0);
    Format share = Format.unsigned(1, COSINE_BITS);
    Value cosine = near("cosine_near", vectors.dot("cosine_full", normal, lamp), share);
    Value one = b.constant("one", share, 1L << COSINE_BITS);
    b.output(b.minimum("cosine", cosine, one));
    for (int k = 0; k < Vectors.COUNT; k++) {
      b.output(normal[k]);
      b.output(along("start" + Vectors.suffix(k), point, epsilon, normal, k));
    }
    reflect(direction, normal, nought);
    return b.build();
  }

  /** A point and so much of a direction. */
  private Value along(String name, Value[] from, Value length, Value[] direction, int axis) {
    Value way = b.multiply(name + "_way", length, direction[axis]);
    return near(name, b.add(name + "_full", from[axis], way), formats.word());
  }

  /** One, minus one or zero. */
  private Value faceNormal(String name, Value face, int axis) {
    Format unit = formats.direction();
    long one = Math.min(1L << unit.fractionBits(), unit.maxCode().longValue());
    Value zero = b.constant(name + "_zero", unit, 0);
    Value minus = b.constant(name + "_minus", unit, -(1L << unit.fractionBits()));
    Value plus = b.constant(name + "_plus", unit, one);
    Value min = b.equal(name + "_min", face, b.constant(name + "_low", FACE, 2L * axis));
    Value max = b.equal(name + "_max", face, b.constant(name + "_high", FACE, 2L * axis + 1));
    return b.select(name + "_face", min, minus, b.select(name + "_side", max, plus, zero));
  }

  private Value[] facing(Value[] outward, Value[] direction) {
    Value slope = vectors.dot("slope", outward, direction);
    Value level = b.constant("level", slope.format(), 0);
    Value away = b.lessThan("away", level, slope);
    return vectors.each(
        "normal",
        (name, k) -> {
          Value turned = b.negate(name + "_negated", outward[k]);
          return b.select(
              name, away, near(name + "_turned", turned, formats.direction()), outward[k]);
        });
  }

  private void reflect(Value[] direction, Value[] normal, Value nought) {
    Value full = vectors.dot("along_full", normal, direction);
    int whole = full.format().integerBits() + 1;
    Value along = near("along", full, Format.signed(whole, nought.format().fractionBits()));
    Value twice = b.scale("along_twice", along, 1);
    for (int k = 0; k < Vectors.COUNT; k++) {
      String name = "reflected" + Vectors.suffix(k);
      Value turned = b.multiply(name + "_turned", twice, normal[k]);
      Value exact = b.subtract(name + "_full", direction[k], turned);
      b.output(near(name, exact, formats.direction()));
    }
  }

  private Value near(String name, Value value, Format format) {
    return Codes.near(b, name, value, format);
  }
}
