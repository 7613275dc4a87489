package dev.plumbline.samples.faults;

import static dev.plumbline.faults.Fault.Kind.DECISION;
import static dev.plumbline.faults.Fault.Kind.LATENCY;
import static dev.plumbline.faults.Fault.Kind.OPERAND;
import static dev.plumbline.faults.Fault.Kind.RESET;
import static dev.plumbline.faults.Fault.Kind.ROUNDING;
import static dev.plumbline.faults.Fault.Kind.SATURATION;
import static dev.plumbline.faults.Fault.Kind.WIDTH;
import static dev.plumbline.faults.Fault.Shows.ANY_STREAM;
import static dev.plumbline.faults.Fault.Shows.BUBBLES;

import dev.plumbline.faults.Fault;
import java.util.List;
import java.util.stream.Stream;

/**
 * Faults of the solids that show only where several operands stand at the ends of their formats,
 * where a distance is exactly 0, or where a result is reported for what was missed.
 */
final class EndFaults {
  private EndFaults() {}

  /** Every fault, by unit. */
  static List<Fault> all() {
    return Stream.of(SPHERE, PLANE, BOX, WALKER).flatMap(List::stream).toList();
  }

  private static final List<Fault> SPHERE =
      new FaultsOf("sphere_pipeline", "s16.16 exact", "sphere_pipeline.sv")
          .fault(
              "sum-a-bit-short",
              WIDTH,
              ANY_STREAM,
              "Projection and half chord are added without a carry: only where origin and centre"
                  + " are at opposite ends along all axes and the radius is at its own.",
              "DistanceW = ProjectionW + 1;",
              "DistanceW = ProjectionW;")
          .in("round_saturate.sv")
          .fault(
              "saturates-a-code-high",
              SATURATION,
              ANY_STREAM,
              "A value below the format becomes the code above its lowest.",
              "{negative, {(OUT_W - 1) {!negative}}}",
              "{negative, {(OUT_W - 2) {!negative}}, 1'b1}")
          .all();

  private static final List<Fault> PLANE =
      new FaultsOf("plane_pipeline", "s16.16 exact", "plane_pipeline.sv")
          .fault(
              "product-a-bit-short",
              WIDTH,
              ANY_STREAM,
              "The product has a bit less than it needs, which is one more than its largest height"
                  + " and inverse fill: origin, level and normal at their ends, a slope of an LSB.",
              "ProductW = DepthW + RW - (G + RF - 1);",
              "ProductW = DepthW + RW - (G + RF - 1) - 2;")
          .fault(
              "depth-a-bit-short",
              WIDTH,
              ANY_STREAM,
              "A height of four times a word's range or more is cut to that.",
              "DepthW = W + G + 3;",
              "DepthW = W + G + 2;")
          .fault(
              "for-ever-a-code-short",
              SATURATION,
              ANY_STREAM,
              "What is within for ever began a code after the lowest.",
              "Lowest = {1'b1, {(W - 1) {1'b0}}};",
              "Lowest = {1'b1, {(W - 2) {1'b0}}, 1'b1};")
          .fault(
              "leaving-stale",
              LATENCY,
              BUBBLES,
              "The flag is loaded by the valid bit of a stage before, so a bubble leaves it with an"
                  + " older ray's.",
              "leaving_s29_q  <= leaving_s28_q;",
              "if (valid_q[27]) leaving_s29_q <= leaving_s28_q;")
          .all();

  private static final List<Fault> BOX =
      new FaultsOf("box_pipeline", "s16.16 exact", "box_pipeline.sv")
          .fault(
              "margin-wraps-at-the-highest",
              WIDTH,
              ANY_STREAM,
              "The widened exit has no carry: a ray that stays inside for ever misses.",
              "ReachW'(exit_s7_q) + $signed(ReachW'(MARGIN));",
              "ReachW'($signed(exit_s7_q + $signed(W'(MARGIN))));")
          .fault(
              "exit-at-the-origin-is-a-miss",
              DECISION,
              ANY_STREAM,
              "A widened exit of exactly 0 is a miss (> for >=).",
              "&& !widened_s7[ReachW-1];",
              "&& widened_s7 > ReachW'(0);")
          .in("box_axis.sv")
          .fault(
              "upper-face-counts-as-outside",
              DECISION,
              ANY_STREAM,
              "A parallel ray in the upper plane is outside (> for >=).",
              "to_max_s1_q >= DifferenceW'(0)",
              "to_max_s1_q > DifferenceW'(0)")
          .fault(
              "saturates-a-code-high",
              SATURATION,
              ANY_STREAM,
              "A distance below the format becomes the code above its lowest.",
              "else if (value < FlooredW'(Lowest)) saturate = Lowest;",
              "else if (value < FlooredW'(Lowest)) saturate = Lowest + W'(1);")
          .all();

  private static final List<Fault> WALKER =
      new FaultsOf("sphere_walker", "s16.16 bounded", "sphere_walker.sv")
          .fault(
              "sum-a-bit-short",
              WIDTH,
              ANY_STREAM,
              "The squared projection has no room for its sign: only where all offsets and"
                  + " directions are at their ends.",
              "SumW = ProductW + 2;",
              "SumW = ProductW;")
          .fault(
              "projection-a-bit-short",
              WIDTH,
              ANY_STREAM,
              "The projection wraps at two thirds of its largest.",
              "P = W + DW + 1 - Drop;",
              "P = W + DW - Drop;")
          .fault(
              "partial-a-bit-short",
              WIDTH,
              ANY_STREAM,
              "A partial product loses its highest bit: only of a projection near its largest.",
              "PartialW = P + DigitW < ProductW ? P + DigitW : ProductW;",
              "PartialW = (P + DigitW < ProductW ? P + DigitW : ProductW) - 1;")
          .fault(
              "distance-a-bit-short",
              WIDTH,
              ANY_STREAM,
              "Projection and root are added without a carry.",
              "DistanceW = P + 2;",
              "DistanceW = P + 1;")
          .fault(
              "saturates-a-code-high",
              SATURATION,
              ANY_STREAM,
              "A distance below the format becomes the code above its lowest.",
              "to_word = {1'b1, {(W - 1) {1'b0}}};",
              "to_word = {1'b1, {(W - 2) {1'b0}}, 1'b1};")
          .fault(
              "surface-counts-as-inside",
              DECISION,
              ANY_STREAM,
              "An entry of exactly 0 counts as inside (<= for <).",
              "inside_q <= entry[DistanceW-1];",
              "inside_q <= entry <= 0;")
          .fault(
              "leaving-from-the-surface-is-a-miss",
              DECISION,
              ANY_STREAM,
              "An exit of exactly 0 is a miss: the early way out is taken from the surface too.",
              "assign miss  = below\n      && (term_q == ProjectionSquare"
                  + " || (term_q == LastOfSquares && projection_q[P]));",
              "assign miss  = term_q == ProjectionSquare && below\n      || term_q =="
                  + " LastOfSquares && projection_q[P] && sum_d <= 0;")
          .fault(
              "tangent-is-a-miss",
              DECISION,
              ANY_STREAM,
              "A discriminant of exactly 0 is a miss (<= for <).",
              "assign miss  = below\n      && (term_q == ProjectionSquare",
              "assign miss  = (below || sum_d == 0 && term_q == ProjectionSquare)\n      &&"
                  + " (term_q == ProjectionSquare")
          .fault(
              "miss-keeps-an-entry",
              RESET,
              ANY_STREAM,
              "A miss is reported with the entry of the hit before, where 0 is promised.",
              "      entry_q  <= '0;\n",
              "")
          .fault(
              "miss-shows-the-radius",
              OPERAND,
              ANY_STREAM,
              "A miss is reported with its radius as the exit, where 0 is promised.",
              "exit_q   <= '0;",
              "exit_q   <= in_radius;")
          .fault(
              "sum-left-over",
              RESET,
              ANY_STREAM,
              "A projection begins with what remained of the case before.",
              "      term_q <= FirstTerm;\n      sum_q  <= '0;\n",
              "      term_q <= FirstTerm;\n")
          .fault(
              "projection-loses-guard-bits",
              ROUNDING,
              ANY_STREAM,
              "The projection is floored to a word: an LSB low, or nearly.",
              "$signed(sum_d[Drop+:P+1]);",
              "$signed(sum_d[Drop+:P+1] >> GUARD << GUARD);")
          .fault(
              "root-loses-guard-bits",
              ROUNDING,
              ANY_STREAM,
              "The exit takes the root floored to a word.",
              "$signed(DistanceW'(root_q));",
              "$signed(DistanceW'(root_q) & ~DistanceW'((1 << GUARD) - 1));")
          .fault(
              "distance-a-code-high",
              ROUNDING,
              ANY_STREAM,
              "A distance is the code above its floor, which shows where it is a code itself.",
              "FlooredW'(distance >>> GUARD);",
              "FlooredW'(distance >>> GUARD) + FlooredW'(1);")
          .all();
}
