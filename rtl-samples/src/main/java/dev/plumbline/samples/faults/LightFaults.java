package dev.plumbline.samples.faults;

import static dev.plumbline.faults.Fault.Kind.COUNTER;
import static dev.plumbline.faults.Fault.Kind.DECISION;
import static dev.plumbline.faults.Fault.Kind.LATENCY;
import static dev.plumbline.faults.Fault.Kind.OPERAND;
import static dev.plumbline.faults.Fault.Kind.ORDER;
import static dev.plumbline.faults.Fault.Kind.RESET;
import static dev.plumbline.faults.Fault.Kind.ROUNDING;
import static dev.plumbline.faults.Fault.Kind.SATURATION;
import static dev.plumbline.faults.Fault.Kind.SIGN;
import static dev.plumbline.faults.Fault.Kind.STALL;
import static dev.plumbline.faults.Fault.Kind.WIDTH;
import static dev.plumbline.faults.Fault.Shows.ANY_STREAM;
import static dev.plumbline.faults.Fault.Shows.STALLS;

import dev.plumbline.faults.Fault;
import java.util.List;
import java.util.stream.Stream;

/** Faults of the ray sequencer and of the frame controller, which are driven by hand. */
final class LightFaults {
  private LightFaults() {}

  /** Every fault, by unit. */
  static List<Fault> all() {
    return Stream.of(RAY_SEQUENCER, FRAME_CONTROLLER).flatMap(List::stream).toList();
  }

  private static final List<Fault> RAY_SEQUENCER =
      new FaultsOf("ray_sequencer", "by hand", "ray_sequencer.sv")
          .fault(
              "shadow-from-the-origin",
              OPERAND,
              ANY_STREAM,
              "Shadow rays begin where the ray before began.",
              "assign ray_origin    = shadow_q ? offset_origin : origin;",
              "assign ray_origin    = shadow_q ? origin : origin;")
          .fault(
              "mirror-of-a-mirror",
              DECISION,
              ANY_STREAM,
              "What a mirror shows is mirrored again.",
              "if (mirrored_q) step_d",
              "if (mirrored_q && !tinted) step_d")
          .in("ray_datapath.sv")
          .fault(
              "back-not-turned",
              SIGN,
              ANY_STREAM,
              "Surfaces seen from behind are lit as if from the front.",
              "&& done && vector_positive) begin",
              "&& done && vector_positive && mirrored) begin")
          .fault(
              "faces-of-another-axis",
              OPERAND,
              ANY_STREAM,
              "A box's faces across x and z are exchanged.",
              "face_q[2:1] == 2'(k)",
              "face_q[2:1] == 2'(2 - k)")
          .fault(
              "ambient-counted-twice",
              OPERAND,
              ANY_STREAM,
              "The lamp gives all of its light beside the ambient one.",
              "assign rest_of_light  = 9'd256 - ambient_within;",
              "assign rest_of_light  = 9'd256;")
          .fault(
              "offset-inwards",
              SIGN,
              ANY_STREAM,
              "Secondary rays begin beneath the surface.",
              "a    = A_W'($signed(epsilon));",
              "a    = -A_W'($signed(epsilon));")
          .in("ray_inverses.sv")
          .fault(
              "inverses-exchanged",
              ORDER,
              ANY_STREAM,
              "The inverses of y and z are asked for in the other order.",
              "2'd1:    unit_in = words[W+:W];",
              "2'd1:    unit_in = words[2*W+:W];")
          .and("2'd2:    unit_in = words[2*W+:W];", "2'd2:    unit_in = words[W+:W];")
          .fault(
              "steep-is-not-parallel",
              DECISION,
              ANY_STREAM,
              "An inverse of y that saturates is not flagged.",
              "          parallel_q[1]   <= unit_overflow;",
              "          parallel_q[1]   <= unit_zero;")
          .in("ray_datapath.sv")
          .fault(
              "down-goes-across",
              OPERAND,
              ANY_STREAM,
              "Rows differ by the step between columns.",
              "b = step_y[k*W+:W];",
              "b = step_x[k*W+:W];")
          .in("ray_sequencer.sv")
          .fault(
              "shadow-rays-exchanged",
              COUNTER,
              ANY_STREAM,
              "Shadow rays of the mirror count as those of the picture.",
              "if (mirrored_q) mirror_shadow_ray_q <= 1'b1;",
              "if (!mirrored_q) mirror_shadow_ray_q <= 1'b1;")
          .in("ray_datapath.sv")
          .fault(
              "shadow-inverted",
              DECISION,
              ANY_STREAM,
              "Light that nothing blocks is taken away.",
              "if (take && shadow && result_hit) share_q",
              "if (take && shadow && !result_hit) share_q")
          .fault(
              "dark-side-lit",
              SIGN,
              ANY_STREAM,
              "A share below 0 keeps its low bits.",
              "low < 0 ? 17'd0 : low > ShareOfOne",
              "low > ShareOfOne")
          .fault(
              "reflected-halfway",
              WIDTH,
              ANY_STREAM,
              "A reflection takes the product once instead of twice.",
              "a    = -(product_q <<< 1);",
              "a    = -product_q;")
          .fault(
              "radius-for-its-inverse",
              OPERAND,
              ANY_STREAM,
              "A sphere's normal is made longer by its radius, not shorter.",
              "b = surface_word[24+4*W+:W];",
              "b = surface_word[24+3*W+:W];")
          .fault(
              "mirror-from-the-eye",
              OPERAND,
              ANY_STREAM,
              "What a mirror shows is placed as if seen from the eye.",
              "          origin_q    <= offset_q;\n",
              "          origin_q    <= mirrored ? offset_q : origin_q;\n")
          .in("ray_sequencer.sv")
          .fault(
              "table-read-early",
              LATENCY,
              ANY_STREAM,
              "The table is read before the surface's word is there.",
              "assign table_read      = read_q;",
              "assign table_read      = surface_read;")
          .in("vector_unit.sv")
          .fault(
              "normal-saturates-early",
              SATURATION,
              ANY_STREAM,
              "Normals of a half and more wrap.",
              "rounded_s6_q[ValueW-1:DW-1] == {(ValueW - DW + 1) {negative}};",
              "rounded_s6_q[ValueW-1:DW-3] == {(ValueW - DW + 3) {negative}};")
          .in("ray_datapath.sv")
          .fault(
              "level-rounded",
              ROUNDING,
              ANY_STREAM,
              "The level of light is rounded to nearest instead of down.",
              "(I_W'(ambient_within) << 16) - I_W'(32768);",
              "I_W'(ambient_within) << 16;")
          .fault(
              "full-mirror-keeps-a-share",
              WIDTH,
              ANY_STREAM,
              "A full mirror keeps 1/256 of its own colour.",
              "9'(tint_q) + 9'(tint_q[7]);",
              "9'(tint_q);")
          .in("vector_unit.sv")
          .fault(
              "halves-rounded-down",
              ROUNDING,
              ANY_STREAM,
              "A value exactly between two codes goes to the lower one.",
              "half_of = drop > 0 ? ValueW'(1) << (drop - 1) : '0;",
              "half_of = drop > 0 ? (ValueW'(1) << (drop - 1)) - ValueW'(1) : '0;")
          .in("ray_datapath.sv")
          .fault(
              "share-in-whole-units",
              WIDTH,
              ANY_STREAM,
              "The share of light loses its lowest three bits.",
              "17'd65536 : low[16:0];",
              "17'd65536 : {low[16:3], 3'd0};")
          .in("ray_sequencer.sv")
          .fault(
              "tag-of-the-next-pixel",
              LATENCY,
              ANY_STREAM,
              "The colour comes with the tag that is on offer.",
              "assign colour_tag               = tag_q;",
              "assign colour_tag               = pixel_tag;")
          .all();

  private static final List<Fault> FRAME_CONTROLLER =
      new FaultsOf("frame_controller", "by hand", "frame_controller.sv")
          .fault(
              "colour-of-another-context",
              OPERAND,
              ANY_STREAM,
              "The place is of the context that gave it, the colour of the lowest.",
              "colour_tag[24*k+:24], colour[24*k+:24]",
              "colour_tag[24*k+:24], colour[0+:24]")
          .fault(
              "context-left-busy",
              RESET,
              ANY_STREAM,
              "A frame that is given up ends while contexts have pixels.",
              "StateDrain: if (in_hand_q == '0) state_d",
              "StateDrain: if (in_hand_q <= InHandW'(1)) state_d")
          .fault(
              "given-up-yet-given",
              DECISION,
              ANY_STREAM,
              "Colours are given on after the frame was given up.",
              "collects && state_q == StateDrain;",
              "collects && state_q == StateDrain && in_hand_q == InHandW'(CONTEXTS + 1);")
          .fault(
              "done-before-the-last",
              DECISION,
              ANY_STREAM,
              "The frame is done with the first pixel after the last was handed out.",
              "takes && all_out_q && in_hand_q == InHandW'(1);",
              "takes && all_out_q && in_hand_q != '0;")
          .fault(
              "restarted-while-busy",
              DECISION,
              ANY_STREAM,
              "A start while busy begins the frame again.",
              "start && !abort_frame && state_q == StateIdle;",
              "start && !abort_frame && state_q != StateDrain;")
          .fault(
              "rows-a-pixel-long",
              WIDTH,
              ANY_STREAM,
              "Rows have a pixel more.",
              "      x_q <= x_q == width_less_1 ?",
              "      x_q <= x_q > width_less_1 ?")
          .and("      if (x_q == width_less_1) begin", "      if (x_q > width_less_1) begin")
          .fault(
              "stalled-pixel-lost",
              STALL,
              STALLS,
              "A pixel on offer is replaced by the next.",
              "assign offer_free    = !pixel_valid || pixel_ready || state_q == StateDrain;",
              "assign offer_free    = 1'b1;")
          .fault(
              "shadow-rays-of-all-frames",
              COUNTER,
              ANY_STREAM,
              "Shadow rays are counted on from frame to frame.",
              "      shadow_q        <= '0;\n",
              "      shadow_q        <= shadow_q;\n")
          .fault(
              "start-not-counted",
              COUNTER,
              ANY_STREAM,
              "A frame's cycles lack the one with start.",
              "cycles_q        <= 32'd2;",
              "cycles_q        <= 32'd1;")
          .fault(
              "colours-taken-together",
              ORDER,
              ANY_STREAM,
              "Of several colours in one cycle all are taken, and mixed.",
              "assign colour_ready  = offer_free ? colour_valid & (~colour_valid + CONTEXTS'(1)) :"
                  + " '0;",
              "assign colour_ready  = offer_free ? colour_valid : '0;")
          .all();
}
