package dev.plumbline.samples.faults;

import static dev.plumbline.faults.Fault.Kind.DECISION;
import static dev.plumbline.faults.Fault.Kind.LATENCY;
import static dev.plumbline.faults.Fault.Kind.OPERAND;
import static dev.plumbline.faults.Fault.Kind.ORDER;
import static dev.plumbline.faults.Fault.Kind.RESET;
import static dev.plumbline.faults.Fault.Kind.ROUNDING;
import static dev.plumbline.faults.Fault.Kind.SATURATION;
import static dev.plumbline.faults.Fault.Kind.SIGN;
import static dev.plumbline.faults.Fault.Kind.WIDTH;
import static dev.plumbline.faults.Fault.Shows.ANY_STREAM;
import static dev.plumbline.faults.Fault.Shows.BACK_TO_BACK;
import static dev.plumbline.faults.Fault.Shows.BUBBLES;
import static dev.plumbline.faults.Fault.Shows.ONE_CYCLE_RESET;

import dev.plumbline.faults.Fault;
import java.util.List;
import java.util.stream.Stream;

/** The faults of the sphere and the plane, as {@link Faults} has them for the other units. */
final class SolidFaults {
  private SolidFaults() {}

  /** Every fault, by unit. */
  static List<Fault> all() {
    return Stream.of(SPHERE, PLANE).flatMap(List::stream).toList();
  }

  private static final List<Fault> SPHERE =
      new FaultsOf("sphere_pipeline", "s16.16 exact", "sphere_pipeline.sv")
          .fault(
              "tangent-is-a-miss",
              DECISION,
              ANY_STREAM,
              "A discriminant of exactly 0 is a miss (> for >=).",
              "discriminant_s14_q >= DiscriminantW'(0) &&",
              "discriminant_s14_q > DiscriminantW'(0) &&")
          .fault(
              "negative-radius-hits",
              SIGN,
              ANY_STREAM,
              "A negative radius counts as its size.",
              "radius_negative_s11 = radius_s11_q < W'(0);",
              "radius_negative_s11 = radius_s11_q < W'(0) && 1'b0;")
          .fault(
              "point-is-a-miss",
              DECISION,
              ANY_STREAM,
              "A radius of 0 is refused like a negative one; rays dead on alone show it.",
              "radius_negative_s11 = radius_s11_q < W'(0);",
              "radius_negative_s11 = radius_s11_q <= W'(0);")
          .fault(
              "entry-and-exit-swapped",
              ORDER,
              ANY_STREAM,
              "Entry is the later of the two crossings.",
              """
                  entry_exact_q <= DistanceW'(projection_root_q) - half_chord;
                  exit_exact_q  <= DistanceW'(projection_root_q) + half_chord;
              """,
              """
                  entry_exact_q <= DistanceW'(projection_root_q) + half_chord;
                  exit_exact_q  <= DistanceW'(projection_root_q) - half_chord;
              """)
          .fault(
              "inside-on-the-wrong-sign",
              SIGN,
              ANY_STREAM,
              "Inside is set for rays that enter from outside.",
              "hit_word && entry_word_q < W'(0);",
              "hit_word && entry_word_q >= W'(0);")
          .fault(
              "surface-counts-as-inside",
              DECISION,
              ANY_STREAM,
              "An entry of exactly 0 counts as inside (<= for <).",
              "entry_word_q < W'(0);",
              "entry_word_q <= W'(0);")
          .fault(
              "behind-is-hit",
              DECISION,
              ANY_STREAM,
              "A sphere behind the origin is hit as well.",
              "meets_word_q && exit_word_q >= W'(0);",
              "meets_word_q && (exit_word_q >= W'(0) || entry_word_q < W'(0));")
          .fault(
              "leaving-from-the-surface-is-a-miss",
              DECISION,
              ANY_STREAM,
              "An exit of exactly 0 is a miss (> for >=).",
              "meets_word_q && exit_word_q >= W'(0);",
              "meets_word_q && exit_word_q > W'(0);")
          .fault(
              "borrow-dropped",
              WIDTH,
              ANY_STREAM,
              "The offset along z wraps at W bits: only where it needs one more.",
              "OffsetW'(in_centre_z) - OffsetW'(in_origin_z);",
              "OffsetW'($signed(in_centre_z[W-1:0] - in_origin_z));")
          .fault(
              "guard-bits-lost",
              ROUNDING,
              ANY_STREAM,
              "The projection waits for the root without its guard bits.",
              ".in_value (projection_s5_q),\n      .out_value(projection_root_q)",
              ".in_value ((projection_s5_q >>> G) <<< G),\n      .out_value(projection_root_q)")
          .fault(
              "squares-carry-dropped",
              WIDTH,
              ANY_STREAM,
              "The sum of squares loses its highest bit: only where all three are near their"
                  + " largest.",
              "squared_distance_s13_q <= square_x_s12_q + square_y_s12_q + square_z_s12_q;",
              "squared_distance_s13_q <= SquareW'((SquareW - 1)'(square_x_s12_q + square_y_s12_q"
                  + " + square_z_s12_q));")
          .fault(
              "radicand-below-zero-kept",
              SIGN,
              ANY_STREAM,
              "The root is left to refuse a negative radicand, which can have wrapped: only where"
                  + " all three squares are near their largest.",
              "discriminant_s14_q < DiscriminantW'(0)\n        ? RadicandW'(0) :",
              "1'b0\n        ? RadicandW'(0) :")
          .fault(
              "radicand-rounded-up",
              ROUNDING,
              ANY_STREAM,
              "The discriminant is rounded, not floored: a root in tens of thousands differs.",
              "RadicandW'(discriminant_s14_q >>> (2 * G));",
              "RadicandW'((discriminant_s14_q + (DiscriminantW'(1) <<< (2 * G - 1))) >>>"
                  + " (2 * G));")
          .fault(
              "direction-of-the-next-ray",
              LATENCY,
              BACK_TO_BACK,
              "The foot of the perpendicular is sought along the following cycle's direction.",
              ".DEPTH(4)\n  ) delay_direction",
              ".DEPTH(3)\n  ) delay_direction")
          .fault(
              "radius-of-the-next-sphere",
              LATENCY,
              BACK_TO_BACK,
              "The radius comes from the following cycle.",
              ".DEPTH(10)\n  ) delay_radius (",
              ".DEPTH(9)\n  ) delay_radius (")
          .fault(
              "projection-of-the-next-ray",
              LATENCY,
              BACK_TO_BACK,
              "The chord is laid about the following cycle's foot.",
              ".DEPTH(RootStage - 5)",
              ".DEPTH(RootStage - 6)")
          .fault(
              "decision-stale",
              LATENCY,
              BUBBLES,
              "The register is loaded by the valid bit of a stage before, so a bubble leaves it"
                  + " with an older ray's decision.",
              "meets_exact_q <= meets_root_q;",
              "if (valid_q[RootStage-1]) meets_exact_q <= meets_root_q;")
          .fault(
              "valid-a-cycle-late",
              LATENCY,
              ANY_STREAM,
              "Latency is declared one too long.",
              "Latency = orrery_pkg::sphere_latency(W);",
              "Latency = orrery_pkg::sphere_latency(W) + 1;")
          .fault(
              "reset-misses-stage-20",
              RESET,
              ONE_CYCLE_RESET,
              "The case that enters stage 20, inside the root, survives a reset of one cycle.",
              "if (rst) valid_q <= '0;",
              "if (rst) valid_q <= Latency'(valid_q[19]) << 19;")
          .in("sphere_axis.sv")
          .fault(
              "offset-of-the-next-ray",
              LATENCY,
              BACK_TO_BACK,
              "The perpendicular ends at the following cycle's centre.",
              ".DEPTH(3)\n  ) delay_offset",
              ".DEPTH(2)\n  ) delay_offset")
          .fault(
              "perpendicular-wraps",
              WIDTH,
              ANY_STREAM,
              "A perpendicular beyond its format wraps, so a far sphere can be hit.",
              ".in_value (difference_s9_q),",
              ".in_value ((difference_s9_q <<< (DifferenceW - AcrossW)) >>> (DifferenceW -"
                  + " AcrossW)),")
          .in("round_saturate.sv")
          .fault(
              "half-dropped",
              ROUNDING,
              ANY_STREAM,
              "Every rounding is a floor.",
              "$signed((SumW'(1) << DROP) >> 1);",
              "SumW'(0);")
          .fault(
              "too-far-wraps",
              SATURATION,
              ANY_STREAM,
              "A value above the format wraps; one below it saturates.",
              "value_q <= fits ?",
              "value_q <= fits || !negative ?")
          .in("dot_product.sv")
          .fault(
              "carry-dropped",
              WIDTH,
              ANY_STREAM,
              "The scalar product loses its highest bit: only where all three are near their"
                  + " largest.",
              "dot_s3_q <= DotW'(product_x_s2_q) + DotW'(product_y_s2_q) + DotW'(product_z_s2_q);",
              "dot_s3_q <= DotW'($signed(product_x_s2_q + product_y_s2_q + product_z_s2_q));")
          .in("split_multiply.sv")
          .fault(
              "third-digit-unsigned",
              SIGN,
              ANY_STREAM,
              "Operands of three digits lose their sign: projection and perpendicular.",
              "assign digit_a = extended_a[ExtendedA-1-:DigitA+1];",
              "assign digit_a = extended_a[ExtendedA-1-:DigitA+1] & ~((DigitA + 1)'(DigitsA == 3)"
                  + " << DigitA);")
          .in("square_root.sv")
          .fault(
              "last-digit-compare",
              DECISION,
              ANY_STREAM,
              "The last stage misses an exact fit (> for >=): odd roots of perfect squares.",
              "assign fits         = !difference[TrialW];",
              "assign fits = !difference[TrialW] && (k != N + 1 || difference != '0);")
          .all();

  private static final List<Fault> PLANE =
      new FaultsOf("plane_pipeline", "s16.16 exact", "plane_pipeline.sv")
          .fault(
              "in-the-plane-is-outside",
              DECISION,
              ANY_STREAM,
              "An origin exactly in the plane is outside (> for >=).",
              "height_s4_q >= HeightW'(0);",
              "height_s4_q > HeightW'(0);")
          .fault(
              "steep-inverse-is-parallel",
              OPERAND,
              ANY_STREAM,
              "Parallel is decided by the inverse's overflow: also slopes of an LSB or two.",
              ".out_zero    (parallel_s25_q),\n      .out_overflow(inverse_overflow)",
              ".out_zero    (inverse_overflow),\n      .out_overflow(parallel_s25_q)")
          .fault(
              "parallel-is-leaving",
              DECISION,
              ANY_STREAM,
              "A slope of 0 is leaving as well (>= for >).",
              "slope_s4_q > RW'(0)",
              "slope_s4_q >= RW'(0)")
          .fault(
              "leaving-of-the-next-ray",
              LATENCY,
              BACK_TO_BACK,
              "Leaving is decided from the following cycle's slope.",
              ".in_value (slope_s4_q > RW'(0)),",
              ".in_value (slope_full_s3_q > SlopeFullW'(0)),")
          .fault(
              "parallel-outside-ignored",
              DECISION,
              ANY_STREAM,
              "A parallel ray outside is treated as if its inverse meant something.",
              "if (parallel_s28_q) begin",
              "if (parallel_s28_q && inside_s28_q) begin")
          .fault(
              "parallel-entry-swapped",
              OPERAND,
              ANY_STREAM,
              "A parallel ray inside is entered at the end of all.",
              "entry_s29_q <= inside_s28_q ? Lowest : Highest;",
              "entry_s29_q <= inside_s28_q ? Highest : Lowest;")
          .fault(
              "entry-and-exit-swapped",
              ORDER,
              ANY_STREAM,
              "Where the ray leaves, it is taken to enter.",
              "exit_s29_q  <= leaving_s28_q ? distance_s28_q : Highest;",
              "exit_s29_q  <= leaving_s28_q ? Highest : distance_s28_q;")
          .fault(
              "exit-at-the-origin-is-a-miss",
              DECISION,
              ANY_STREAM,
              "An exit of exactly 0 is a miss (> for >=).",
              "exit_s29_q >= W'(0);",
              "exit_s29_q > W'(0);")
          .fault(
              "farthest-entry-is-a-miss",
              DECISION,
              ANY_STREAM,
              "Entry must be below exit (< for <=): only where entry is saturated.",
              "entry_s29_q <= exit_s29_q &&",
              "entry_s29_q < exit_s29_q &&")
          .fault(
              "level-sign-lost",
              SIGN,
              ANY_STREAM,
              "A negative level is taken as a large one.",
              "(HeightW'(level_s3_q) <<< DF)",
              "($signed({{(HeightW - W) {1'b0}}, level_s3_q}) <<< DF)")
          .fault(
              "level-of-the-next-plane",
              LATENCY,
              BACK_TO_BACK,
              "The level comes from the following cycle.",
              ".DEPTH(3)\n  ) delay_level",
              ".DEPTH(2)\n  ) delay_level")
          .fault(
              "depth-of-the-next-ray",
              LATENCY,
              BACK_TO_BACK,
              "The delay of the height is one short.",
              ".DEPTH(InverseStage - 5)",
              ".DEPTH(InverseStage - 6)")
          .fault(
              "signs-of-the-next-ray",
              LATENCY,
              BACK_TO_BACK,
              "The delay of the flags beside the product is one short.",
              ".DEPTH(3)\n  ) delay_signs",
              ".DEPTH(2)\n  ) delay_signs")
          .fault(
              "guard-bits-lost",
              ROUNDING,
              ANY_STREAM,
              "The height is multiplied without its guard bits.",
              ".in_value ({inside_s5_q, depth_s5_q}),",
              ".in_value ({inside_s5_q, (depth_s5_q >>> G) <<< G}),")
          .fault(
              "half-dropped",
              ROUNDING,
              ANY_STREAM,
              "The distance is floored.",
              ".in_value (product_s27_q),",
              ".in_value (product_s27_q & ~ProductW'(1)),")
          .fault(
              "product-carry-dropped",
              WIDTH,
              ANY_STREAM,
              "The product loses four high bits: only where heights are large and slopes tiny.",
              "ProductW = DepthW + RW - (G + RF - 1);",
              "ProductW = DepthW + RW - (G + RF - 1) - 4;")
          .fault(
              "valid-a-cycle-early",
              LATENCY,
              ANY_STREAM,
              "Latency is declared one short, so valid comes a cycle before its result.",
              "Latency = orrery_pkg::plane_latency();",
              "Latency = orrery_pkg::plane_latency() - 1;")
          .fault(
              "valid-lost-after-bubble",
              LATENCY,
              BUBBLES,
              "A case right after a bubble of one cycle is dropped.",
              "{valid_q[Latency-1:1], in_valid};",
              "{valid_q[Latency-1:1], in_valid && (valid_q[1] || !valid_q[2])};")
          .fault(
              "reset-lets-a-case-in",
              RESET,
              ONE_CYCLE_RESET,
              "A case that arrives during reset is accepted.",
              "if (rst) valid_q <= '0;",
              "if (rst) valid_q <= Latency'(in_valid);")
          .in("round_saturate.sv")
          .fault(
              "halves-down",
              ROUNDING,
              ANY_STREAM,
              "A value exactly between two codes is rounded down.",
              "$signed((SumW'(1) << DROP) >> 1);",
              "$signed(((SumW'(1) << DROP) >> 1) - SumW'(DROP != 0));")
          .fault(
              "saturates-to-the-wrong-end",
              SATURATION,
              ANY_STREAM,
              "A value below the format becomes its largest code.",
              "{negative, {(OUT_W - 1) {!negative}}}",
              "{1'b0, {(OUT_W - 1) {1'b1}}}")
          .in("dot_product.sv")
          .fault(
              "y-sign-lost",
              SIGN,
              ANY_STREAM,
              "The product along y takes its operands as unsigned.",
              ".SIGNED(1)\n  ) multiply_y",
              ".SIGNED(0)\n  ) multiply_y")
          .in("reciprocal.sv")
          .fault(
              "inverse-rounded-to-nearest",
              ROUNDING,
              ANY_STREAM,
              "The inverse is rounded to nearest instead of towards zero.",
              "(W + 1)'(remainder_s19_q >= divisor_s19)",
              "(W + 1)'(2 * remainder_s19_q >= divisor_s19)")
          .all();
}
