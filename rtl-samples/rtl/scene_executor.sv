// Purpose   runs a scene, written as a program, for one ray at a time: what the ray meets first
// Equation  operations of scene_pkg, from address 0 to an end: begin, solids and combinations on a
//           stack of span lists and close for each object; skip over objects where a box is missed,
//           or entered more than MARGIN beyond limit or the best hit so far
// Ports     load_*       writes the program; between rays, asserted
//           ray_*        origin, start, limit: signed, W bits with F fraction bits; direction:
//                        signed, DW bits with DF fraction bits, of unit length; inverse and
//                        parallel: of the direction, as box_pipeline has them with INV_W = W,
//                        INV_F = F; an axis whose inverse is the highest or lowest code is taken
//                        as parallel as well, which moves the ray by at most 2 LSB of the direction
//                        times the distance. Surfaces count strictly beyond start (below 0: taken
//                        as 0) and strictly nearer than limit. any_hit: the ray ends at the first
//                        close that finds one. tag: comes back with the result
//           result_*     the nearest surface of those found (hit 0 and the others 0 without one):
//                        distance as start; address: of its solid in the program; face: of a box as
//                        box_pipeline has it, 0 of others; inward: seen from inside; reversed: of a
//                        solid cut away, so that its normal is reversed; with any_hit only whether
//                        there is one. overflow: a list was cut to C spans. cycles: from acceptance
//                        to the last retirement, both included; operations retired; skips predicted
//                        right and wrong: 32 bits, wrapping
//           retire_*     a pulse for each operation in the cycle in which it retires, as
//                        scene_retirement has it
//           surface_*    looks a word of the program up for who shades: the word is there from the
//                        cycle after one with surface_read and without load_valid until the next
// Flow      ray and result: valid and ready; a result stands still until it is taken, the next ray is
//           accepted in the cycle after. The retirement port cannot be held back
// Program   objects balanced, at most S lists, one at close; skips between objects, forwards, to
//           between objects; an end last. Lists are asserted; without assertions another program
//           gives another picture, or never ends until a reset. What of a solid lies behind start uses up no span
// Timing    in cycles from the ray's acceptance in cycle 0, D = W + 22:
//             dispatch    first in 2, then one a cycle, but 2 cycles after a skip predicted taken;
//                         only while fewer than Q are dispatched and not retired or dropped
//             arrival     D after dispatch
//             retirement  at arrival or in the cycle after the one before, whichever is later;
//                         later by n for a combination, n distinct distances in both lists, and
//                         by 1 for a close
//             skip        known early 10 after its dispatch d, by slab test and limit: where that
//                         is not the prediction, operations of d + 1 and later vanish and the next
//                         dispatch is in d + 12. Known late, in its retirement e, whether the best
//                         hit is nearer: younger operations vanish, nothing retires in e + 1, the
//                         next dispatch is in e + 3. The late one takes precedence
//             prediction  in cycle c by what retired in c - 2 and before
//             result      offered in the second cycle after the last retirement
//           ray_abort: the ray in hand or its result is gone from the next cycle on, as is a ray that
//           is accepted in that cycle; ray_ready is high from the second cycle after
//           A cycle with reset drops the ray in hand and forgets all predictions; the program stays
// Source    as the units; prediction as skip_predictor

`default_nettype none

module scene_executor #(
    parameter int unsigned W      = 32,  // word bits, 10 to 32
    parameter int unsigned F      = 16,  // fraction bits, 0 to W-1, at most 2 DF
    parameter int unsigned DW     = 18,  // direction and normal bits, 8 to W
    parameter int unsigned DF     = 16,  // direction and normal fraction bits, 4 to DW-1
    parameter int unsigned MARGIN = 64,  // of the slab test, 0 to 255
    parameter int unsigned TAG    = 4,   // bits of a ray's tag, 1 to 32
    parameter int unsigned C      = 4,   // most spans in a list, 1 to 16
    parameter int unsigned S      = 4,   // most lists, 1 to 16
    parameter int unsigned A      = 10,  // address bits of the program, 1 to 12
    parameter int unsigned P      = 4,   // address bits that choose a prediction, 1 to 8 and to A
    parameter int unsigned Q      = 64   // operations dispatched and not retired, 2 to 1024
) (
    input logic clk,
    input logic rst,    // synchronous, active high
    input logic ray_abort,  // drops the ray in hand

    // program
    input logic              load_valid,
    input logic [     A-1:0] load_address,
    input logic [24+6*W-1:0] load_word,

    // input stream
    input  logic                 ray_valid,
    output logic                 ray_ready,
    input  logic signed [ W-1:0] ray_origin_x,
    input  logic signed [ W-1:0] ray_origin_y,
    input  logic signed [ W-1:0] ray_origin_z,
    input  logic signed [DW-1:0] ray_direction_x,
    input  logic signed [DW-1:0] ray_direction_y,
    input  logic signed [DW-1:0] ray_direction_z,
    input  logic signed [ W-1:0] ray_inverse_x,
    input  logic signed [ W-1:0] ray_inverse_y,
    input  logic signed [ W-1:0] ray_inverse_z,
    input  logic                 ray_parallel_x,
    input  logic                 ray_parallel_y,
    input  logic                 ray_parallel_z,
    input  logic signed [ W-1:0] ray_start,
    input  logic signed [ W-1:0] ray_limit,
    input  logic                 ray_any_hit,
    input  logic        [TAG-1:0] ray_tag,

    // output stream
    output logic                result_valid,
    input  logic                result_ready,
    output logic                result_hit,
    output logic signed [W-1:0] result_distance,
    output logic        [A-1:0] result_address,
    output logic        [  2:0] result_face,
    output logic                result_reversed,
    output logic                result_inward,
    output logic                result_overflow,
    output logic        [TAG-1:0] result_tag,
    output logic        [ 31:0] result_cycles,
    output logic        [ 31:0] result_operations,
    output logic        [ 31:0] result_predicted_right,
    output logic        [ 31:0] result_predicted_wrong,

    // retirement port
    output logic                          retire_valid,
    output logic        [          A-1:0] retire_address,
    output logic        [            3:0] retire_operation,
    output logic                          retire_taken,
    output logic        [$clog2(S+1)-1:0] retire_height,
    output logic        [$clog2(C+1)-1:0] retire_count,
    output logic        [      2*C*W-1:0] retire_distance,
    output logic        [  2*C*(A+3)-1:0] retire_surface,
    output logic        [        2*C-1:0] retire_reversed,
    output logic                          retire_best_hit,
    output logic signed [          W-1:0] retire_best_distance,
    output logic        [          A+2:0] retire_best_surface,
    output logic                          retire_best_reversed,
    output logic                          retire_best_inward,
    output logic                          retire_overflow,

    // surface port
    input  logic              surface_read,
    input  logic [     A-1:0] surface_address,
    output logic [24+6*W-1:0] surface_word
);

  if (W < 10 || W > 32) begin : g_word_range
    $error("scene_executor: W must be 10 to 32");
  end
  if (F > W - 1 || F > 2 * DF) begin : g_fraction_range
    $error("scene_executor: F must be 0 to W-1 and at most 2 DF");
  end
  if (DW < 8 || DW > W) begin : g_direction_word_range
    $error("scene_executor: DW must be 8 to W");
  end
  if (DF < 4 || DF > DW - 1) begin : g_direction_fraction_range
    $error("scene_executor: DF must be 4 to DW-1");
  end
  if (MARGIN > 255) begin : g_margin_range
    $error("scene_executor: MARGIN must be 0 to 255");
  end
  if (TAG < 1 || TAG > 32) begin : g_tag_range
    $error("scene_executor: TAG must be 1 to 32");
  end
  if (C < 1 || C > 16) begin : g_spans_range
    $error("scene_executor: C must be 1 to 16");
  end
  if (S < 1 || S > 16) begin : g_lists_range
    $error("scene_executor: S must be 1 to 16");
  end
  if (A < 1 || A > 12) begin : g_address_range
    $error("scene_executor: A must be 1 to 12");
  end
  if (P < 1 || P > 8 || P > A) begin : g_prediction_range
    $error("scene_executor: P must be 1 to 8 and at most A");
  end
  if (Q < 2 || Q > 1024) begin : g_queue_range
    $error("scene_executor: Q must be 2 to 1024");
  end

  scene_contexts #(
      .N     (1),
      .W     (W),
      .F     (F),
      .DW    (DW),
      .DF    (DF),
      .MARGIN(MARGIN),
      .TAG   (TAG),
      .C     (C),
      .S     (S),
      .A     (A),
      .P     (P),
      .Q     (Q)
  ) contexts (
      .clk                   (clk),
      .rst                   (rst),
      .ray_abort             (ray_abort),
      .load_valid            (load_valid),
      .load_address          (load_address),
      .load_word             (load_word),
      .surface_read          (surface_read),
      .surface_address       (surface_address),
      .surface_word          (surface_word),
      .ray_valid             (ray_valid),
      .ray_ready             (ray_ready),
      .ray_origin_x          (ray_origin_x),
      .ray_origin_y          (ray_origin_y),
      .ray_origin_z          (ray_origin_z),
      .ray_direction_x       (ray_direction_x),
      .ray_direction_y       (ray_direction_y),
      .ray_direction_z       (ray_direction_z),
      .ray_inverse_x         (ray_inverse_x),
      .ray_inverse_y         (ray_inverse_y),
      .ray_inverse_z         (ray_inverse_z),
      .ray_parallel_x        (ray_parallel_x),
      .ray_parallel_y        (ray_parallel_y),
      .ray_parallel_z        (ray_parallel_z),
      .ray_start             (ray_start),
      .ray_limit             (ray_limit),
      .ray_any_hit           (ray_any_hit),
      .ray_tag               (ray_tag),
      .result_valid          (result_valid),
      .result_ready          (result_ready),
      .result_hit            (result_hit),
      .result_distance       (result_distance),
      .result_address        (result_address),
      .result_face           (result_face),
      .result_reversed       (result_reversed),
      .result_inward         (result_inward),
      .result_overflow       (result_overflow),
      .result_tag            (result_tag),
      .result_cycles         (result_cycles),
      .result_operations     (result_operations),
      .result_predicted_right(result_predicted_right),
      .result_predicted_wrong(result_predicted_wrong),
      .retire_valid          (retire_valid),
      .retire_address        (retire_address),
      .retire_operation      (retire_operation),
      .retire_taken          (retire_taken),
      .retire_height         (retire_height),
      .retire_count          (retire_count),
      .retire_distance       (retire_distance),
      .retire_surface        (retire_surface),
      .retire_reversed       (retire_reversed),
      .retire_best_hit       (retire_best_hit),
      .retire_best_distance  (retire_best_distance),
      .retire_best_surface   (retire_best_surface),
      .retire_best_reversed  (retire_best_reversed),
      .retire_best_inward    (retire_best_inward),
      .retire_overflow       (retire_overflow)
  );

endmodule

`default_nettype wire
