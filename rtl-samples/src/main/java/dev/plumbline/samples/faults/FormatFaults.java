package dev.plumbline.samples.faults;

import static dev.plumbline.faults.Fault.Kind.PARAMETER;
import static dev.plumbline.faults.Fault.Kind.SATURATION;
import static dev.plumbline.faults.Fault.Kind.WIDTH;
import static dev.plumbline.faults.Fault.Shows.ANY_STREAM;

import dev.plumbline.faults.Fault;
import java.util.List;
import java.util.stream.Stream;

/**
 * Faults that the default parameters hide, wholly or nearly: each names the bench in another format
 * that has to see it.
 */
final class FormatFaults {
  private FormatFaults() {}

  /** Every fault, by unit. */
  static List<Fault> all() {
    return Stream.of(RECIPROCAL, SQUARE_ROOT, BOX, PLANE).flatMap(List::stream).toList();
  }

  private static final List<Fault> RECIPROCAL =
      new FaultsOf("reciprocal", "s32.0 exact", "reciprocal.sv")
          .fault(
              "shift-a-bit-short",
              PARAMETER,
              ANY_STREAM,
              "A shift of 64 or more loses its highest bit: not with more than one fraction bit.",
              "7'd0 : ShiftBase[6:0] - 7'(leading_s2_q);",
              "7'd0 : 7'(6'(ShiftBase[6:0] - 7'(leading_s2_q)));")
          .shownBy("reciprocal s12.20 exact")
          .fault(
              "far-overflow-ignored",
              PARAMETER,
              ANY_STREAM,
              "A quotient beyond 2^34 is shifted by what wraps: not with 17 fraction bits or less.",
              "assign far_over_s2 = ShiftBase[6:0] < 7'(leading_s2_q);",
              "assign far_over_s2 = 1'b0;")
          .fault(
              "dividend-doubled",
              PARAMETER,
              ANY_STREAM,
              "The remainder is taken of twice the dividend beyond 16 fraction bits.",
              "(2 * W)'(1) << (2 * F);",
              "(2 * W)'(1) << (2 * F > 32 ? 2 * F + 1 : 2 * F);")
          .shownBy("reciprocal s1.7 exact")
          .fault(
              "word-misaligned",
              PARAMETER,
              ANY_STREAM,
              "Words of less than 32 bits stand one place too low.",
              "assign aligned_s1 = 32'(magnitude_s1_q) << (32 - W);",
              "assign aligned_s1 = 32'(magnitude_s1_q) << (W < 32 ? 31 - W : 32 - W);")
          .all();

  private static final List<Fault> SQUARE_ROOT =
      new FaultsOf("square_root", "s17.15 exact", "square_root.sv")
          .fault(
              "even-radicand-halved",
              PARAMETER,
              ANY_STREAM,
              "A radicand that needs no bit to be even is halved.",
              "(2 * N)'(in_x[W-2:0]) << F;",
              "(2 * N)'(in_x[W-2:0]) << (F + 2 * N - W - F);")
          .in("orrery_pkg.svh")
          .fault(
              "size-rounded-up-twice",
              PARAMETER,
              ANY_STREAM,
              "A size that divides evenly gets one more: a stage more, and a cycle.",
              "ceil_div = (a + b - 1) / b;",
              "ceil_div = (a + b) / b;")
          .in("square_root.sv")
          .shownBy("square_root s16.16 exact nearest")
          .fault(
              "nearest-remainder-wraps",
              WIDTH,
              ANY_STREAM,
              "The remainder is compared without its highest bit, to round.",
              "stage[N+1].remainder_q > RemainderW'(stage[N+1].root_q);",
              "N'(stage[N+1].remainder_q) > stage[N+1].root_q;")
          .all();

  private static final List<Fault> BOX =
      new FaultsOf("box_pipeline", "s8.8 inverse s16.16 exact", "box_axis.sv")
          .fault(
              "product-of-two-words",
              PARAMETER,
              ANY_STREAM,
              "The product is as wide as if the inverse had the word's width.",
              "localparam int unsigned ProductW = W + INV_W;",
              "localparam int unsigned ProductW = 2 * W;")
          .shownBy("box_pipeline s16.16 inverse s2.16 exact")
          .fault(
              "point-in-the-middle",
              PARAMETER,
              ANY_STREAM,
              "The far plane's inverse is taken to have its point in the middle.",
              ".DROP  (INV_F),\n      .OUT_W (FlooredW)\n  ) multiply_max",
              ".DROP  (INV_W / 2),\n      .OUT_W (FlooredW)\n  ) multiply_max")
          .shownBy("box_pipeline s8.0 margin 0 exact")
          .fault(
              "saturates-a-code-late",
              SATURATION,
              ANY_STREAM,
              "The first code above the format wraps: one in 2^32 by default.",
              "if (value > FlooredW'(Highest)) saturate = Highest;",
              "if (value > FlooredW'(Highest) + FlooredW'(1)) saturate = Highest;")
          .in("box_pipeline.sv")
          .shownBy("box_pipeline s1.7 margin 255 exact")
          .fault(
              "margin-a-bit-short",
              PARAMETER,
              ANY_STREAM,
              "A margin of 128 or more loses its highest bit.",
              "ReachW'(exit_s7_q) + $signed(ReachW'(MARGIN));",
              "ReachW'(exit_s7_q) + $signed(ReachW'(7'(MARGIN)));")
          .all();

  private static final List<Fault> PLANE =
      new FaultsOf("plane_pipeline", "s16.16 slope s12.20 exact", "plane_pipeline.sv")
          .fault(
              "product-by-the-word",
              PARAMETER,
              ANY_STREAM,
              "The product is cut as if the inverse had the word's fraction bits.",
              ".DROP  (G + RF - 1),",
              ".DROP  (G + F - 1),")
          .fault(
              "inverse-by-the-word",
              PARAMETER,
              ANY_STREAM,
              "The slope's inverse is taken as if it had the word's fraction bits.",
              ".W(RW),\n      .F(RF)",
              ".W(RW),\n      .F(F)")
          .fault(
              "slope-by-the-word",
              PARAMETER,
              ANY_STREAM,
              "The slope is rounded to the word's fraction bits.",
              ".DROP (2 * DF - RF),",
              ".DROP (2 * DF - F),")
          .all();
}
