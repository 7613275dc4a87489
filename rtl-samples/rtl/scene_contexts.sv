// Purpose   runs a scene for several rays at a time: contexts that share one set of pipelines
// Ports     as scene_executor has them, those of a ray, a result, the retirement and the surface port
//           once for each context, context k in field k from the low end (numbers as bits there)
// Flow      as scene_executor, each context by itself. A cycle dispatches an operation of one
//           context: of those that have one, the first after the one that was served last
// Timing    with one context as scene_executor; otherwise operations may be dispatched later.
//           Results do not depend on that, nor on how many contexts there are
// Size      pipelines, with all their multipliers, once; a program memory for each context, since
//           each reads a word a cycle
// Source    as the units; turns in a circle: common practice, no source

`default_nettype none
`include "orrery_pkg.svh"

module scene_contexts #(
    parameter int unsigned N      = 2,   // contexts, 1 to 4
    parameter int unsigned W      = 32,  // the others as scene_executor has them
    parameter int unsigned F      = 16,
    parameter int unsigned DW     = 18,
    parameter int unsigned DF     = 16,
    parameter int unsigned MARGIN = 64,
    parameter int unsigned TAG    = 4,
    parameter int unsigned C      = 4,
    parameter int unsigned S      = 4,
    parameter int unsigned A      = 10,
    parameter int unsigned P      = 4,
    parameter int unsigned Q      = 64
) (
    input logic         clk,
    input logic         rst,  // synchronous, active high
    input logic [N-1:0] ray_abort,

    // program
    input logic              load_valid,
    input logic [     A-1:0] load_address,
    input logic [24+6*W-1:0] load_word,

    // surface ports
    input  logic [          N-1:0] surface_read,
    input  logic [        N*A-1:0] surface_address,
    output logic [N*(24+6*W)-1:0] surface_word,

    // input streams
    input  logic [N-1:0] ray_valid,
    output logic [N-1:0] ray_ready,
    input  logic [N*W-1:0] ray_origin_x,
    input  logic [N*W-1:0] ray_origin_y,
    input  logic [N*W-1:0] ray_origin_z,
    input  logic [N*DW-1:0] ray_direction_x,
    input  logic [N*DW-1:0] ray_direction_y,
    input  logic [N*DW-1:0] ray_direction_z,
    input  logic [N*W-1:0] ray_inverse_x,
    input  logic [N*W-1:0] ray_inverse_y,
    input  logic [N*W-1:0] ray_inverse_z,
    input  logic [N-1:0] ray_parallel_x,
    input  logic [N-1:0] ray_parallel_y,
    input  logic [N-1:0] ray_parallel_z,
    input  logic [N*W-1:0] ray_start,
    input  logic [N*W-1:0] ray_limit,
    input  logic [N-1:0] ray_any_hit,
    input  logic [N*TAG-1:0] ray_tag,

    // output streams
    output logic [N-1:0] result_valid,
    input  logic [N-1:0] result_ready,
    output logic [N-1:0] result_hit,
    output logic [N*W-1:0] result_distance,
    output logic [N*A-1:0] result_address,
    output logic [N*3-1:0] result_face,
    output logic [N-1:0] result_reversed,
    output logic [N-1:0] result_inward,
    output logic [N-1:0] result_overflow,
    output logic [N*TAG-1:0] result_tag,
    output logic [N*32-1:0] result_cycles,
    output logic [N*32-1:0] result_operations,
    output logic [N*32-1:0] result_predicted_right,
    output logic [N*32-1:0] result_predicted_wrong,

    // retirement ports
    output logic [N-1:0] retire_valid,
    output logic [N*A-1:0] retire_address,
    output logic [N*4-1:0] retire_operation,
    output logic [N-1:0] retire_taken,
    output logic [N*($clog2(S+1))-1:0] retire_height,
    output logic [N*($clog2(C+1))-1:0] retire_count,
    output logic [N*(2*C*W)-1:0] retire_distance,
    output logic [N*(2*C*(A+3))-1:0] retire_surface,
    output logic [N*(2*C)-1:0] retire_reversed,
    output logic [N-1:0] retire_best_hit,
    output logic [N*W-1:0] retire_best_distance,
    output logic [N*(A+3)-1:0] retire_best_surface,
    output logic [N-1:0] retire_best_reversed,
    output logic [N-1:0] retire_best_inward,
    output logic [N-1:0] retire_overflow
);

  localparam int unsigned BoxLatency = orrery_pkg::box_latency();
  localparam int unsigned SolidLatency = orrery_pkg::sphere_latency(W);
  localparam int unsigned CarriedW = 2 * A + 5;

  if (N < 1 || N > 4) begin : g_contexts_range
    $error("scene_contexts: N must be 1 to 4");
  end

  // What each context has for the pipelines.
  logic [   N*3*W-1:0] origins;
  logic [  N*3*DW-1:0] directions;
  logic [   N*3*W-1:0] inverses;
  logic [     N*3-1:0] parallels;
  logic [       N-1:0] wants;
  logic [       N-1:0] turn;
  logic [N*CarriedW-1:0] wanted_carried;
  logic [   N*6*W-1:0] wanted_slots;
  logic [       N-1:0] early_taken;
  logic [       N-1:0] drop_young;
  logic [       N-1:0] drop_all;

  // Whose turn it is: the first that wants, from the one after the last that was served.
  logic [CarriedW-1:0] next_carried;
  logic [     6*W-1:0] next_slots;
  logic [     3*W-1:0] next_origin;
  logic [    3*DW-1:0] next_direction;
  logic [     3*W-1:0] next_inverse;
  logic [         2:0] next_parallel;
  if (N == 1) begin : g_alone
    assign turn = 1'b1;
  end else begin : g_turns
    // The first that wants among those behind the last, or else among all: no sum, and no bit written
    // by its index, whose carries would stand between what a context offers and what it hears.
    localparam int unsigned IndexW = $clog2(N);
    logic [IndexW-1:0] last_q;
    logic [IndexW-1:0] chosen;
    always_comb begin
      chosen = last_q;
      for (int unsigned k = N; k >= 1; k--) begin
        if (wants[k-1]) chosen = IndexW'(k - 1);
      end
      for (int unsigned k = N; k >= 1; k--) begin
        if (wants[k-1] && IndexW'(k - 1) > last_q) chosen = IndexW'(k - 1);
      end
      for (int unsigned k = 0; k < N; k++) turn[k] = chosen == IndexW'(k);
    end
    always_ff @(posedge clk) begin
      if (rst) last_q <= '0;
      else if (wants != '0) last_q <= chosen;
    end
  end
  always_comb begin
    next_carried   = '0;
    next_slots     = '0;
    next_origin    = '0;
    next_direction = '0;
    next_inverse   = '0;
    next_parallel  = '0;
    for (int unsigned k = 0; k < N; k++) begin
      if (turn[k]) begin
        next_carried   = wanted_carried[k*CarriedW+:CarriedW];
        next_slots     = wanted_slots[k*6*W+:6*W];
        next_origin    = origins[k*3*W+:3*W];
        next_direction = directions[k*3*DW+:3*DW];
        next_inverse   = inverses[k*3*W+:3*W];
        next_parallel  = parallels[k*3+:3];
      end
    end
  end

  // Clock 1: the operation and its ray get registers of their own, since memories and turns are
  // late and multipliers follow.
  logic        [     N-1:0] valid_s1_q;
  logic        [CarriedW-1:0] carried_s1_q;
  logic        [ 6*W-1:0] slots_s1_q;
  logic        [ 3*W-1:0] origin_s1_q;
  logic        [3*DW-1:0] direction_s1_q;
  logic        [ 3*W-1:0] inverse_s1_q;
  logic        [     2:0] parallel_s1_q;
  always_ff @(posedge clk) begin
    if (rst) valid_s1_q <= '0;
    else valid_s1_q <= wants & turn;
    carried_s1_q   <= next_carried;
    slots_s1_q     <= next_slots;
    origin_s1_q    <= next_origin;
    direction_s1_q <= next_direction;
    inverse_s1_q   <= next_inverse;
    parallel_s1_q  <= next_parallel;
  end

  // In flight: spans are found while the rest of the operation waits.
  logic        [  N-1:0] early_valid;
  logic                  early_missed;
  logic signed [  W-1:0] early_entry;
  logic        [4*N-1:0] young;
  logic        [  N-1:0] arrives;
  logic                  empty;
  logic signed [  W-1:0] span_entry;
  logic signed [  W-1:0] span_exit;
  logic        [    2:0] entry_face;
  logic        [    2:0] exit_face;
  solid_pipelines #(
      .W     (W),
      .F     (F),
      .DW    (DW),
      .DF    (DF),
      .MARGIN(MARGIN),
      .N     (N)
  ) solids (
      .clk           (clk),
      .rst           (rst),
      .in_origin_x   (origin_s1_q[0*W+:W]),
      .in_origin_y   (origin_s1_q[1*W+:W]),
      .in_origin_z   (origin_s1_q[2*W+:W]),
      .in_direction_x(direction_s1_q[0*DW+:DW]),
      .in_direction_y(direction_s1_q[1*DW+:DW]),
      .in_direction_z(direction_s1_q[2*DW+:DW]),
      .in_inverse_x  (inverse_s1_q[0*W+:W]),
      .in_inverse_y  (inverse_s1_q[1*W+:W]),
      .in_inverse_z  (inverse_s1_q[2*W+:W]),
      .in_parallel_x (parallel_s1_q[0]),
      .in_parallel_y (parallel_s1_q[1]),
      .in_parallel_z (parallel_s1_q[2]),
      .in_valid      (valid_s1_q),
      .in_operation  (carried_s1_q[3:0]),
      .in_slots      (slots_s1_q),
      .early_valid   (early_valid),
      .early_missed  (early_missed),
      .early_entry   (early_entry),
      .drop_all      (drop_all),
      .drop_young    (drop_young),
      .young         (young),
      .out_valid     (arrives),
      .out_empty     (empty),
      .out_entry     (span_entry),
      .out_exit      (span_exit),
      .out_entry_face(entry_face),
      .out_exit_face (exit_face)
  );
  logic [CarriedW-1:0] carried_s9_q;
  logic [  CarriedW:0] carried_last_q;
  delay_line #(
      .WIDTH(CarriedW),
      .DEPTH(BoxLatency)
  ) delay_until_early (
      .clk      (clk),
      .in_value (carried_s1_q),
      .out_value(carried_s9_q)
  );
  delay_line #(
      .WIDTH(CarriedW + 1),
      .DEPTH(SolidLatency - BoxLatency)
  ) delay_carried (
      .clk      (clk),
      .in_value ({(early_taken & early_valid) != '0, carried_s9_q}),
      .out_value(carried_last_q)
  );

  for (genvar k = 0; k < N; k++) begin : g_context
    scene_context #(
        .W     (W),
        .DW    (DW),
        .MARGIN(MARGIN),
        .TAG   (TAG),
        .C     (C),
        .S     (S),
        .A     (A),
        .P     (P),
        .Q     (Q)
    ) of_ray (
        .clk                   (clk),
        .rst                   (rst),
        .ray_abort             (ray_abort[k]),
        .load_valid            (load_valid),
        .load_address          (load_address),
        .load_word             (load_word),
        .surface_read          (surface_read[k]),
        .surface_address       (surface_address[k*A+:A]),
        .surface_word          (surface_word[k*(24+6*W)+:24+6*W]),
        .ray_valid             (ray_valid[k]),
        .ray_ready             (ray_ready[k]),
        .ray_origin_x          (ray_origin_x[k*W+:W]),
        .ray_origin_y          (ray_origin_y[k*W+:W]),
        .ray_origin_z          (ray_origin_z[k*W+:W]),
        .ray_direction_x       (ray_direction_x[k*DW+:DW]),
        .ray_direction_y       (ray_direction_y[k*DW+:DW]),
        .ray_direction_z       (ray_direction_z[k*DW+:DW]),
        .ray_inverse_x         (ray_inverse_x[k*W+:W]),
        .ray_inverse_y         (ray_inverse_y[k*W+:W]),
        .ray_inverse_z         (ray_inverse_z[k*W+:W]),
        .ray_parallel_x        (ray_parallel_x[k]),
        .ray_parallel_y        (ray_parallel_y[k]),
        .ray_parallel_z        (ray_parallel_z[k]),
        .ray_start             (ray_start[k*W+:W]),
        .ray_limit             (ray_limit[k*W+:W]),
        .ray_any_hit           (ray_any_hit[k]),
        .ray_tag               (ray_tag[k*TAG+:TAG]),
        .result_valid          (result_valid[k]),
        .result_ready          (result_ready[k]),
        .result_hit            (result_hit[k]),
        .result_distance       (result_distance[k*W+:W]),
        .result_address        (result_address[k*A+:A]),
        .result_face           (result_face[k*3+:3]),
        .result_reversed       (result_reversed[k]),
        .result_inward         (result_inward[k]),
        .result_overflow       (result_overflow[k]),
        .result_tag            (result_tag[k*TAG+:TAG]),
        .result_cycles         (result_cycles[k*32+:32]),
        .result_operations     (result_operations[k*32+:32]),
        .result_predicted_right(result_predicted_right[k*32+:32]),
        .result_predicted_wrong(result_predicted_wrong[k*32+:32]),
        .retire_valid          (retire_valid[k]),
        .retire_address        (retire_address[k*A+:A]),
        .retire_operation      (retire_operation[k*4+:4]),
        .retire_taken          (retire_taken[k]),
        .retire_height         (retire_height[k*($clog2(S+1))+:$clog2(S+1)]),
        .retire_count          (retire_count[k*($clog2(C+1))+:$clog2(C+1)]),
        .retire_distance       (retire_distance[k*(2*C*W)+:2*C*W]),
        .retire_surface        (retire_surface[k*(2*C*(A+3))+:2*C*(A+3)]),
        .retire_reversed       (retire_reversed[k*(2*C)+:2*C]),
        .retire_best_hit       (retire_best_hit[k]),
        .retire_best_distance  (retire_best_distance[k*W+:W]),
        .retire_best_surface   (retire_best_surface[k*(A+3)+:(A+3)]),
        .retire_best_reversed  (retire_best_reversed[k]),
        .retire_best_inward    (retire_best_inward[k]),
        .retire_overflow       (retire_overflow[k]),
        .solid_origin_x        (origins[k*3*W+0*W+:W]),
        .solid_origin_y        (origins[k*3*W+1*W+:W]),
        .solid_origin_z        (origins[k*3*W+2*W+:W]),
        .solid_direction_x     (directions[k*3*DW+0*DW+:DW]),
        .solid_direction_y     (directions[k*3*DW+1*DW+:DW]),
        .solid_direction_z     (directions[k*3*DW+2*DW+:DW]),
        .solid_inverse_x       (inverses[k*3*W+0*W+:W]),
        .solid_inverse_y       (inverses[k*3*W+1*W+:W]),
        .solid_inverse_z       (inverses[k*3*W+2*W+:W]),
        .solid_parallel_x      (parallels[k*3+0]),
        .solid_parallel_y      (parallels[k*3+1]),
        .solid_parallel_z      (parallels[k*3+2]),
        .out_valid             (wants[k]),
        .out_ready             (turn[k]),
        .out_carried           (wanted_carried[k*CarriedW+:CarriedW]),
        .out_slots             (wanted_slots[k*6*W+:6*W]),
        .early_valid           (early_valid[k]),
        .early_carried         (carried_s9_q),
        .early_missed          (early_missed),
        .early_entry           (early_entry),
        .early_taken           (early_taken[k]),
        .drop_young            (drop_young[k]),
        .young                 (young[4*k+:4]),
        .drop_all              (drop_all[k]),
        .in_valid              (arrives[k]),
        .in_carried            (carried_last_q),
        .in_empty              (empty),
        .in_entry              (span_entry),
        .in_exit               (span_exit),
        .in_entry_face         (entry_face),
        .in_exit_face          (exit_face)
    );
  end

endmodule

`default_nettype wire
