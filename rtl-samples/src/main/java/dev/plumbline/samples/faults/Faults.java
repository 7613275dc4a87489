package dev.plumbline.samples.faults;

import static dev.plumbline.faults.Fault.Kind.DECISION;
import static dev.plumbline.faults.Fault.Kind.LATENCY;
import static dev.plumbline.faults.Fault.Kind.MEMORY;
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
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * The faults that the regression must catch, from gross to one code in 2^32.
 *
 * <p>Each copy lints as clean as the original, so nothing but its results gives it away. "Uniform"
 * below means operands drawn uniformly from all codes at default parameters.
 */
final class Faults {
  private Faults() {}

  /** Every fault, by unit. */
  static List<Fault> all() {
    return Stream.of(
            RECIPROCAL,
            SQUARE_ROOT,
            BOX,
            SolidFaults.all(),
            WalkerFaults.all(),
            FormatFaults.all(),
            EndFaults.all(),
            SharedFaults.all(),
            SpanFaults.all(),
            SceneFaults.all(),
            SceneStreamFaults.all())
        .flatMap(List::stream)
        .toList();
  }

  /**
   * A small sample of them: one of each unit, one of each kind, and one that shows under each kind
   * of stream. The one that adds most comes next.
   */
  static List<Fault> sample() {
    List<Fault> sample = new ArrayList<>();
    Set<Object> seen = new HashSet<>();
    Comparator<Fault> adds =
        Comparator.comparingLong(
            fault -> marks(fault).filter(mark -> !seen.contains(mark)).count());
    while (!all().stream().flatMap(Faults::marks).allMatch(seen::contains)) {
      // Of several that add the same, max takes the last and reverse makes that the first.
      List<Fault> lastFirst = new ArrayList<>(all());
      Collections.reverse(lastFirst);
      Fault next = lastFirst.stream().max(adds).orElseThrow();
      sample.add(next);
      marks(next).forEach(seen::add);
    }
    return List.copyOf(sample);
  }

  private static Stream<Object> marks(Fault fault) {
    return Stream.of(unit(fault), fault.kind(), fault.shows());
  }

  /**
   * All where {@code -Dplumbline.everyFault=true}, as every night, or those of whose names {@code
   * -Dplumbline.faults=} finds a part by a regular expression; else a sample.
   */
  static List<Fault> chosen() {
    Pattern wanted = Pattern.compile(System.getProperty("plumbline.faults", ""));
    return Boolean.getBoolean("plumbline.everyFault")
        ? all().stream().filter(fault -> wanted.matcher(fault.name()).find()).toList()
        : sample();
  }

  /** The unit whose bench has to see a fault. */
  static String unit(Fault fault) {
    return fault.bench().substring(0, fault.bench().indexOf(' '));
  }

  private static final List<Fault> RECIPROCAL =
      new FaultsOf("reciprocal", "s16.16 exact", "reciprocal.sv")
          .fault(
              "correction-missing",
              ROUNDING,
              ANY_STREAM,
              "The quotient is never corrected upwards.",
              "(W + 1)'(remainder_s19_q >= divisor_s19)",
              "(W + 1)'(remainder_s19_q >= 2 * divisor_s19)")
          .fault(
              "saturation-missing",
              SATURATION,
              ANY_STREAM,
              "A quotient beyond the format wraps; the flag is right. 0 excepted, two codes in"
                  + " 2^32.",
              "over_s20 ? limit_s20[W-1:0]",
              "over_s20 && zero_s20_q ? limit_s20[W-1:0]")
          .fault(
              "most-negative-refused",
              SATURATION,
              ANY_STREAM,
              "Saturates negative results one code early: in_x = -1 and -2.",
              "{2'b01, {(W - 1) {1'b0}}} :",
              "{2'b00, {(W - 1) {1'b1}}} :")
          .fault(
              "most-negative-is-zero",
              DECISION,
              ANY_STREAM,
              "Takes the most negative code for 0: one code in 2^32.",
              "in_bits == '0;",
              "in_bits[W-2:0] == '0;")
          .fault(
              "zero-without-overflow",
              DECISION,
              ANY_STREAM,
              "Division by 0 raises no overflow.",
              "zero_s20_q || over_s20;",
              "!zero_s20_q && over_s20;")
          .fault(
              "rounded-to-nearest",
              ROUNDING,
              ANY_STREAM,
              "The quotient is rounded to nearest instead of towards zero.",
              "(W + 1)'(remainder_s19_q >= divisor_s19)",
              "(W + 1)'(2 * remainder_s19_q >= divisor_s19)")
          .fault(
              "shift-off-by-one",
              WIDTH,
              ANY_STREAM,
              "The quotient is half of what it should be, but for the correction.",
              "ShiftBase = 34 + W - 2 * F;",
              "ShiftBase = 35 + W - 2 * F;")
          .fault(
              "seed-of-the-next-case",
              LATENCY,
              BACK_TO_BACK,
              "The first estimate takes the following cycle's seed.",
              ".DEPTH(3)\n  ) delay_seed",
              ".DEPTH(2)\n  ) delay_seed")
          .fault(
              "flags-of-the-next-case",
              LATENCY,
              BACK_TO_BACK,
              "Sign and zero come from the following cycle.",
              ".DEPTH(19)",
              ".DEPTH(18)")
          .fault(
              "valid-a-cycle-early",
              LATENCY,
              ANY_STREAM,
              "Latency is declared one short, so valid comes a cycle before its result.",
              "localparam int unsigned Latency = orrery_pkg::reciprocal_latency();",
              "localparam int unsigned Latency = orrery_pkg::reciprocal_latency() - 1;")
          .fault(
              "result-a-cycle-late",
              LATENCY,
              ANY_STREAM,
              "Every output is right, one cycle too late.",
              """
                assign out_valid    = valid_q[Latency];
                assign out_y        = y_s21_q;
                assign out_zero     = zero_s21_q;
                assign out_overflow = overflow_s21_q;
              """,
              """
                always_ff @(posedge clk) begin
                  out_valid    <= valid_q[Latency] && !rst;
                  out_y        <= y_s21_q;
                  out_zero     <= zero_s21_q;
                  out_overflow <= overflow_s21_q;
                end
              """)
          .fault(
              "reset-misses-stage-6",
              RESET,
              ONE_CYCLE_RESET,
              "The case that enters stage 6 during a reset survives; a longer reset hides it.",
              "if (rst) valid_q <= '0;",
              "if (rst) valid_q <= Latency'(valid_q[5]) << 5;")
          .in("reciprocal_seed_pkg.svh")
          .fault(
              "table-entry-wrong",
              MEMORY,
              ANY_STREAM,
              "Entry 100 has a wrong high bit: one mantissa in 256.",
              "8'd100: seed = 11'd1471;",
              "8'd100: seed = 11'd1215;")
          .fault(
              "table-entry-nearly-right",
              MEMORY,
              ANY_STREAM,
              "Entry 100 is off by 1/32, which two Newton steps heal but for small codes.",
              "8'd100: seed = 11'd1471;",
              "8'd100: seed = 11'd1439;")
          .all();

  private static final List<Fault> SQUARE_ROOT =
      new FaultsOf("square_root", "s16.16 exact", "square_root.sv")
          .fault(
              "digit-compare",
              DECISION,
              ANY_STREAM,
              "One stage misses an exact fit (> for >=): odd perfect squares, one code in 185,000.",
              "assign fits         = !difference[TrialW];",
              "assign fits = !difference[TrialW] && (k != W / 2 + 1 || difference != '0);")
          .fault(
              "remainder-carry-dropped",
              WIDTH,
              ANY_STREAM,
              "Remainders lose their two highest bits, which only the last stages use.",
              "RemainderW'(fits ? difference[TrialW-1:0] : brought_down)",
              "RemainderW'((N - 1)'(fits ? difference[TrialW-1:0] : brought_down))")
          .fault(
              "shift-off-by-one",
              WIDTH,
              ANY_STREAM,
              "The radicand is twice what it should be.",
              "(2 * N)'(in_x[W-2:0]) << F;",
              "(2 * N)'(in_x[W-2:0]) << (F + 1);")
          .fault(
              "negative-not-zeroed",
              SIGN,
              ANY_STREAM,
              "A negative number gives the root of its lower bits; the flag is right.",
              "in_x[W-1] ? '0 :",
              "1'b0 ? '0 :")
          .fault(
              "negative-of-the-next-case",
              LATENCY,
              BACK_TO_BACK,
              "The flag comes from the following cycle.",
              ".DEPTH(N)",
              ".DEPTH(N - 1)")
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
          .fault(
              "valid-a-cycle-early",
              LATENCY,
              ANY_STREAM,
              "Latency is declared one short, so valid comes a cycle before its result.",
              "Latency = orrery_pkg::square_root_latency(W, F);",
              "Latency = orrery_pkg::square_root_latency(W, F) - 1;")
          .fault(
              "case-counted-twice",
              LATENCY,
              BUBBLES,
              "After two cases that follow a bubble there is a valid bit without a case.",
              "{valid_q[Latency-1:1], in_valid};",
              "{valid_q[Latency-1:1], in_valid || valid_q[3:1] == 3'b011};")
          .all();

  private static final List<Fault> BOX =
      new FaultsOf("box_pipeline", "s16.16 exact", "box_pipeline.sv")
          .fault(
              "exit-takes-another-axis",
              OPERAND,
              ANY_STREAM,
              "Where y is left first, the exit of z is taken in its place.",
              "x_leaves_first ? far_x_s5_q : far_y_s5_q;",
              "x_leaves_first ? far_x_s5_q : far_z_s5_q;")
          .fault(
              "hit-compare",
              DECISION,
              ANY_STREAM,
              "A ray that just touches is missed (< for <=): entry equal to the widened exit.",
              "ReachW'(entry_s7_q) <= widened_s7",
              "ReachW'(entry_s7_q) < widened_s7")
          .fault(
              "exit-sign-lost",
              SIGN,
              ANY_STREAM,
              "The widened exit is extended without its sign: boxes behind the ray are hit.",
              "ReachW'(exit_s7_q) + $signed",
              "$signed({1'b0, exit_s7_q}) + $signed")
          .fault(
              "entry-blind-to-last-place",
              DECISION,
              ANY_STREAM,
              "Entries that differ in the LSB alone count as equal.",
              "= entry_xy_s6_q >= near_z_s6_q;",
              "= (entry_xy_s6_q >>> 1) >= (near_z_s6_q >>> 1);")
          .fault(
              "near-z-stale",
              LATENCY,
              BUBBLES,
              "The register is loaded by the valid bit of a stage before, so a bubble leaves it"
                  + " with an older ray's value.",
              "near_z_s6_q        <= near_z_s5_q;",
              "if (valid_q[4]) near_z_s6_q <= near_z_s5_q;")
          .fault(
              "everything-a-cycle-early",
              LATENCY,
              ANY_STREAM,
              "Every output is right, one cycle too early.",
              """
                always_ff @(posedge clk) begin
                  hit_s8_q        <= ReachW'(entry_s7_q) <= widened_s7 && !widened_s7[ReachW-1];
                  entry_s8_q      <= entry_s7_q;
                  exit_s8_q       <= exit_s7_q;
                  entry_face_s8_q <= entry_face_s7_q;
                  exit_face_s8_q  <= exit_face_s7_q;
                end
              """,
              """
                always_comb begin
                  hit_s8_q        = ReachW'(entry_s7_q) <= widened_s7 && !widened_s7[ReachW-1];
                  entry_s8_q      = entry_s7_q;
                  exit_s8_q       = exit_s7_q;
                  entry_face_s8_q = entry_face_s7_q;
                  exit_face_s8_q  = exit_face_s7_q;
                end
              """)
          .and("Latency = orrery_pkg::box_latency();", "Latency = orrery_pkg::box_latency() - 1;")
          .fault(
              "reset-invents-a-case",
              RESET,
              ONE_CYCLE_RESET,
              "Each reset leaves a valid bit on its way.",
              "if (rst) valid_q <= '0;",
              "if (rst) valid_q <= Latency'(1) << 2;")
          .in("box_axis.sv")
          .fault(
              "near-and-far-swapped",
              ORDER,
              ANY_STREAM,
              "Near is the later of the two crossings.",
              "t_max_s4_q < t_min_s4_q;",
              "t_min_s4_q < t_max_s4_q;")
          .fault(
              "borrow-dropped",
              WIDTH,
              ANY_STREAM,
              "The distance to the far plane wraps at W bits: only where it needs one more.",
              "DifferenceW'(in_max) - DifferenceW'(in_origin)",
              "DifferenceW'($signed(in_max[W-1:0] - in_origin[W-1:0]))")
          .fault(
              "face-counts-as-outside",
              DECISION,
              ANY_STREAM,
              "A parallel ray in the lower plane is outside (< for <=).",
              "to_min_s1_q <= DifferenceW'(0)",
              "to_min_s1_q < DifferenceW'(0)")
          .fault(
              "parallel-ignored-inside",
              DECISION,
              ANY_STREAM,
              "A parallel ray between the planes is treated as if its inverse meant something.",
              "if (parallel_s4_q) begin",
              "if (parallel_s4_q && !inside_s4_q) begin")
          .fault(
              "saturation-missing",
              SATURATION,
              ANY_STREAM,
              "A distance below the format wraps.",
              "else if (value < FlooredW'(Lowest)) saturate = Lowest;",
              "else if (value < FlooredW'(Lowest)) saturate = W'(value);")
          .fault(
              "inverse-of-the-next-ray",
              LATENCY,
              BACK_TO_BACK,
              "The far plane is multiplied by the following cycle's inverse.",
              ".in_a       (to_max_s1_q),\n      .in_b       (inverse_s1_q),",
              ".in_a       (to_max_s1_q),\n      .in_b       (in_inverse),")
          .in("split_multiply.sv")
          .fault(
              "rounded-towards-zero",
              ROUNDING,
              ANY_STREAM,
              "Negative distances are rounded towards zero: one LSB, mostly.",
              "OUT_W'(sum[DigitsA*DigitsB-1].total >>> DROP);",
              """
              OUT_W'((sum[DigitsA*DigitsB-1].total + (sum[DigitsA*DigitsB-1].total < 0
                      ? (SumW'(1) <<< DROP) - SumW'(1) : SumW'(0))) >>> DROP);\
              """)
          .all();
}
