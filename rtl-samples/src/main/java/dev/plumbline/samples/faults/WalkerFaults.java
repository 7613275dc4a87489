package dev.plumbline.samples.faults;

import static dev.plumbline.faults.Fault.Kind.COUNTER;
import static dev.plumbline.faults.Fault.Kind.DECISION;
import static dev.plumbline.faults.Fault.Kind.OPERAND;
import static dev.plumbline.faults.Fault.Kind.RESET;
import static dev.plumbline.faults.Fault.Kind.SATURATION;
import static dev.plumbline.faults.Fault.Kind.SIGN;
import static dev.plumbline.faults.Fault.Kind.STALL;
import static dev.plumbline.faults.Fault.Kind.WIDTH;
import static dev.plumbline.faults.Fault.Shows.ANY_STREAM;
import static dev.plumbline.faults.Fault.Shows.BACK_TO_BACK;
import static dev.plumbline.faults.Fault.Shows.ONE_CYCLE_RESET;
import static dev.plumbline.faults.Fault.Shows.STALLS;

import dev.plumbline.faults.Fault;
import java.util.List;

/**
 * Faults of the sphere that is walked through one multiplier. A reference that knows the formats
 * and not the insides has to see each of them: none hides within one rounding an operation.
 */
final class WalkerFaults {
  private WalkerFaults() {}

  /** Every fault. */
  static List<Fault> all() {
    return ALL;
  }

  private static final List<Fault> ALL =
      new FaultsOf("sphere_walker", "s16.16 bounded", "sphere_walker.sv")
          .fault(
              "result-dropped",
              STALL,
              STALLS,
              "A hit that the consumer does not take at once is lost.",
              "StateAnswer:   if (out_ready) state_d = StateIdle;",
              "StateAnswer:   if (out_ready || out_hit) state_d = StateIdle;")
          .fault(
              "result-changes",
              STALL,
              STALLS,
              "Entry and exit change places while the result stalls.",
              "      exit_q   <= to_word(leave);\n    end",
              """
                    exit_q   <= to_word(leave);
                  end else if (out_valid && !out_ready) begin
                    entry_q <= exit_q;
                    exit_q  <= entry_q;
                  end\
              """)
          .fault(
              "accepts-while-busy",
              STALL,
              BACK_TO_BACK,
              "Says that it takes a case in the clock before each result, and forgets it.",
              "assign in_ready = state_q == StateIdle;\n  assign taken    = in_valid && in_ready;",
              """
              assign in_ready = state_q == StateIdle || state_q == StateDistance;
                assign taken    = in_valid && state_q == StateIdle;\
              """)
          .fault(
              "next-case-overwrites",
              STALL,
              BACK_TO_BACK,
              "A case that waits to be taken already replaces the operands of the one in hand.",
              "    if (taken) begin\n      offset_x_q ",
              "    if (in_valid) begin\n      offset_x_q ")
          .fault(
              "hit-left-over",
              RESET,
              ANY_STREAM,
              "A miss after a hit is reported with that hit's flags and distances.",
              "if (taken) begin  // a miss has nothing to add",
              "if (taken && !hit_q) begin")
          .fault(
              "remainder-left-over",
              RESET,
              ANY_STREAM,
              "A root begins with what remained of the one before.",
              "      remainder_q <= '0;\n",
              "")
          .fault(
              "root-a-step-short",
              COUNTER,
              ANY_STREAM,
              "The root ends one digit early and is half of what it should be.",
              "StateAdd:   steps_left_q <= CountW'(P - 1);",
              "StateAdd:   steps_left_q <= CountW'(P - 2);")
          .fault(
              "direction-sign-lost",
              SIGN,
              ANY_STREAM,
              "The projection takes every direction component as positive.",
              "minus_d      = (axis_offset < 0) != (axis_direction < 0);",
              "minus_d      = axis_offset < 0;")
          .fault(
              "wrong-square",
              OPERAND,
              ANY_STREAM,
              "The squared distance counts one axis with direction in place of offset.",
              "end else if (!term_q[2]) begin",
              "end else if (!term_q[2] || term_q == 3'd5) begin")
          .fault(
              "miss-ahead",
              DECISION,
              ANY_STREAM,
              "The early way out is taken for spheres ahead, not for those behind.",
              "term_q == LastOfSquares && projection_q[P]",
              "term_q == LastOfSquares && projection_q > 0")
          .fault(
              "negative-radius-hits",
              SIGN,
              ANY_STREAM,
              "The lower half of the negative radii is used without the sign.",
              "state_d = in_radius < 0 ? StateAnswer : StateFetch;",
              "state_d = in_radius < 0 && in_radius[W-2] ? StateAnswer : StateFetch;")
          .fault(
              "borrow-dropped",
              WIDTH,
              ANY_STREAM,
              "The offset along z wraps at W bits: only where it needs one more.",
              "OffsetW'(in_centre_z) - OffsetW'(in_origin_z)",
              "OffsetW'($signed(W'(in_centre_z - in_origin_z)))")
          .fault(
              "saturation-missing",
              SATURATION,
              ANY_STREAM,
              "A distance beyond the format wraps.",
              "to_word = {1'b0, {(W - 1) {1'b1}}};",
              "to_word = W'(floored);")
          .fault(
              "reset-leaves-busy",
              RESET,
              ONE_CYCLE_RESET,
              "A reset does not drop the case in hand, which is answered although nobody waits.",
              "if (rst) state_q <= StateIdle;",
              "if (rst && state_q == StateAnswer) state_q <= StateIdle;")
          .fault(
              "starts-what-it-has-not-taken",
              STALL,
              STALLS,
              "A case that waits as a result is taken is begun without being accepted.",
              "StateAnswer:   if (out_ready) state_d = StateIdle;",
              "StateAnswer:   if (out_ready) state_d = in_valid ? StateFetch : StateIdle;")
          .fault(
              "result-withdrawn",
              STALL,
              STALLS,
              "A result that is not taken at once is gone when another case waits.",
              "StateAnswer:   if (out_ready) state_d = StateIdle;",
              "StateAnswer:   if (out_ready || in_valid) state_d = StateIdle;")
          .fault(
              "counter-a-bit-short",
              COUNTER,
              ANY_STREAM,
              "The counter of steps has too few bits for those of the root.",
              "CountW = $clog2(P);",
              "CountW = $clog2(P) - 1;")
          .all();
}
