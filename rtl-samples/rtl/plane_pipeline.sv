// Purpose   ray against half-space { x : normal . x <= level }, one ray and plane a cycle
// Equation  height = level - normal . origin; slope = normal . direction;
//           distance = height / slope; inside = height >= 0; leaving = slope > 0;
//           leaving: the ray is within from for ever to distance, entering: from distance for ever;
//           hit = entry <= exit and exit >= 0
// Ports     in_origin_*, in_level
//                           signed, W bits with F fraction bits; level in units of the normal's
//                           length
//           in_direction_*, in_normal_*
//                           signed, DW bits with DF fraction bits, of any length; the normal
//                           points out of the solid
//           out_entry, out_exit
//                           signed, W bits with F fraction bits, in units of the direction's
//                           length
//           out_hit         some of the ray from the origin on lies in the half-space
//           out_inside      the origin does; the plane belongs to it
//           out_leaving     the line leaves where it crosses (a solid's consumer)
//           out_parallel    slope is 0 once rounded
//           Every code is legal. Outputs mean something only while out_valid is high.
// Rounding  nearest, halves up: slope to RF fraction bits, height to F + 4 for the distance
//           (inside is decided by the exact one), distance to F. 1 / slope: towards zero, to RF.
//           All else exact
// Overflow  slope saturates at RW bits, its inverse too, the rounded height at W + 7, distance at W
// Special   parallel, or in the plane: inside for ever (lowest to highest code) or never (highest
//           to lowest, a miss)
// Latency   30 for all parameters; one case a cycle; a cycle with reset drops all cases in flight
// Source    E. Haines, Essential ray tracing algorithms, in A. Glassner (ed.), An Introduction to
//           Ray Tracing, Academic Press 1989 (ray and plane, convex solids by half-spaces)

`default_nettype none
`include "assertions.svh"
`include "orrery_pkg.svh"

module plane_pipeline #(
    parameter int unsigned W  = 32,  // word bits, 8 to 32
    parameter int unsigned F  = 16,  // fraction bits, 0 to W-1
    parameter int unsigned DW = 18,  // direction and normal bits, 8 to 32
    parameter int unsigned DF = 16,  // direction and normal fraction bits, 4 to DW-1
    parameter int unsigned RW = W,   // slope and inverse bits, 8 to 32
    parameter int unsigned RF = F    // slope and inverse fraction bits, 0 to RW-1, at most 2 DF
) (
    input logic clk,
    input logic rst,  // synchronous, active high

    // input stream
    input logic                 in_valid,
    input logic signed [ W-1:0] in_origin_x,
    input logic signed [ W-1:0] in_origin_y,
    input logic signed [ W-1:0] in_origin_z,
    input logic signed [DW-1:0] in_direction_x,
    input logic signed [DW-1:0] in_direction_y,
    input logic signed [DW-1:0] in_direction_z,
    input logic signed [DW-1:0] in_normal_x,
    input logic signed [DW-1:0] in_normal_y,
    input logic signed [DW-1:0] in_normal_z,
    input logic signed [ W-1:0] in_level,

    // output stream
    output logic                out_valid,
    output logic                out_hit,
    output logic                out_inside,
    output logic                out_leaving,
    output logic                out_parallel,
    output logic signed [W-1:0] out_entry,
    output logic signed [W-1:0] out_exit
);

  localparam int unsigned G = 4;  // guard bits
  localparam int unsigned InverseStage = 4 + orrery_pkg::reciprocal_latency();
  localparam int unsigned Latency = orrery_pkg::plane_latency();

  // Level and three products, each at most 2^(W+DW-2) in size as DF < DW.
  localparam int unsigned HeightW = W + DW + 1;
  localparam int unsigned SlopeFullW = 2 * DW + 1;
  localparam int unsigned DepthW = W + G + 3;  // eight times a word's range
  // One fraction bit below the last one stays: floored there, a number still rounds alike.
  localparam int unsigned ProductW = DepthW + RW - (G + RF - 1);
  localparam logic signed [W-1:0] Highest = {1'b0, {(W - 1) {1'b1}}};
  localparam logic signed [W-1:0] Lowest = {1'b1, {(W - 1) {1'b0}}};

  if (W < 8 || W > 32) begin : g_word_range
    $error("plane_pipeline: W must be 8 to 32");
  end
  // F only places the point, but for the default of RF.
  if (F > W - 1) begin : g_fraction_range
    $error("plane_pipeline: F must be 0 to W-1");
  end
  if (DW < 8 || DW > 32) begin : g_direction_word_range
    $error("plane_pipeline: DW must be 8 to 32");
  end
  if (DF < G || DF > DW - 1) begin : g_direction_fraction_range
    $error("plane_pipeline: DF must be 4 to DW-1");
  end
  if (RW < 8 || RW > 32) begin : g_inverse_word_range
    $error("plane_pipeline: RW must be 8 to 32");
  end
  if (RF > RW - 1 || RF > 2 * DF) begin : g_inverse_fraction_range
    $error("plane_pipeline: RF must be 0 to RW-1 and at most 2 DF");
  end

  // valid_q[k]: whether the values *_s<k>_q belong to a case.
  logic [Latency:1] valid_q;
  always_ff @(posedge clk) begin
    if (rst) valid_q <= '0;
    else valid_q <= {valid_q[Latency-1:1], in_valid};
  end

  // Clocks 1 to 3: how far along the normal the origin lies, F + DF fraction bits, and how much
  // of the direction runs along it, 2 DF. Both exact.
  logic signed [   HeightW-1:0] along_normal_s3_q;
  logic signed [SlopeFullW-1:0] slope_full_s3_q;
  logic signed [         W-1:0] level_s3_q;
  dot_product #(
      .A_W(W),
      .B_W(DW)
  ) dot_origin (
      .clk    (clk),
      .in_a_x (in_origin_x),
      .in_a_y (in_origin_y),
      .in_a_z (in_origin_z),
      .in_b_x (in_normal_x),
      .in_b_y (in_normal_y),
      .in_b_z (in_normal_z),
      .out_dot(along_normal_s3_q)
  );
  dot_product #(
      .A_W(DW),
      .B_W(DW)
  ) dot_direction (
      .clk    (clk),
      .in_a_x (in_direction_x),
      .in_a_y (in_direction_y),
      .in_a_z (in_direction_z),
      .in_b_x (in_normal_x),
      .in_b_y (in_normal_y),
      .in_b_z (in_normal_z),
      .out_dot(slope_full_s3_q)
  );
  delay_line #(
      .WIDTH(W),
      .DEPTH(3)
  ) delay_level (
      .clk      (clk),
      .in_value (in_level),
      .out_value(level_s3_q)
  );

  // Clock 4: slope as the reciprocal takes it; height of the plane above the origin, exact.
  logic signed [     RW-1:0] slope_s4_q;
  logic signed [HeightW-1:0] height_s4_q;
  round_saturate #(
      .IN_W (SlopeFullW),
      .DROP (2 * DF - RF),
      .OUT_W(RW)
  ) round_slope (
      .clk      (clk),
      .in_value (slope_full_s3_q),
      .out_value(slope_s4_q)
  );
  always_ff @(posedge clk) begin
    height_s4_q <= (HeightW'(level_s3_q) <<< DF) - along_normal_s3_q;
  end

  // Clock 5: height with F + G fraction bits.
  logic signed [DepthW-1:0] depth_s5_q;
  logic                     inside_s5_q;
  round_saturate #(
      .IN_W (HeightW),
      .DROP (DF - G),
      .OUT_W(DepthW)
  ) round_depth (
      .clk      (clk),
      .in_value (height_s4_q),
      .out_value(depth_s5_q)
  );
  always_ff @(posedge clk) inside_s5_q <= height_s4_q >= HeightW'(0);

  // Clocks 5 to 25: inverse of the slope. Height and signs wait.
  logic                     inverse_valid;
  logic                     inverse_overflow;
  logic signed [    RW-1:0] inverse_s25_q;
  logic                     parallel_s25_q;
  logic                     leaving_s25_q;
  logic                     inside_s25_q;
  logic signed [DepthW-1:0] depth_s25_q;
  reciprocal #(
      .W(RW),
      .F(RF)
  ) inverse_of_slope (
      .clk         (clk),
      .rst         (rst),
      .in_valid    (valid_q[4]),
      .in_x        (slope_s4_q),
      .out_valid   (inverse_valid),
      .out_y       (inverse_s25_q),
      .out_zero    (parallel_s25_q),
      .out_overflow(inverse_overflow)
  );
  delay_line #(
      .WIDTH(1),
      .DEPTH(InverseStage - 4)
  ) delay_leaving (
      .clk      (clk),
      .in_value (slope_s4_q > RW'(0)),
      .out_value(leaving_s25_q)
  );
  delay_line #(
      .WIDTH(DepthW + 1),
      .DEPTH(InverseStage - 5)
  ) delay_depth (
      .clk      (clk),
      .in_value ({inside_s5_q, depth_s5_q}),
      .out_value({inside_s25_q, depth_s25_q})
  );

  // Clocks 26, 27: distance, floored to F + 1 fraction bits.
  logic signed [ProductW-1:0] product_s27_q;
  split_multiply #(
      .A_W   (DepthW),
      .B_W   (RW),
      .SIGNED(1),
      .DROP  (G + RF - 1),
      .OUT_W (ProductW)
  ) multiply_distance (
      .clk        (clk),
      .in_a       (depth_s25_q),
      .in_b       (inverse_s25_q),
      .out_product(product_s27_q)
  );

  // Clock 28: distance as a word.
  logic signed [W-1:0] distance_s28_q;
  logic                parallel_s28_q;
  logic                leaving_s28_q;
  logic                inside_s28_q;
  round_saturate #(
      .IN_W (ProductW),
      .DROP (1),
      .OUT_W(W)
  ) round_distance (
      .clk      (clk),
      .in_value (product_s27_q),
      .out_value(distance_s28_q)
  );
  delay_line #(
      .WIDTH(3),
      .DEPTH(3)
  ) delay_signs (
      .clk      (clk),
      .in_value ({parallel_s25_q, leaving_s25_q, inside_s25_q}),
      .out_value({parallel_s28_q, leaving_s28_q, inside_s28_q})
  );

  // Clock 29: what of the line lies in the half-space.
  logic signed [W-1:0] entry_s29_q;
  logic signed [W-1:0] exit_s29_q;
  logic                parallel_s29_q;
  logic                leaving_s29_q;
  logic                inside_s29_q;
  always_ff @(posedge clk) begin
    if (parallel_s28_q) begin
      entry_s29_q <= inside_s28_q ? Lowest : Highest;
      exit_s29_q  <= inside_s28_q ? Highest : Lowest;
    end else begin
      entry_s29_q <= leaving_s28_q ? Lowest : distance_s28_q;
      exit_s29_q  <= leaving_s28_q ? distance_s28_q : Highest;
    end
    parallel_s29_q <= parallel_s28_q;
    leaving_s29_q  <= leaving_s28_q;
    inside_s29_q   <= inside_s28_q;
  end

  // Clock 30: decision of the ray.
  logic                hit_s30_q;
  logic                inside_s30_q;
  logic                leaving_s30_q;
  logic                parallel_s30_q;
  logic signed [W-1:0] entry_s30_q;
  logic signed [W-1:0] exit_s30_q;
  always_ff @(posedge clk) begin
    hit_s30_q      <= entry_s29_q <= exit_s29_q && exit_s29_q >= W'(0);
    inside_s30_q   <= inside_s29_q;
    leaving_s30_q  <= leaving_s29_q;
    parallel_s30_q <= parallel_s29_q;
    entry_s30_q    <= entry_s29_q;
    exit_s30_q     <= exit_s29_q;
  end

  assign out_valid    = valid_q[Latency];
  assign out_hit      = hit_s30_q;
  assign out_inside   = inside_s30_q;
  assign out_leaving  = leaving_s30_q;
  assign out_parallel = parallel_s30_q;
  assign out_entry    = entry_s30_q;
  assign out_exit     = exit_s30_q;

  // A saturated inverse needs no flag, and valid_q marks its cases.
  logic unused_inverse;
  assign unused_inverse = ^{inverse_valid, inverse_overflow};

  `LOW_AFTER_RESET(valids_low, valid_q)
  `HOLDS(inverse_in_step, inverse_valid == valid_q[InverseStage])
  `HOLDS(leaving_is_not_parallel, !out_valid || !out_leaving || !out_parallel)

endmodule

`default_nettype wire
