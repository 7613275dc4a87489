package dev.plumbline.samples.faults;

import static dev.plumbline.faults.Fault.Kind.COUNTER;
import static dev.plumbline.faults.Fault.Kind.DECISION;
import static dev.plumbline.faults.Fault.Kind.OPERAND;
import static dev.plumbline.faults.Fault.Kind.ORDER;
import static dev.plumbline.faults.Fault.Kind.RESET;
import static dev.plumbline.faults.Fault.Kind.SATURATION;
import static dev.plumbline.faults.Fault.Kind.SIGN;
import static dev.plumbline.faults.Fault.Kind.WIDTH;
import static dev.plumbline.faults.Fault.Shows.ANY_STREAM;
import static dev.plumbline.faults.Fault.Shows.ONE_CYCLE_RESET;

import dev.plumbline.faults.Fault;
import java.util.List;

/** The faults of the span combiner, as {@link Faults} has them for other units. */
final class SpanFaults {
  private SpanFaults() {}

  /** Every fault. */
  static List<Fault> all() {
    return SPANS;
  }

  private static final List<Fault> SPANS =
      new FaultsOf("span_combiner", "s16.16 exact", "span_combiner.sv")
          .fault(
              "surface-of-the-right-on-equal-ends",
              OPERAND,
              ANY_STREAM,
              "Where both lists have an end at one distance, the result's surface is"
                  + " the right one's.",
              "if (take_left) begin\n      end_distance",
              "if (take_left && !take_right) begin\n      end_distance")
          .fault(
              "equal-ends-one-by-one",
              ORDER,
              ANY_STREAM,
              "Equal ends act one after the other: a cycle more, and touching spans"
                  + " stay apart.",
              "right_next <= left_next);",
              "right_next < left_next);")
          .fault(
              "union-of-what-differs",
              DECISION,
              ANY_STREAM,
              "A union leaves out what both lists have.",
              "inside_result = left || right;",
              "inside_result = left != right;")
          .fault(
              "difference-of-the-other",
              OPERAND,
              ANY_STREAM,
              "A difference takes the left list from the right one.",
              "inside_result = left && !right;",
              "inside_result = !left && right;")
          .fault(
              "reversed-lost",
              DECISION,
              ANY_STREAM,
              "A difference does not turn the surfaces of what it cuts away.",
              "right_reversed[0] != (operation != Union && operation != Intersection);",
              "right_reversed[0];")
          .fault(
              "reversed-in-an-intersection",
              DECISION,
              ANY_STREAM,
              "An intersection turns the right one's surfaces as a difference does.",
              "right_reversed[0] != (operation != Union && operation != Intersection);",
              "right_reversed[0] != (operation != Union);")
          .fault(
              "reversed-only-once",
              DECISION,
              ANY_STREAM,
              "A surface that is cut away twice stays reversed.",
              "right_reversed[0] != (operation",
              "right_reversed[0] || (operation")
          .fault(
              "capacity-one-less",
              WIDTH,
              ANY_STREAM,
              "The last span of a full list is dropped.",
              "ends_before == EndCountW'(Ends);",
              "ends_before >= EndCountW'(Ends - 2);")
          .fault(
              "overflow-of-the-last-end-only",
              SATURATION,
              ANY_STREAM,
              "Overflow is set only where the last of all ends is dropped at a"
                  + " distance of its own.",
              "overflow_q <= 1'b1;",
              "overflow_q <= last && !take_left;")
          .fault(
              "distances-unsigned",
              SIGN,
              ANY_STREAM,
              "Negative distances count as the farthest.",
              "logic signed [        W-1:0] left_next;",
              "logic        [        W-1:0] left_next;")
          .fault(
              "ends-with-the-first-list",
              DECISION,
              ANY_STREAM,
              "The walk ends when one of the lists does.",
              "last        = left_after == '0 && right_after == '0;",
              "last        = left_after == '0 || right_after == '0;")
          .fault(
              "surface-left-over",
              RESET,
              ANY_STREAM,
              "Materials beyond the count are those of the result before.",
              "      surface_q <= '0;\n",
              "      surface_q <= surface_q;\n")
          .fault(
              "reset-leaves-busy",
              RESET,
              ONE_CYCLE_RESET,
              "A reset does not drop the lists in hand.",
              "if (rst) busy_q <= 1'b0;",
              "if (rst && !busy_q) busy_q <= 1'b0;")
          .fault(
              "counts-to-come-wrap",
              COUNTER,
              ANY_STREAM,
              "A list of as many spans as there can be counts for an empty one.",
              "assign left_to_come   = busy_q ? left_to_come_q : {in_left_count, 1'b0};",
              "assign left_to_come   = busy_q ? left_to_come_q"
                  + " : EndCountW'((EndCountW - 1)'({in_left_count, 1'b0}));")
          .all();
}
