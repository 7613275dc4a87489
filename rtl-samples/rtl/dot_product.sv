// Purpose   exact scalar product of two vectors of three components, one result a cycle
// Equation  out_dot = a_x b_x + a_y b_y + a_z b_z
// Formats   in_a_*  signed, A_W bits; in_b_*  signed, B_W bits; every code is legal
//           out_dot signed, A_W + B_W + 1 bits: three products of at most 2^(A_W+B_W-2) each;
//           as many fraction bits as the two operands together
// Latency   3, one product a cycle; no reset

`default_nettype none

module dot_product #(
    parameter int unsigned A_W = 32,  // 2 or more
    parameter int unsigned B_W = 18   // 2 or more
) (
    input logic clk,

    input logic signed [A_W-1:0] in_a_x,
    input logic signed [A_W-1:0] in_a_y,
    input logic signed [A_W-1:0] in_a_z,
    input logic signed [B_W-1:0] in_b_x,
    input logic signed [B_W-1:0] in_b_y,
    input logic signed [B_W-1:0] in_b_z,

    output logic signed [A_W+B_W:0] out_dot
);

  localparam int unsigned ProductW = A_W + B_W;
  localparam int unsigned DotW = ProductW + 1;

  // Clocks 1, 2: products.
  logic signed [ProductW-1:0] product_x_s2_q;
  logic signed [ProductW-1:0] product_y_s2_q;
  logic signed [ProductW-1:0] product_z_s2_q;
  split_multiply #(
      .A_W   (A_W),
      .B_W   (B_W),
      .SIGNED(1)
  ) multiply_x (
      .clk        (clk),
      .in_a       (in_a_x),
      .in_b       (in_b_x),
      .out_product(product_x_s2_q)
  );
  split_multiply #(
      .A_W   (A_W),
      .B_W   (B_W),
      .SIGNED(1)
  ) multiply_y (
      .clk        (clk),
      .in_a       (in_a_y),
      .in_b       (in_b_y),
      .out_product(product_y_s2_q)
  );
  split_multiply #(
      .A_W   (A_W),
      .B_W   (B_W),
      .SIGNED(1)
  ) multiply_z (
      .clk        (clk),
      .in_a       (in_a_z),
      .in_b       (in_b_z),
      .out_product(product_z_s2_q)
  );

  // Clock 3: their sum.
  logic signed [DotW-1:0] dot_s3_q;
  always_ff @(posedge clk) begin
    dot_s3_q <= DotW'(product_x_s2_q) + DotW'(product_y_s2_q) + DotW'(product_z_s2_q);
  end

  assign out_dot = dot_s3_q;

endmodule

`default_nettype wire
