package dev.plumbline.samples;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.stimulus.Generator;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.stimulus.Stimulus;
import java.util.List;

/** Rays as the orrery's display casts them at planets and at the faces of its frame. */
final class OrrerySolids {
  private static final int ORIGIN = 0;
  private static final int CENTRE = 3;
  private static final int RADIUS = 6;
  private static final int DIRECTION = 7;
  private static final int PLANE_DIRECTION = 3;
  private static final int NORMAL = 6;
  private static final int LEVEL = 9;

  private OrrerySolids() {}

  /**
   * Cases for the sphere, operands in its order.
   *
   * <p>A planet of up to four units; a ray whose line passes it centrally, anywhere, or within a
   * few last places of tangency, from before it, behind it, inside it or its surface. One direction
   * in four lies along an axis, where all of that is exact. Some radii are 0, a last place, or
   * below 0.
   */
  static Stimulus spheres(Format word, Format direction) {
    long unit = 1L << word.fractionBits();
    long one = 1L << direction.fractionBits();
    return Stimulus.drawn((stream, codes) -> drawSphere(stream, codes, unit, one));
  }

  /**
   * Cases for the half-space, operands in its order.
   *
   * <p>One normal in three is perpendicular to the ray but for a last place or two; one origin in
   * three lies in the plane or a last place beside it.
   */
  static Stimulus planes(Format word, Format direction) {
    long unit = 1L << word.fractionBits();
    long one = 1L << direction.fractionBits();
    return Stimulus.drawn((stream, codes) -> drawPlane(stream, codes, unit, one));
  }

  /**
   * Every operand at an end of its format, where sums need all their bits.
   *
   * @param vectors leads of the operands that are in the direction's format, such as {@code
   *     "direction_"}
   */
  static Stimulus ends(Format word, Format direction, String... vectors) {
    Stimulus ends = Stimulus.each(ends(word));
    for (String vector : vectors) {
      for (String axis : List.of("x", "y", "z")) {
        ends = ends.with(vector + axis, ends(direction));
      }
    }
    return ends;
  }

  private static Generator ends(Format format) {
    return Generator.codes(format.minCode().longValueExact(), format.maxCode().longValueExact());
  }

  private static void drawSphere(RandomStream stream, long[] codes, long unit, long one) {
    drawUnitVector(stream, codes, DIRECTION, one);
    long radius = stream.below(8) == 0 ? stream.below(3) - 1 : stream.below((int) (4 * unit));
    long along =
        switch (stream.below(8)) {
          case 0 -> radius;
          case 1 -> -radius;
          default -> within(stream, 16 * unit);
        };
    double aside =
        switch (stream.below(4)) {
          case 0 -> 0;
          case 1 -> (double) radius;
          default -> radius * 1.25 * stream.unit();
        };
    // A line beside the ray: the cross product of its direction and an axis.
    int axis = stream.below(3);
    int second = (axis + 1) % 3;
    int third = (axis + 2) % 3;
    double length =
        Math.hypot((double) codes[DIRECTION + second], (double) codes[DIRECTION + third]);
    double step = length == 0 ? 0 : aside / length;
    double ahead = (double) along / one;
    for (int i = 0; i < 3; i++) {
      codes[ORIGIN + i] = within(stream, 16 * unit);
      codes[CENTRE + i] = codes[ORIGIN + i] + Math.round(ahead * codes[DIRECTION + i]);
    }
    codes[CENTRE + second] += Math.round(step * codes[DIRECTION + third]);
    codes[CENTRE + third] -= Math.round(step * codes[DIRECTION + second]);
    codes[RADIUS] = stream.below(16) == 0 ? -radius : radius + nearby(stream);
  }

  private static void drawPlane(RandomStream stream, long[] codes, long unit, long one) {
    drawUnitVector(stream, codes, PLANE_DIRECTION, one);
    drawUnitVector(stream, codes, NORMAL, one);
    if (stream.below(3) == 0) {
      int axis = stream.below(3);
      int second = (axis + 1) % 3;
      int third = (axis + 2) % 3;
      codes[NORMAL + axis] = nearby(stream);
      codes[NORMAL + second] = codes[PLANE_DIRECTION + third];
      codes[NORMAL + third] = -codes[PLANE_DIRECTION + second];
    }
    long along = 0;
    for (int i = 0; i < 3; i++) {
      codes[ORIGIN + i] = within(stream, 16 * unit);
      along += codes[ORIGIN + i] * codes[NORMAL + i];
    }
    long height = stream.below(3) == 0 ? nearby(stream) : within(stream, 16 * unit);
    codes[LEVEL] = Math.round((double) along / one) + height;
  }

  /** One in four along an axis, one in four in a plane of two, the others anywhere. */
  private static void drawUnitVector(RandomStream stream, long[] codes, int at, long one) {
    int kind = stream.below(4);
    int axis = stream.below(3);
    double x = 2 * stream.unit() - 1;
    double y = 2 * stream.unit() - 1;
    double z = kind == 0 ? 0 : 2 * stream.unit() - 1;
    double scale = one / Math.sqrt(x * x + y * y + z * z);
    codes[at + axis] = kind == 1 ? (stream.below(2) == 0 ? one : -one) : Math.round(x * scale);
    codes[at + (axis + 1) % 3] = kind == 1 ? 0 : Math.round(y * scale);
    codes[at + (axis + 2) % 3] = kind == 1 ? 0 : Math.round(z * scale);
  }

  /** 0 mostly, else a last place or two. */
  private static long nearby(RandomStream stream) {
    return stream.below(2) == 0 ? 0 : stream.below(5) - 2;
  }

  /** From -most to most. */
  private static long within(RandomStream stream, long most) {
    return stream.below((int) (2 * most + 1)) - most;
  }
}
