// Purpose   one axis of the slab test: where a ray enters and leaves the slab between two planes
// Equation  t_min = (min - origin) inverse, t_max = (max - origin) inverse,
//           near = min(t_min, t_max), far = max(t_min, t_max)
// Ports     origin, min, max   signed, W bits with F fraction bits
//           inverse            signed, INV_W bits with INV_F fraction bits; ignored where parallel
//           near, far          as origin; floor to F fraction bits, saturated to W bits
//           swapped            near is of the max plane, far of the min one: t_max < t_min as codes
// Special   parallel: origin between the planes or in one of them gives (lowest, highest) code,
//           else (highest, lowest): a slab that nothing enters. Not swapped
// Latency   5, one case a cycle; no reset (valid bits are the user's)
// Source    T. L. Kay, J. T. Kajiya, Ray tracing complex scenes, SIGGRAPH 1986

`default_nettype none

module box_axis #(
    parameter int unsigned W     = 32,
    parameter int unsigned INV_W = 32,
    parameter int unsigned INV_F = 16
) (
    input logic clk,

    input logic signed [    W-1:0] in_origin,
    input logic signed [INV_W-1:0] in_inverse,
    input logic                    in_parallel,
    input logic signed [    W-1:0] in_min,
    input logic signed [    W-1:0] in_max,

    output logic signed [W-1:0] out_near,
    output logic signed [W-1:0] out_far,
    output logic                out_swapped
);

  localparam int unsigned DifferenceW = W + 1;  // a borrow
  // |difference| <= 2^W - 1 and |inverse| <= 2^(INV_W-1): the product needs no bit for a carry.
  localparam int unsigned ProductW = W + INV_W;
  localparam int unsigned FlooredW = ProductW - INV_F;
  localparam logic signed [W-1:0] Highest = {1'b0, {(W - 1) {1'b1}}};
  localparam logic signed [W-1:0] Lowest = {1'b1, {(W - 1) {1'b0}}};

  // Narrows to the word format; the nearest code where the value lies outside.
  function automatic logic signed [W-1:0] saturate(input logic signed [FlooredW-1:0] value);
    if (value > FlooredW'(Highest)) saturate = Highest;
    else if (value < FlooredW'(Lowest)) saturate = Lowest;
    else saturate = W'(value);
  endfunction

  // Clock 1: exact differences.
  logic signed [DifferenceW-1:0] to_min_s1_q;
  logic signed [DifferenceW-1:0] to_max_s1_q;
  logic signed [      INV_W-1:0] inverse_s1_q;
  logic                          parallel_s1_q;
  always_ff @(posedge clk) begin
    to_min_s1_q   <= DifferenceW'(in_min) - DifferenceW'(in_origin);
    to_max_s1_q   <= DifferenceW'(in_max) - DifferenceW'(in_origin);
    inverse_s1_q  <= in_inverse;
    parallel_s1_q <= in_parallel;
  end

  // Clocks 2, 3: products, floored to F fraction bits. Beside them, whether the origin lies
  // between the planes; a face counts as inside.
  logic signed [FlooredW-1:0] floored_min_s3_q;
  logic signed [FlooredW-1:0] floored_max_s3_q;
  split_multiply #(
      .A_W   (DifferenceW),
      .B_W   (INV_W),
      .SIGNED(1),
      .DROP  (INV_F),
      .OUT_W (FlooredW)
  ) multiply_min (
      .clk        (clk),
      .in_a       (to_min_s1_q),
      .in_b       (inverse_s1_q),
      .out_product(floored_min_s3_q)
  );
  split_multiply #(
      .A_W   (DifferenceW),
      .B_W   (INV_W),
      .SIGNED(1),
      .DROP  (INV_F),
      .OUT_W (FlooredW)
  ) multiply_max (
      .clk        (clk),
      .in_a       (to_max_s1_q),
      .in_b       (inverse_s1_q),
      .out_product(floored_max_s3_q)
  );

  logic inside_s2_q;
  logic inside_s4_q;
  logic parallel_s4_q;
  always_ff @(posedge clk) begin
    inside_s2_q <= to_min_s1_q <= DifferenceW'(0) && to_max_s1_q >= DifferenceW'(0);
  end
  delay_line #(
      .WIDTH(1),
      .DEPTH(2)
  ) delay_inside (
      .clk      (clk),
      .in_value (inside_s2_q),
      .out_value(inside_s4_q)
  );
  delay_line #(
      .WIDTH(1),
      .DEPTH(3)
  ) delay_parallel (
      .clk      (clk),
      .in_value (parallel_s1_q),
      .out_value(parallel_s4_q)
  );

  // Clock 4: saturation to the word.
  logic signed [W-1:0] t_min_s4_q;
  logic signed [W-1:0] t_max_s4_q;
  always_ff @(posedge clk) begin
    t_min_s4_q <= saturate(floored_min_s3_q);
    t_max_s4_q <= saturate(floored_max_s3_q);
  end

  // Clock 5: order, or the result for a parallel ray.
  logic signed [W-1:0] near_s5_q;
  logic signed [W-1:0] far_s5_q;
  logic                swapped_s4;
  logic                swapped_s5_q;
  assign swapped_s4 = t_max_s4_q < t_min_s4_q;
  always_ff @(posedge clk) begin
    swapped_s5_q <= swapped_s4 && !parallel_s4_q;
    if (parallel_s4_q) begin
      near_s5_q <= inside_s4_q ? Lowest : Highest;
      far_s5_q  <= inside_s4_q ? Highest : Lowest;
    end else begin
      near_s5_q <= swapped_s4 ? t_max_s4_q : t_min_s4_q;
      far_s5_q  <= swapped_s4 ? t_min_s4_q : t_max_s4_q;
    end
  end

  assign out_near    = near_s5_q;
  assign out_far     = far_s5_q;
  assign out_swapped = swapped_s5_q;

endmodule

`default_nettype wire
