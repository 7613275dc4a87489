package dev.plumbline.samples.faults;

import static dev.plumbline.faults.Fault.Kind.DECISION;
import static dev.plumbline.faults.Fault.Kind.LATENCY;
import static dev.plumbline.faults.Fault.Kind.OPERAND;
import static dev.plumbline.faults.Fault.Kind.ORDER;
import static dev.plumbline.faults.Fault.Kind.RESET;
import static dev.plumbline.faults.Fault.Kind.SIGN;
import static dev.plumbline.faults.Fault.Kind.WIDTH;
import static dev.plumbline.faults.Fault.Shows.ANY_STREAM;
import static dev.plumbline.faults.Fault.Shows.BACK_TO_BACK;

import dev.plumbline.faults.Fault;
import java.util.List;

/** Faults of the scene executor in what it computes; those of its order and timing go before. */
final class SceneValueFaults {
  private SceneValueFaults() {}

  /** Every one of them. */
  static List<Fault> all() {
    return VALUES;
  }

  private static final List<Fault> VALUES =
      new FaultsOf("scene_executor", "s8.8 small", "list_stack.sv")
          .fault(
              "depth-one-less",
              WIDTH,
              ANY_STREAM,
              "The stack keeps one list less than it should: deepest nesting alone" + " shows it.",
              "lists_d = (lists_q << WIDTH) | (S * WIDTH)'(in_list);",
              "lists_d = (S * WIDTH)'(((S - 1) * WIDTH)'((lists_q << WIDTH) | (S *"
                  + " WIDTH)'(in_list)));")
          .in("span_nearest.sv")
          .fault(
              "start-is-a-hit",
              DECISION,
              ANY_STREAM,
              "A surface exactly at start counts (>= for >).",
              "$signed(distance) > in_start",
              "$signed(distance) >= in_start")
          .fault(
              "limit-is-a-hit",
              DECISION,
              ANY_STREAM,
              "A surface exactly at the limit counts (<= for <).",
              "$signed(distance) < in_limit",
              "$signed(distance) <= in_limit")
          .fault(
              "open-end-is-hit",
              DECISION,
              ANY_STREAM,
              "A span that goes on for ever has a surface at the highest code.",
              "&& $signed(distance) < in_limit && distance != Highest;",
              "&& ($signed(distance) < in_limit || (distance & in_limit) == Highest);")
          .fault(
              "inward-and-outward-swapped",
              OPERAND,
              ANY_STREAM,
              "Inward is set for entries.",
              "k % 2 == 1;",
              "k % 2 == 0;")
          .fault(
              "beyond-the-count",
              DECISION,
              ANY_STREAM,
              "A list's fields beyond its count are taken for surfaces, at 0.",
              "EndCountW'(k) < {in_count, 1'b0} &&",
              "(EndCountW'(k) < {in_count, 1'b0} || EndCountW'(k) == {in_count," + " 1'b0}) &&")
          .in("solid_pipelines.sv")
          .fault(
              "zero-length-is-a-span",
              DECISION,
              ANY_STREAM,
              "A solid that is only touched gives a span (> for >=).",
              "out_entry >= out_exit ||",
              "out_entry > out_exit ||")
          .fault(
              "negative-radius-is-a-sphere",
              SIGN,
              ANY_STREAM,
              "A sphere of negative radius about the origin's front counts as its" + " size.",
              "radius_negative_last_q);",
              "radius_negative_last_q && out_entry < W'(0));")
          .fault(
              "negative-box-is-empty",
              SIGN,
              ANY_STREAM,
              "A negative fourth operand empties boxes and half-spaces too.",
              "(sphere_valid && radius_negative_last_q);",
              "radius_negative_last_q;")
          .fault(
              "box-of-the-next-operation",
              LATENCY,
              BACK_TO_BACK,
              "The box's result comes a cycle early.",
              ".DEPTH(PlaneLatency - BoxLatency)",
              ".DEPTH(PlaneLatency - BoxLatency - 1)")
          .in("scene_context.sv")
          .fault(
              "target-off-by-one",
              OPERAND,
              ANY_STREAM,
              "A skip found to be taken goes on one word too far.",
              "early_address_q <= early_taken ? early_target :",
              "early_address_q <= early_taken ? early_target + A'(1) :")
          .fault(
              "fall-through-off-by-one",
              OPERAND,
              ANY_STREAM,
              "A skip found not to be taken is done again.",
              "early_target : early_own + A'(1);",
              "early_target : early_own;")
          .in("scene_retirement.sv")
          .fault(
              "tie-takes-the-later",
              DECISION,
              ANY_STREAM,
              "A surface as far as the best replaces it (<= for <).",
              "found_distance_q < best_distance_q);",
              "found_distance_q <= best_distance_q);")
          .fault(
              "beyond-the-best-by-one",
              DECISION,
              ANY_STREAM,
              "A box entered exactly MARGIN beyond the best hit is passed over (>= for >).",
              "(W + 1)'(in_entry) > best_reach_q;",
              "(W + 1)'(in_entry) >= best_reach_q;")
          .fault(
              "never-beyond-the-best",
              DECISION,
              ANY_STREAM,
              "No box is passed over for a nearer hit.",
              "assign taken  = in_early || beyond;",
              "assign taken  = in_early || (beyond && in_early);")
          .fault(
              "what-lies-behind-stays",
              DECISION,
              ANY_STREAM,
              "A span that ends exactly at start is kept.",
              "assign behind        = in_exit <= in_start;",
              "assign behind        = in_exit < in_start;")
          .fault(
              "face-of-the-entry-for-both",
              OPERAND,
              ANY_STREAM,
              "A box's exit tells the face of its entry.",
              "{in_exit_face, in_address, in_entry_face,",
              "{in_exit_face & 3'd0 | in_entry_face, in_address, in_entry_face,")
          .fault(
              "any-hit-does-not-stop",
              DECISION,
              ANY_STREAM,
              "The first surface found does not end the ray.",
              "close && in_any_hit && found_q",
              "close && in_any_hit && found_q && best_hit_q")
          .fault(
              "nearest-stops",
              DECISION,
              ANY_STREAM,
              "A ray that seeks its nearest surface ends with the second it finds.",
              "close && in_any_hit && found_q",
              "close && (in_any_hit || best_hit_q) && found_q")
          .fault(
              "best-kept-from-the-ray-before",
              RESET,
              ANY_STREAM,
              "A new ray begins with the best distance of the one before, until" + " reset.",
              "if (rst || clear) begin\n      best_hit_q",
              "if (rst) begin\n      best_hit_q")
          .fault(
              "overflow-not-sticky",
              RESET,
              ANY_STREAM,
              "Overflow lasts until the next operation.",
              "overflow_d = overflow_q ||",
              "overflow_d = (overflow_q && !retires) ||")
          .fault(
              "overflow-not-cleared",
              RESET,
              ANY_STREAM,
              "A new ray begins with the overflow of the one before.",
              "if (rst || clear) overflow_q",
              "if (rst) overflow_q")
          .fault(
              "surface-of-the-exit-missing",
              OPERAND,
              ANY_STREAM,
              "A solid's exit has surface 0.",
              "(Ends * Surface)'({in_exit_face, in_address, in_entry_face, in_address}),",
              "(Ends * Surface)'({in_exit_face & 3'd0, in_entry_face, in_address}),")
          .fault(
              "operands-swapped",
              OPERAND,
              ANY_STREAM,
              "The top list is the left operand.",
              """
                    .in_left_count    (below_count),
                    .in_left_distance (below_distance),
                    .in_left_surface (below_surface),
                    .in_left_reversed   (below_reversed),
                    .in_right_count   (top_count),
                    .in_right_distance(top_distance),
                    .in_right_surface(top_surface),
                    .in_right_reversed  (top_reversed),
              """,
              """
                    .in_left_count    (top_count),
                    .in_left_distance (top_distance),
                    .in_left_surface (top_surface),
                    .in_left_reversed   (top_reversed),
                    .in_right_count   (below_count),
                    .in_right_distance(below_distance),
                    .in_right_surface(below_surface),
                    .in_right_reversed  (below_reversed),
              """)
          .fault(
              "one-empty-is-both-empty",
              DECISION,
              ANY_STREAM,
              "A combination with one empty list is empty, and at once.",
              "top_count == '0 && below_count == '0;",
              "top_count == '0 || below_count == '0;")
          .fault(
              "empty-solid-not-pushed",
              ORDER,
              ANY_STREAM,
              "A solid that is missed puts no list on the stack.",
              "(retires && solid),",
              "(retires && solid && !in_empty),")
          .all();
}
