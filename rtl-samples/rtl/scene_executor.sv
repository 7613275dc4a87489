// Purpose   runs a scene, written as a program, for one ray at a time: what the ray meets first
// Equation  operations of scene_pkg, from address 0 to an end: begin, solids and combinations on a
//           stack of span lists and close for each object; skip over objects where a box is missed,
//           or entered more than MARGIN beyond limit or the best hit so far
// Ports     load_*       writes the program; meant for the time between rays
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
//           between objects; an end last. Nothing checks it: another program gives another picture,
//           or never ends until a reset. What of a solid lies behind start uses up no span
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

`include "assertions.svh"
`include "scene_pkg.svh"

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

  localparam int unsigned SolidLatency = W + 20;
  localparam int unsigned HeaderW = 24;
  localparam int unsigned WordW = HeaderW + 6 * W;
  localparam int unsigned BoxLatency = 8;
  localparam int unsigned CarriedW = 4 + 2 * A + 1;  // address, target, predicted, operation
  localparam int unsigned EntryW = CarriedW + 8 + 2 * W;
  localparam int unsigned InFlightW = Q < 8 ? 4 : $clog2(Q + 1);  // room for young

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

  typedef enum logic [1:0] {
    StateIdle,
    StateRun,
    StateOffer
  } state_e;

  state_e         state_q;
  state_e         state_d;
  logic           accept;
  logic           finished;  // the last operation of the ray retires
  logic           finished_q;
  logic           wrong;  // a skip retires that is taken against its early outcome
  logic           wrong_q;
  logic           early_wrong_q;  // the early outcome of a skip is not its prediction
  logic           abort_q;
  logic           flush;  // all in hand vanishes
  logic [A-1:0]   right_address;
  logic [A-1:0]   right_address_q;
  logic [A-1:0]   early_address_q;
  assign ray_ready    = state_q == StateIdle && !abort_q;
  assign accept       = ray_valid && ray_ready;
  assign result_valid = state_q == StateOffer && !abort_q;
  assign flush        = wrong_q || finished_q || abort_q;
  always_comb begin
    state_d = state_q;
    case (state_q)
      StateIdle:  if (accept) state_d = StateRun;
      StateRun:   if (finished_q) state_d = StateOffer;
      StateOffer: if (result_ready) state_d = StateIdle;
      default:    state_d = StateIdle;
    endcase
    if (abort_q) state_d = StateIdle;
  end
  always_ff @(posedge clk) begin
    if (rst) begin
      state_q    <= StateIdle;
      abort_q    <= 1'b0;
      finished_q <= 1'b0;
      wrong_q    <= 1'b0;
    end else begin
      state_q    <= state_d;
      abort_q    <= ray_abort;
      finished_q <= finished;
      wrong_q    <= wrong;
    end
    right_address_q <= right_address;
  end

  // Whether an inverse is the highest or the lowest code.
  function automatic logic saturated(input logic signed [W-1:0] inverse);
    saturated = inverse[W-2:0] == {(W - 1) {!inverse[W-1]}};
  endfunction

  // The ray in hand.
  logic signed [ W-1:0] origin_x_q;
  logic signed [ W-1:0] origin_y_q;
  logic signed [ W-1:0] origin_z_q;
  logic signed [DW-1:0] direction_x_q;
  logic signed [DW-1:0] direction_y_q;
  logic signed [DW-1:0] direction_z_q;
  logic signed [ W-1:0] inverse_x_q;
  logic signed [ W-1:0] inverse_y_q;
  logic signed [ W-1:0] inverse_z_q;
  logic                 parallel_x_q;
  logic                 parallel_y_q;
  logic                 parallel_z_q;
  logic signed [ W-1:0] start_q;
  logic signed [ W-1:0] limit_q;
  logic                 any_hit_q;
  logic       [TAG-1:0] tag_q;
  always_ff @(posedge clk) begin
    if (accept) begin
      origin_x_q    <= ray_origin_x;
      origin_y_q    <= ray_origin_y;
      origin_z_q    <= ray_origin_z;
      direction_x_q <= ray_direction_x;
      direction_y_q <= ray_direction_y;
      direction_z_q <= ray_direction_z;
      inverse_x_q   <= ray_inverse_x;
      inverse_y_q   <= ray_inverse_y;
      inverse_z_q   <= ray_inverse_z;
      parallel_x_q  <= ray_parallel_x || saturated(ray_inverse_x);
      parallel_y_q  <= ray_parallel_y || saturated(ray_inverse_y);
      parallel_z_q  <= ray_parallel_z || saturated(ray_inverse_z);
      start_q       <= ray_start[W-1] ? '0 : ray_start;
      limit_q       <= ray_limit;
      any_hit_q     <= ray_any_hit;
      tag_q         <= ray_tag;
    end
  end

  // Fetch.
  logic             read_enable;
  logic [    A-1:0] read_address;
  logic [WordW-1:0] word;
  logic [      3:0] operation;
  logic [    A-1:0] target;
  logic             fetched;
  logic [    A-1:0] address;
  logic             predicted;
  logic             dispatch;
  logic             update_valid;
  logic [    A-1:0] update_address;
  logic             update_taken;
  logic             update_right;
  assign operation = word[3:0];
  assign target    = word[12+:A];
  program_memory #(
      .A    (A),
      .WIDTH(WordW)
  ) memory (
      .clk         (clk),
      .load_valid  (load_valid),
      .load_address(load_address),
      .load_word   (load_word),
      .read_enable (read_enable),
      .read_address(read_address),
      .out_word    (word),
      .look_enable (surface_read),
      .look_address(surface_address),
      .look_word   (surface_word)
  );
  scene_fetch #(
      .A(A),
      .P(P)
  ) fetch (
      .clk              (clk),
      .rst              (rst),
      .redirect_valid   (accept || (!finished_q && !abort_q && (wrong_q || early_wrong_q))),
      .redirect_address (accept ? '0 : wrong_q ? right_address_q : early_address_q),
      .stop             (finished_q || abort_q),
      .read_enable      (read_enable),
      .read_address     (read_address),
      .in_word_operation(operation),
      .in_word_target   (target),
      .out_valid        (fetched),
      .out_ready        (dispatch),
      .out_address      (address),
      .out_taken        (predicted),
      .update_valid     (update_valid),
      .update_address   (update_address),
      .update_taken     (update_taken)
  );

  // The material is for who shades; small memories leave bits of the target without a use.
  logic unused_header;
  assign unused_header = ^word[HeaderW-1:0];

  // Dispatch, while the queue has an entry free for the operation at its arrival. The word gets
  // registers of its own: the memory's output is late, and multipliers follow.
  logic [InFlightW-1:0] in_flight_q;
  logic [          3:0] young;
  logic                 retires;
  logic                 valid_s1_q;
  logic [  6*W-1:0]     slots_s1_q;
  logic [CarriedW-1:0]  carried_s1_q;
  assign dispatch = fetched && in_flight_q != InFlightW'(Q) && !flush && !early_wrong_q;
  always_ff @(posedge clk) begin
    if (rst || flush) in_flight_q <= '0;
    else begin
      in_flight_q <= in_flight_q + InFlightW'(dispatch) - InFlightW'(retires)
          - (early_wrong_q ? InFlightW'(young) : '0);
    end
  end
  always_ff @(posedge clk) begin
    if (rst) valid_s1_q <= 1'b0;
    else valid_s1_q <= dispatch;
    slots_s1_q   <= word[WordW-1:HeaderW];
    carried_s1_q <= {address, target, predicted, operation};
  end

  // In flight: spans are found while the rest of the operation waits.
  logic                    early_valid;
  logic                    early_missed;
  logic signed [    W-1:0] early_entry;
  logic                    arrives;
  logic                    empty;
  logic signed [    W-1:0] span_entry;
  logic signed [    W-1:0] span_exit;
  logic        [      2:0] entry_face;
  logic        [      2:0] exit_face;
  solid_pipelines #(
      .W     (W),
      .F     (F),
      .DW    (DW),
      .DF    (DF),
      .MARGIN(MARGIN)
  ) solids (
      .clk           (clk),
      .rst           (rst || flush),
      .in_origin_x   (origin_x_q),
      .in_origin_y   (origin_y_q),
      .in_origin_z   (origin_z_q),
      .in_direction_x(direction_x_q),
      .in_direction_y(direction_y_q),
      .in_direction_z(direction_z_q),
      .in_inverse_x  (inverse_x_q),
      .in_inverse_y  (inverse_y_q),
      .in_inverse_z  (inverse_z_q),
      .in_parallel_x (parallel_x_q),
      .in_parallel_y (parallel_y_q),
      .in_parallel_z (parallel_z_q),
      .in_valid      (valid_s1_q),
      .in_operation  (carried_s1_q[3:0]),
      .in_slots      (slots_s1_q),
      .early_valid   (early_valid),
      .early_missed  (early_missed),
      .early_entry   (early_entry),
      .drop_young    (early_wrong_q),
      .young         (young),
      .out_valid     (arrives),
      .out_empty     (empty),
      .out_entry     (span_entry),
      .out_exit      (span_exit),
      .out_entry_face(entry_face),
      .out_exit_face (exit_face)
  );

  // The early outcome of a skip, which what follows it goes by.
  logic        [CarriedW-1:0] carried_s9_q;
  logic        [         3:0] operation_s9;
  logic                       predicted_s9;
  logic        [       A-1:0] target_s9;
  logic        [       A-1:0] address_s9;
  logic signed [         W:0] limit_reach_q;  // the margin grows it by a carry
  logic                       early;
  delay_line #(
      .WIDTH(CarriedW),
      .DEPTH(BoxLatency)
  ) delay_until_early (
      .clk      (clk),
      .in_value (carried_s1_q),
      .out_value(carried_s9_q)
  );
  assign {address_s9, target_s9, predicted_s9, operation_s9} = carried_s9_q;
  assign early = operation_s9 == scene_pkg::OpSkip
      && (early_missed || (W + 1)'(early_entry) > limit_reach_q);
  always_ff @(posedge clk) begin
    limit_reach_q <= (W + 1)'(limit_q) + $signed((W + 1)'(MARGIN));
    if (rst || flush) early_wrong_q <= 1'b0;
    else early_wrong_q <= early_valid && early != predicted_s9 && !early_wrong_q;
    early_address_q <= early ? target_s9 : address_s9 + A'(1);
  end

  logic [CarriedW:0] carried_q;
  delay_line #(
      .WIDTH(CarriedW + 1),
      .DEPTH(SolidLatency - BoxLatency)
  ) delay_carried (
      .clk      (clk),
      .in_value ({early, carried_s9_q}),
      .out_value(carried_q)
  );

  // The oldest operation.
  logic                     oldest_valid;
  logic        [EntryW-1:0] oldest;
  logic        [       3:0] oldest_operation;
  logic        [     A-1:0] oldest_address;
  logic        [     A-1:0] oldest_target;
  logic                     oldest_predicted;
  logic                     oldest_early;
  logic                     oldest_empty;
  logic        [     W-1:0] oldest_entry;
  logic        [     W-1:0] oldest_exit;
  logic        [       2:0] oldest_entry_face;
  logic        [       2:0] oldest_exit_face;
  operation_queue #(
      .Q    (Q),
      .WIDTH(EntryW)
  ) queue (
      .clk      (clk),
      .rst      (rst || flush),
      .in_valid (arrives),
      .in_entry ({carried_q, empty, exit_face, entry_face, span_exit, span_entry}),
      .out_valid(oldest_valid),
      .out_ready(retires),
      .out_entry(oldest)
  );
  assign {oldest_early, oldest_address, oldest_target, oldest_predicted, oldest_operation,
          oldest_empty, oldest_exit_face, oldest_entry_face, oldest_exit, oldest_entry} = oldest;

  logic signed [W-1:0] best_distance;
  logic        [A+2:0] best_surface;
  logic                best_reversed;
  logic                best_inward;
  scene_retirement #(
      .W(W),
      .C(C),
      .S(S),
      .A(A),
      .MARGIN(MARGIN)
  ) retirement (
      .clk                 (clk),
      .rst                 (rst || abort_q),
      .clear               (accept),
      .in_start            (start_q),
      .in_limit            (limit_q),
      .in_any_hit          (any_hit_q),
      .in_valid            (oldest_valid && !flush),
      .in_ready            (retires),
      .in_operation        (oldest_operation),
      .in_address          (oldest_address),
      .in_target           (oldest_target),
      .in_predicted        (oldest_predicted),
      .in_early            (oldest_early),
      .in_empty            (oldest_empty),
      .in_entry            (oldest_entry),
      .in_exit             (oldest_exit),
      .in_entry_face       (oldest_entry_face),
      .in_exit_face        (oldest_exit_face),
      .redirect_valid      (wrong),
      .redirect_address    (right_address),
      .finished            (finished),
      .update_valid        (update_valid),
      .update_address      (update_address),
      .update_taken        (update_taken),
      .update_right        (update_right),
      .retire_valid        (retire_valid),
      .retire_address      (retire_address),
      .retire_operation    (retire_operation),
      .retire_taken        (retire_taken),
      .retire_height       (retire_height),
      .retire_count        (retire_count),
      .retire_distance     (retire_distance),
      .retire_surface      (retire_surface),
      .retire_reversed       (retire_reversed),
      .retire_best_hit     (retire_best_hit),
      .retire_best_distance(retire_best_distance),
      .retire_best_surface (retire_best_surface),
      .retire_best_reversed  (retire_best_reversed),
      .retire_best_inward  (retire_best_inward),
      .retire_overflow     (retire_overflow),
      .best_hit            (result_hit),
      .best_distance       (best_distance),
      .best_surface        (best_surface),
      .best_reversed       (best_reversed),
      .best_inward         (best_inward),
      .overflow            (result_overflow)
  );

  // Of a ray that asks for any hit, the nearest of those found by chance first tells nothing.
  assign result_distance = any_hit_q ? '0 : best_distance;
  assign {result_face, result_address} = any_hit_q ? '0 : best_surface;
  assign result_reversed = !any_hit_q && best_reversed;
  assign result_inward   = !any_hit_q && best_inward;
  assign result_tag      = tag_q;

  // Counters. The cycle of acceptance counts as well.
  logic [31:0] cycles_q;
  logic [31:0] operations_q;
  logic [31:0] predicted_right_q;
  logic [31:0] predicted_wrong_q;
  always_ff @(posedge clk) begin
    if (accept) begin
      cycles_q          <= 32'd1;
      operations_q      <= '0;
      predicted_right_q <= '0;
      predicted_wrong_q <= '0;
    end else if (state_q == StateRun && !finished_q) begin
      cycles_q          <= cycles_q + 32'd1;
      operations_q      <= operations_q + 32'(retires);
      predicted_right_q <= predicted_right_q + 32'(update_valid && update_right);
      predicted_wrong_q <= predicted_wrong_q + 32'(update_valid && !update_right);
    end
  end
  assign result_cycles          = cycles_q;
  assign result_operations      = operations_q;
  assign result_predicted_right = predicted_right_q;
  assign result_predicted_wrong = predicted_wrong_q;

  `LOW_AFTER_RESET(nothing_in_hand, {result_valid, !ray_ready, in_flight_q, oldest_valid})
  `HOLDS(only_a_ray_retires, !retires || state_q == StateRun)
  `HOLDS(retired_was_in_flight, !retires || in_flight_q != '0)
  `HOLDS(stalled_result_stands,
         !$past(result_valid && !result_ready && !rst && !ray_abort)
         || (result_valid && $stable({result_hit, result_distance, result_cycles})))

endmodule
