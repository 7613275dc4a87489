package dev.plumbline.coverage;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import java.util.List;

/**
 * What a sphere bench has to reach, decided in whole numbers without rounding.
 *
 * <p>How a ray passes the sphere is decided along the axes, where the distance of the line from the
 * centre is a sum of two squares; oblique rays count as oblique, since their exact discriminant
 * would need more than 128 bits.
 */
public final class SphereCoverage {
  /** Points that count where {@code inside} is decided; the others count where hit is. */
  public static final List<String> OF_INSIDE =
      List.of("inside", "at_the_centre", "on_the_surface", "enters_at_the_origin");

  private SphereCoverage() {}

  /** Which of the points at the very edge are asked for: those that a reference decides. */
  public enum Edges {
    /** None: a budget wider than roundings alone leaves each of them open. */
    NONE,
    /** Those within one rounding an operation. */
    ROUNDED,
    /** Those too where hardware whose roots may be an LSB low at perfect squares may miss. */
    EXACT_ROOTS,
    /** All of them, to the bit. */
    EXACT
  }

  /**
   * Integer bits from which rays reach spheres of five units and more, where a radius longer by an
   * LSB makes its square larger by more than ten roundings do.
   */
  private static final int ROOM = 6;

  public static Datapath of(Format word, Format direction, Edges edges) {
    final boolean edge = edges != Edges.NONE;
    final boolean lsb = edges == Edges.EXACT || (edge && word.integerBits() >= ROOM);
    final boolean exactRoots = edges == Edges.EXACT_ROOTS || edges == Edges.EXACT;
    Bits s = new Bits("sphere coverage points");
    Value[] origin = s.vector("origin", word);
    Value[] centre = s.vector("centre", word);
    Value radius = s.b.input("radius", word);
    Value[] d = s.vector("direction", direction);
    Value[] m = new Value[3];
    for (int i = 0; i < 3; i++) {
      m[i] = s.subtract(centre[i], origin[i]);
    }
    Value last = s.b.constant("last", word, 1);
    Value square = s.multiply(radius, radius);
    Value far = s.dot(m, m);
    Value round = s.less(s.zero, radius);
    Value ahead = s.less(s.zero, s.dot(m, d));
    Value behind = s.less(s.dot(m, d), s.zero);
    Value outside = s.less(square, far);

    // Along an axis everything is exact and as narrow as its operands.
    Value along = null;
    Value off = null;
    for (int i = 0; i < 3; i++) {
      int j = (i + 1) % 3;
      int k = (i + 2) % 3;
      Value alongThis =
          s.and(s.equal(d[j], s.zero), s.equal(d[k], s.zero), s.not(s.equal(d[i], s.zero)));
      Value offThis = s.add(s.multiply(m[j], m[j]), s.multiply(m[k], m[k]));
      along = along == null ? alongThis : s.or(along, alongThis);
      off = off == null ? offThis : s.select(alongThis, offThis, off);
    }
    Value wider = s.add(radius, last);
    Value closer = s.subtract(radius, last);
    Value crosses = s.less(off, square);
    s.point("two_crossings_ahead", along, round, outside, ahead, crosses);
    s.point("behind", along, round, outside, behind, crosses);
    s.pointIf(edge, "tangent", along, round, ahead, s.equal(off, square));
    s.pointIf(
        lsb, "missed_by_one_lsb", along, round, ahead, s.equal(off, s.multiply(wider, wider)));
    s.pointIf(lsb, "hit_by_one_lsb", along, round, ahead, s.equal(off, s.multiply(closer, closer)));
    s.point("missed_ahead", along, round, ahead, s.less(square, off));
    s.point("oblique", s.not(along), round, outside, ahead);
    s.point("inside", round, s.less(far, square));
    s.point("at_the_centre", round, s.equal(far, s.zero));
    s.pointIf(edge, "on_the_surface", round, s.equal(far, square));
    Value surface = s.and(along, round, s.equal(far, square));
    s.pointIf(edge, "enters_at_the_origin", surface, ahead);
    s.pointIf(exactRoots, "leaves_at_the_origin", surface, behind);
    s.pointIf(edge, "touches_at_the_origin", surface, s.not(ahead), s.not(behind));
    s.point("zero_radius", s.equal(radius, s.zero));
    Value deadOn = s.and(along, s.equal(radius, s.zero), s.equal(off, s.zero), ahead);
    s.pointIf(edge, "zero_radius_dead_on", deadOn);
    s.point("negative_radius", s.less(radius, s.zero));
    Value highest = s.b.constant("highest", word, word.maxCode());
    Value beyond = null;
    for (Value offset : m) {
      Value here = s.less(highest, s.absolute(offset));
      beyond = beyond == null ? here : s.or(beyond, here);
    }
    s.point("overflow", beyond);
    return s.b.build();
  }
}
