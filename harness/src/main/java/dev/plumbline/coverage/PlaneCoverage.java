package dev.plumbline.coverage;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import java.util.List;

/** What a plane bench has to reach, decided by the exact height and slope. */
public final class PlaneCoverage {
  /** Points that count where {@code inside} is decided; others count where hit is. */
  public static final List<String> OF_INSIDE =
      List.of("origin_on_the_plane", "comes_in_at_the_origin", "in_the_plane", "normal_of_zero");

  /** Points that count where {@code parallel} is decided. */
  public static final List<String> OF_PARALLEL =
      List.of("parallel_inside", "parallel_outside", "nearly_parallel");

  private PlaneCoverage() {}

  /**
   * Of a half-space.
   *
   * @param edges whether an origin exactly on the plane and a slope of 0 or an LSB or two are asked
   *     for, which a budget wider than roundings alone leaves open
   */
  public static Datapath of(Format word, Format direction, boolean edges) {
    Bits s = new Bits("plane coverage points");
    Value[] origin = s.vector("origin", word);
    Value[] along = s.vector("direction", direction);
    Value[] normal = s.vector("normal", direction);
    Value height = s.subtract(s.b.input("level", word), s.dot(normal, origin));
    Value slope = s.dot(normal, along);
    Value comes = s.less(slope, s.zero);
    Value leaves = s.less(s.zero, slope);
    Value parallel = s.equal(slope, s.zero);
    Value outside = s.less(height, s.zero);
    Value within = s.less(s.zero, height);
    Value blank = null;
    for (Value component : normal) {
      Value none = s.equal(component, s.zero);
      blank = blank == null ? none : s.and(blank, none);
    }
    Value plain = s.not(blank);
    s.point("comes_in_ahead", comes, outside);
    s.point("came_in_behind", comes, within);
    s.point("leaves_ahead", leaves, within);
    s.point("left_behind", leaves, outside);
    s.pointIf(edges, "origin_on_the_plane", plain, s.equal(height, s.zero), s.not(parallel));
    s.pointIf(edges, "comes_in_at_the_origin", comes, s.equal(height, s.zero));
    s.pointIf(edges, "leaves_at_the_origin", leaves, s.equal(height, s.zero));
    s.pointIf(edges, "in_the_plane", plain, parallel, s.equal(height, s.zero));
    s.pointIf(edges, "parallel_inside", plain, parallel, within);
    s.pointIf(edges, "parallel_outside", plain, parallel, outside);
    s.pointIf(edges, "normal_of_zero", blank);
    Value steepness = s.absolute(slope);
    Value last = s.b.constant("last", word, 2);
    s.pointIf(edges, "nearly_parallel", s.not(parallel), s.atMost(steepness, last));
    Value highest = s.b.constant("highest", word, word.maxCode());
    s.point(
        "overflow", s.not(parallel), s.less(s.multiply(highest, steepness), s.absolute(height)));
    return s.b.build();
  }
}
