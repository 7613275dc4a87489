// Purpose   a wide product from multipliers of at most 18 x 18 bits, one result a cycle
// Equation  out_product = floor(in_a * in_b / 2^DROP), its lowest OUT_W bits
// Formats   in_a, in_b: both signed (SIGNED = 1) or both unsigned (SIGNED = 0);
//           out_product: like them; all bits of the product when OUT_W + DROP >= A_W + B_W
// Latency   2, one product a cycle; no reset
// Source    schoolbook multiplication in digits of 2^DigitA and 2^DigitB
//
// 17 magnitude bits and a sign fit the 18-bit signed multipliers of small FPGAs. Every digit but
// the top one is never negative, so each partial product is a plain signed product. The second
// clock sums the partial products: nine at most in this chip (36 x 36 bits), mostly four.

`default_nettype none
`include "orrery_pkg.svh"

module split_multiply #(
    parameter int unsigned A_W    = 32,        // 2 or more
    parameter int unsigned B_W    = 32,        // 2 or more
    parameter int unsigned SIGNED = 0,         // 0 or 1
    parameter int unsigned DROP   = 0,         // low bits of the product left out
    parameter int unsigned OUT_W  = A_W + B_W  // bits of the result
) (
    input logic clk,

    input logic [A_W-1:0] in_a,
    input logic [B_W-1:0] in_b,

    output logic [OUT_W-1:0] out_product
);

  localparam int unsigned DigitsA = orrery_pkg::ceil_div(A_W - SIGNED, 17);
  localparam int unsigned DigitsB = orrery_pkg::ceil_div(B_W - SIGNED, 17);
  localparam int unsigned DigitA = orrery_pkg::ceil_div(A_W - SIGNED, DigitsA);
  localparam int unsigned DigitB = orrery_pkg::ceil_div(B_W - SIGNED, DigitsB);
  localparam int unsigned ExtendedA = DigitsA * DigitA + 1;  // and a sign
  localparam int unsigned ExtendedB = DigitsB * DigitB + 1;
  localparam int unsigned SumW = OUT_W + DROP;
  localparam int unsigned DigitsW = DigitA + DigitB + 2;  // the product of two digits with signs
  localparam int unsigned PartialW = DigitsW < SumW ? DigitsW : SumW;

  if (A_W < 2 || B_W < 2) begin : g_operand_range
    $error("split_multiply: A_W and B_W must be at least 2");
  end
  if (SIGNED > 1) begin : g_signed_range
    $error("split_multiply: SIGNED must be 0 or 1");
  end
  if (OUT_W < 1) begin : g_result_range
    $error("split_multiply: OUT_W must be at least 1");
  end

  logic [ExtendedA-1:0] extended_a;
  logic [ExtendedB-1:0] extended_b;
  if (SIGNED != 0) begin : g_signed
    assign extended_a = ExtendedA'($signed(in_a));
    assign extended_b = ExtendedB'($signed(in_b));
  end else begin : g_unsigned
    assign extended_a = ExtendedA'(in_a);
    assign extended_b = ExtendedB'(in_b);
  end

  // Clock 1: each digit of a times each digit of b. The sum of them follows in the same loop, so
  // that sum[k].total holds the partial products 0 to k.
  for (genvar k = 0; k < DigitsA * DigitsB; k++) begin : sum
    localparam int unsigned IndexA = k / DigitsB;
    localparam int unsigned IndexB = k % DigitsB;
    logic signed [DigitA:0] digit_a;
    logic signed [DigitB:0] digit_b;
    if (IndexA == DigitsA - 1) begin : g_top_a
      assign digit_a = extended_a[ExtendedA-1-:DigitA+1];
    end else begin : g_low_a
      assign digit_a = {1'b0, extended_a[IndexA*DigitA+:DigitA]};
    end
    if (IndexB == DigitsB - 1) begin : g_top_b
      assign digit_b = extended_b[ExtendedB-1-:DigitB+1];
    end else begin : g_low_b
      assign digit_b = {1'b0, extended_b[IndexB*DigitB+:DigitB]};
    end

    logic signed [PartialW-1:0] partial_s1_q;
    always_ff @(posedge clk) partial_s1_q <= PartialW'(digit_a) * PartialW'(digit_b);

    logic signed [SumW-1:0] placed;
    logic signed [SumW-1:0] total;
    assign placed = SumW'(partial_s1_q) <<< (IndexA * DigitA + IndexB * DigitB);
    if (k == 0) begin : g_first
      assign total = placed;
    end else begin : g_later
      assign total = sum[k-1].total + placed;
    end
  end

  // Clock 2: the sum, without the bits to drop.
  logic [OUT_W-1:0] product_s2_q;
  always_ff @(posedge clk) begin
    product_s2_q <= OUT_W'(sum[DigitsA*DigitsB-1].total >>> DROP);
  end

  assign out_product = product_s2_q;

endmodule

`default_nettype wire
