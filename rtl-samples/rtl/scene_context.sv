// Purpose   one context of the scene executor: the ray in hand, fetch, retirement; solids are found
//           by pipelines that it may share with other contexts
// Ports     load_*, surface_*, ray_*, result_*, retire_*
//                        as scene_executor has them
//           solid_*      the ray in hand, as solid_pipelines takes it
//           out_*        an operation to be dispatched, with its slots; it goes in a cycle with
//                        out_ready. carried: what has to come back with it
//           early_*      a slab test: carried as it went out, missed and entry; early_taken is the
//                        outcome of a skip by slab test and limit, in the same cycle
//           drop_young   all that were dispatched after the one at early_* in the cycle before
//                        vanish; young is how many that is
//           drop_all     all that were dispatched vanish
//           in_*         what comes back: early_taken, carried, and what is known of the solid
// Flow      as scene_executor
// Timing    as scene_executor, with out_ready always high, early_* 9 cycles after dispatch and in_*
//           W + 21 after it
// Source    as scene_executor

`default_nettype none
`include "assertions.svh"
`include "scene_pkg.svh"

module scene_context #(
    parameter int unsigned W      = 32,  // as scene_executor has them
    parameter int unsigned DW     = 18,
    parameter int unsigned MARGIN = 64,
    parameter int unsigned TAG    = 4,
    parameter int unsigned C      = 4,
    parameter int unsigned S      = 4,
    parameter int unsigned A      = 10,
    parameter int unsigned P      = 4,
    parameter int unsigned Q      = 64
) (
    input logic clk,
    input logic rst,  // synchronous, active high
    input logic ray_abort,  // drops the ray in hand

    // program
    input logic              load_valid,
    input logic [     A-1:0] load_address,
    input logic [24+6*W-1:0] load_word,

    // surface port
    input  logic              surface_read,
    input  logic [     A-1:0] surface_address,
    output logic [24+6*W-1:0] surface_word,

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

    // the ray, for the solids
    output logic signed [ W-1:0] solid_origin_x,
    output logic signed [ W-1:0] solid_origin_y,
    output logic signed [ W-1:0] solid_origin_z,
    output logic signed [DW-1:0] solid_direction_x,
    output logic signed [DW-1:0] solid_direction_y,
    output logic signed [DW-1:0] solid_direction_z,
    output logic signed [ W-1:0] solid_inverse_x,
    output logic signed [ W-1:0] solid_inverse_y,
    output logic signed [ W-1:0] solid_inverse_z,
    output logic                 solid_parallel_x,
    output logic                 solid_parallel_y,
    output logic                 solid_parallel_z,

    // dispatch
    output logic             out_valid,
    input  logic             out_ready,
    output logic [  2*A+4:0] out_carried,  // address, target, predicted, operation
    output logic [  6*W-1:0] out_slots,

    // early result of a slab test
    input  logic                early_valid,
    input  logic      [2*A+4:0] early_carried,
    input  logic                early_missed,
    input  logic signed [W-1:0] early_entry,
    output logic                early_taken,
    output logic                drop_young,
    input  logic          [3:0] young,
    output logic                drop_all,

    // what comes back
    input logic                in_valid,
    input logic      [2*A+5:0] in_carried,  // early_taken, then as it went out
    input logic                in_empty,
    input logic signed [W-1:0] in_entry,
    input logic signed [W-1:0] in_exit,
    input logic          [2:0] in_entry_face,
    input logic          [2:0] in_exit_face
);

  localparam int unsigned HeaderW = 24;
  localparam int unsigned WordW = HeaderW + 6 * W;
  localparam int unsigned CarriedW = 2 * A + 5;
  localparam int unsigned EntryW = CarriedW + 8 + 2 * W;
  localparam int unsigned InFlightW = Q < 8 ? 4 : $clog2(Q + 1);  // room for young

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
  assign solid_origin_x    = origin_x_q;
  assign solid_origin_y    = origin_y_q;
  assign solid_origin_z    = origin_z_q;
  assign solid_direction_x = direction_x_q;
  assign solid_direction_y = direction_y_q;
  assign solid_direction_z = direction_z_q;
  assign solid_inverse_x   = inverse_x_q;
  assign solid_inverse_y   = inverse_y_q;
  assign solid_inverse_z   = inverse_z_q;
  assign solid_parallel_x  = parallel_x_q;
  assign solid_parallel_y  = parallel_y_q;
  assign solid_parallel_z  = parallel_z_q;

  // Fetch.
  logic             read_enable;
  logic [    A-1:0] read_address;
  logic [WordW-1:0] word;
  logic [      3:0] word_operation;
  logic [    A-1:0] target;
  logic             fetched;
  logic [    A-1:0] address;
  logic             predicted;
  logic             dispatch;
  logic             update_valid;
  logic [    A-1:0] update_address;
  logic             update_taken;
  logic             update_right;
  assign word_operation = word[3:0];
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
      .in_word_operation(word_operation),
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

  // Dispatch, while the queue has an entry free for the operation at its arrival.
  logic [InFlightW-1:0] in_flight_q;
  logic                 retires;
  assign out_valid   = fetched && in_flight_q != InFlightW'(Q) && !flush && !early_wrong_q;
  assign out_carried = {address, target, predicted, word_operation};
  assign out_slots   = word[WordW-1:HeaderW];
  assign dispatch    = out_valid && out_ready;
  assign drop_all    = flush;
  assign drop_young  = early_wrong_q;
  always_ff @(posedge clk) begin
    if (rst || flush) in_flight_q <= '0;
    else begin
      in_flight_q <= in_flight_q + InFlightW'(dispatch) - InFlightW'(retires)
          - (early_wrong_q ? InFlightW'(young) : '0);
    end
  end

  // The early outcome of a skip, which what follows it goes by.
  logic        [  3:0] early_operation;
  logic                early_predicted;
  logic        [A-1:0] early_target;
  logic        [A-1:0] early_own;
  logic signed [  W:0] limit_reach_q;  // the margin grows it by a carry
  assign {early_own, early_target, early_predicted, early_operation} = early_carried;
  assign early_taken = early_operation == scene_pkg::OpSkip
      && (early_missed || (W + 1)'(early_entry) > limit_reach_q);
  always_ff @(posedge clk) begin
    limit_reach_q <= (W + 1)'(limit_q) + $signed((W + 1)'(MARGIN));
    if (rst || flush) early_wrong_q <= 1'b0;
    else early_wrong_q <= early_valid && early_taken != early_predicted && !early_wrong_q;
    early_address_q <= early_taken ? early_target : early_own + A'(1);
  end

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
      .in_valid (in_valid),
      .in_entry ({in_carried, in_empty, in_exit_face, in_entry_face, in_exit, in_entry}),
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
  `HOLDS(no_load_during_a_ray, !load_valid || state_q != StateRun || abort_q)
  `HOLDS(only_a_ray_retires, !retires || state_q == StateRun)
  `HOLDS(retired_was_in_flight, !retires || in_flight_q != '0)
  `HOLDS(stalled_result_stands,
         !$past(result_valid && !result_ready && !rst && !ray_abort)
         || (result_valid && $stable({result_hit, result_distance, result_cycles})))

endmodule

`default_nettype wire
