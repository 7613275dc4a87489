// Purpose   one axis of the sphere test: the square of that component of the vector from the foot
//           of the perpendicular to the centre
// Equation  across = offset - projection direction; square = across^2
// Ports     in_offset      signed, W + 1 bits with F fraction bits
//           in_direction   signed, DW bits with DF fraction bits
//           in_projection  signed, W + G + 2 bits with F + G fraction bits
//           out_square     not negative, 2 (W + G) bits with 2 (F + G) fraction bits
// Rounding  projection direction: nearest, halves up, to F + G fraction bits; then across:
//           saturated to W + G bits; all else exact
// Latency   7, one case a cycle; no reset (valid bits are the user's)
// Source    sphere_pipeline.sv. Registers count from the start of that pipeline: operands come
//           as values of clock 5.

`default_nettype none

module sphere_axis #(
    parameter int unsigned W  = 32,
    parameter int unsigned DW = 18,
    parameter int unsigned DF = 16,
    parameter int unsigned G  = 4
) (
    input logic clk,

    input logic signed [    W:0] in_offset,
    input logic signed [ DW-1:0] in_direction,
    input logic signed [W+G+1:0] in_projection,

    output logic [2*(W+G)-1:0] out_square
);

  localparam int unsigned ProjectionW = W + G + 2;
  // One fraction bit below the last one stays: floored there, a number still rounds alike.
  localparam int unsigned ProductW = ProjectionW + DW - (DF - 1);
  localparam int unsigned AlongW = ProductW - 1;  // too long for a product's rounding to overflow
  localparam int unsigned DifferenceW = AlongW + 1;  // a borrow; wider than the offset
  localparam int unsigned AcrossW = W + G;

  // Clocks 6, 7: projection direction, floored to F + G + 1 fraction bits.
  logic signed [ProductW-1:0] product_s7_q;
  split_multiply #(
      .A_W   (ProjectionW),
      .B_W   (DW),
      .SIGNED(1),
      .DROP  (DF - 1),
      .OUT_W (ProductW)
  ) multiply_along (
      .clk        (clk),
      .in_a       (in_projection),
      .in_b       (in_direction),
      .out_product(product_s7_q)
  );

  // Clock 8: this component of the way from the origin to the foot.
  logic signed [AlongW-1:0] along_s8_q;
  round_saturate #(
      .IN_W (ProductW),
      .DROP (1),
      .OUT_W(AlongW)
  ) round_along (
      .clk      (clk),
      .in_value (product_s7_q),
      .out_value(along_s8_q)
  );

  // Clock 9: from the foot to the centre, exact.
  logic signed [          W:0] offset_s8_q;
  logic signed [DifferenceW-1:0] difference_s9_q;
  delay_line #(
      .WIDTH(W + 1),
      .DEPTH(3)
  ) delay_offset (
      .clk      (clk),
      .in_value (in_offset),
      .out_value(offset_s8_q)
  );
  always_ff @(posedge clk) begin
    difference_s9_q <= (DifferenceW'(offset_s8_q) <<< G) - DifferenceW'(along_s8_q);
  end

  // Clock 10: saturated. What does not fit is longer than any radius.
  logic signed [AcrossW-1:0] across_s10_q;
  round_saturate #(
      .IN_W (DifferenceW),
      .DROP (0),
      .OUT_W(AcrossW)
  ) narrow_across (
      .clk      (clk),
      .in_value (difference_s9_q),
      .out_value(across_s10_q)
  );

  // Clocks 11, 12: its square.
  split_multiply #(
      .A_W   (AcrossW),
      .B_W   (AcrossW),
      .SIGNED(1)
  ) multiply_across (
      .clk        (clk),
      .in_a       (across_s10_q),
      .in_b       (across_s10_q),
      .out_product(out_square)
  );

endmodule

`default_nettype wire
