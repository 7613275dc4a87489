// Purpose   reciprocal of a signed fixed-point number, one result a cycle
// Equation  out_y = 1 / in_x, magnitude rounded towards zero: as codes,
//           |out_y| = floor(2^(2F) / |in_x|)
// Ports     in_x   signed, W bits with F fraction bits; every code is legal
//           out_y  the same format
//           out_zero      in_x was 0
//           out_overflow  out_y is saturated: 1 / in_x lies outside the format, or in_x was 0
//           Outputs mean something only while out_valid is high.
// Special   0: out_y is the largest code, out_zero and out_overflow are high
//           quotient beyond the format: the largest or the smallest code, by the sign of in_x,
//           with out_overflow (-2^(W-1) exactly is inside the format)
//           |in_x| > 2^(2F) as a code: 0
// Latency   21 for all parameters; one input a cycle; a cycle with reset drops all cases in flight
// Source    seed: D. Das Sarma, D. W. Matula, Measuring the accuracy of ROM reciprocal tables,
//           IEEE Transactions on Computers 43(8), 1994; iteration: M. J. Flynn, On division by
//           functional iteration, IEEE Transactions on Computers C-19(8), 1970
//
// With D in [1/2, 1) and e = 1 - D r, a Newton step r(2 - D r) has error e^2: never above 1 / D.
// Truncation lowers it further, so estimates stay below. The seed's |e| <= 0.002114 becomes
// at most 0.002114^2 + 2^-20 + 2^-24 < 5.5e-6, and that (5.5e-6)^2 + 2^-34 + 2^-36 < 2^-33.
// A quotient below 2^32 thus falls short by less than 1/2 before its floor, and one upward
// correction by the remainder makes it exact.

`default_nettype none
`include "assertions.svh"
`include "orrery_pkg.svh"
`include "reciprocal_seed_pkg.svh"

module reciprocal #(
    parameter int unsigned W = 32,  // word bits, 8 to 32
    parameter int unsigned F = 16   // fraction bits, 0 to W-1
) (
    input logic clk,
    input logic rst,  // synchronous, active high

    // input stream
    input logic                in_valid,
    input logic signed [W-1:0] in_x,

    // output stream
    output logic                out_valid,
    output logic signed [W-1:0] out_y,
    output logic                out_zero,
    output logic                out_overflow
);

  localparam int unsigned Latency = orrery_pkg::reciprocal_latency();
  // How far the second estimate stands above the quotient for a mantissa without leading zeros.
  localparam int unsigned ShiftBase = 34 + W - 2 * F;
  localparam logic signed [2*W-1:0] Dividend = (2 * W)'(1) << (2 * F);

  if (W < 8 || W > 32) begin : g_word_range
    $error("reciprocal: W must be 8 to 32");
  end
  if (F > W - 1) begin : g_fraction_range
    $error("reciprocal: F must be 0 to W-1");
  end

  // valid_q[k]: whether the values *_s<k>_q belong to a case.
  logic [Latency:1] valid_q;
  always_ff @(posedge clk) begin
    if (rst) valid_q <= '0;
    else valid_q <= {valid_q[Latency-1:1], in_valid};
  end

  // Clock 1: sign and magnitude. |-2^(W-1)| fits the unsigned W bits.
  logic         negative_s1_q;
  logic         zero_s1_q;
  logic [W-1:0] magnitude_s1_q;
  logic [W-1:0] in_bits;
  assign in_bits = in_x;
  always_ff @(posedge clk) begin
    negative_s1_q  <= in_x[W-1];
    zero_s1_q      <= in_bits == '0;
    magnitude_s1_q <= in_x[W-1] ? -in_bits : in_bits;
  end

  // Clock 2: leading zeros within W bits, at the top of a 32-bit word. The marker below the
  // magnitude's LSB ends the count at W-1 for a magnitude of 0.
  logic [31:0] aligned_s1;
  logic [31:0] aligned_s2_q;
  logic [ 4:0] leading_s2_q;
  assign aligned_s1 = 32'(magnitude_s1_q) << (32 - W);
  always_ff @(posedge clk) begin
    aligned_s2_q <= aligned_s1;
    leading_s2_q <= orrery_pkg::leading_zeros_32(aligned_s1 | (32'd1 << (32 - W)));
  end

  // Clock 3: mantissa M = D 2^32, and the shift that takes the second estimate to the quotient.
  // A shift below 0 means a quotient beyond 2^34.
  logic [31:0] mantissa_s3_q;
  logic [ 6:0] shift_s3_q;
  logic        far_over_s3_q;
  logic        far_over_s2;
  assign far_over_s2 = ShiftBase[6:0] < 7'(leading_s2_q);
  always_ff @(posedge clk) begin
    mantissa_s3_q <= aligned_s2_q << leading_s2_q;
    shift_s3_q    <= far_over_s2 ? 7'd0 : ShiftBase[6:0] - 7'(leading_s2_q);
    far_over_s3_q <= far_over_s2;
  end

  // Clock 4: seed, 10 fraction bits.
  logic [10:0] seed_s4_q;
  logic [31:0] mantissa_s4_q;
  always_ff @(posedge clk) begin
    seed_s4_q     <= reciprocal_seed_pkg::seed(mantissa_s3_q[30:23]);
    mantissa_s4_q <= mantissa_s3_q;
  end

  // Clock 5: the seed once more. A table that becomes a memory is slow to show what was read, so
  // no multiplier waits for it; where the memory has a register at its output, this is that one.
  logic [10:0] seed_s5_q;
  logic [31:0] mantissa_s5_q;
  always_ff @(posedge clk) begin
    seed_s5_q     <= seed_s4_q;
    mantissa_s5_q <= mantissa_s4_q;
  end

  // Clocks 6, 7: product_1 = M seed, 42 fraction bits, near 1.
  logic [42:0] product_1_s7_q;
  logic [10:0] seed_s8_q;
  logic [31:0] mantissa_s10_q;
  split_multiply #(
      .A_W(32),
      .B_W(11)
  ) multiply_1 (
      .clk        (clk),
      .in_a       (mantissa_s5_q),
      .in_b       (seed_s5_q),
      .out_product(product_1_s7_q)
  );
  delay_line #(
      .WIDTH(11),
      .DEPTH(3)
  ) delay_seed (
      .clk      (clk),
      .in_value (seed_s5_q),
      .out_value(seed_s8_q)
  );
  delay_line #(
      .WIDTH(32),
      .DEPTH(5)
  ) delay_mantissa (
      .clk      (clk),
      .in_value (mantissa_s5_q),
      .out_value(mantissa_s10_q)
  );

  // Clock 8: correction_1 = 2 - D seed, floor to 24 fraction bits; 2 itself when M is 0.
  logic [25:0] correction_1_s8_q;
  always_ff @(posedge clk) begin
    correction_1_s8_q <= 26'(((44'd1 << 43) - 44'(product_1_s7_q)) >> 18);
  end

  // Clocks 9, 10: estimate_1 = seed correction_1, floor to 20 fraction bits; below 2 (4 for M = 0).
  logic [21:0] estimate_1_s10_q;
  split_multiply #(
      .A_W  (11),
      .B_W  (26),
      .DROP (14),
      .OUT_W(22)
  ) multiply_correction_1 (
      .clk        (clk),
      .in_a       (seed_s8_q),
      .in_b       (correction_1_s8_q),
      .out_product(estimate_1_s10_q)
  );

  // Clocks 11, 12: product_2 = M estimate_1, 52 fraction bits.
  logic [53:0] product_2_s12_q;
  logic [21:0] estimate_1_s13_q;
  split_multiply #(
      .A_W(32),
      .B_W(22)
  ) multiply_2 (
      .clk        (clk),
      .in_a       (mantissa_s10_q),
      .in_b       (estimate_1_s10_q),
      .out_product(product_2_s12_q)
  );
  delay_line #(
      .WIDTH(22),
      .DEPTH(3)
  ) delay_estimate_1 (
      .clk      (clk),
      .in_value (estimate_1_s10_q),
      .out_value(estimate_1_s13_q)
  );

  // Clock 13: correction_2 = 2 - D estimate_1, floor to 36 fraction bits; 2 itself when M is 0.
  logic [37:0] correction_2_s13_q;
  always_ff @(posedge clk) begin
    correction_2_s13_q <= 38'(((54'd1 << 53) - product_2_s12_q) >> 16);
  end

  // Clocks 14, 15: estimate_2 = estimate_1 correction_2, floor to 34 fraction bits; below 2
  // (8 for M = 0).
  logic [37:0] estimate_2_s15_q;
  logic [ 6:0] shift_s15_q;
  logic        far_over_s15_q;
  split_multiply #(
      .A_W  (22),
      .B_W  (38),
      .DROP (22),
      .OUT_W(38)
  ) multiply_correction_2 (
      .clk        (clk),
      .in_a       (estimate_1_s13_q),
      .in_b       (correction_2_s13_q),
      .out_product(estimate_2_s15_q)
  );
  delay_line #(
      .WIDTH(8),
      .DEPTH(12)
  ) delay_shift (
      .clk      (clk),
      .in_value ({far_over_s3_q, shift_s3_q}),
      .out_value({far_over_s15_q, shift_s15_q})
  );

  // Clock 16: quotient_0, the estimate in the word's LSB; beyond W bits it is all ones.
  logic [W-1:0] quotient_0_s16_q;
  logic [W-1:0] magnitude_s16_q;
  logic [ 37:0] shifted_s15;
  assign shifted_s15 = estimate_2_s15_q >> shift_s15_q;
  always_ff @(posedge clk) begin
    quotient_0_s16_q <= far_over_s15_q || (|shifted_s15[37:W]) ? {W{1'b1}} : shifted_s15[W-1:0];
  end
  delay_line #(
      .WIDTH(W),
      .DEPTH(15)
  ) delay_magnitude (
      .clk      (clk),
      .in_value (magnitude_s1_q),
      .out_value(magnitude_s16_q)
  );

  // Clocks 17, 18: back_product = quotient_0 |x|. |x| <= 2^(W-1), so its top bit stays 0.
  logic [2*W-1:0] back_product_s18_q;
  logic [  W-1:0] quotient_0_s19_q;
  logic [  W-1:0] magnitude_s19_q;
  split_multiply #(
      .A_W(W),
      .B_W(W)
  ) multiply_back (
      .clk        (clk),
      .in_a       (quotient_0_s16_q),
      .in_b       (magnitude_s16_q),
      .out_product(back_product_s18_q)
  );
  delay_line #(
      .WIDTH(2 * W),
      .DEPTH(3)
  ) delay_quotient_0 (
      .clk      (clk),
      .in_value ({quotient_0_s16_q, magnitude_s16_q}),
      .out_value({quotient_0_s19_q, magnitude_s19_q})
  );

  // Clock 19: remainder = 2^(2F) - back_product, below 0 only where quotient_0 is saturated.
  logic signed [2*W-1:0] remainder_s19_q;
  always_ff @(posedge clk) remainder_s19_q <= Dividend - $signed(back_product_s18_q);

  // Clock 20: quotient, one more than quotient_0 where the remainder allows it (a carry more).
  logic                [W:0] quotient_s20_q;
  logic signed [2*W-1:0] divisor_s19;
  logic                  negative_s20_q;
  logic                  zero_s20_q;
  assign divisor_s19 = $signed({{W{1'b0}}, magnitude_s19_q});
  always_ff @(posedge clk) begin
    quotient_s20_q <= (W + 1)'(quotient_0_s19_q) + (W + 1)'(remainder_s19_q >= divisor_s19);
  end
  delay_line #(
      .WIDTH(2),
      .DEPTH(19)
  ) delay_flags (
      .clk      (clk),
      .in_value ({negative_s1_q, zero_s1_q}),
      .out_value({negative_s20_q, zero_s20_q})
  );

  // Clock 21: saturation and sign.
  logic signed [W-1:0] y_s21_q;
  logic                zero_s21_q;
  logic                overflow_s21_q;
  logic        [  W:0] limit_s20;
  logic        [W-1:0] within_s20;
  logic                over_s20;
  assign limit_s20  = negative_s20_q ? {2'b01, {(W - 1) {1'b0}}} : {2'b00, {(W - 1) {1'b1}}};
  assign over_s20   = quotient_s20_q > limit_s20;
  assign within_s20 = over_s20 ? limit_s20[W-1:0] : quotient_s20_q[W-1:0];
  always_ff @(posedge clk) begin
    if (zero_s20_q) y_s21_q <= {1'b0, {(W - 1) {1'b1}}};
    else y_s21_q <= $signed(negative_s20_q ? -within_s20 : within_s20);
    zero_s21_q     <= zero_s20_q;
    overflow_s21_q <= zero_s20_q || over_s20;
  end

  assign out_valid    = valid_q[Latency];
  assign out_y        = y_s21_q;
  assign out_zero     = zero_s21_q;
  assign out_overflow = overflow_s21_q;

  `LOW_AFTER_RESET(valids_low, valid_q)
  // Estimates never exceed the quotient, and fall short by less than one.
  `HOLDS(estimate_from_below,
         !valid_q[19] || (&quotient_0_s19_q) || remainder_s19_q >= 0)
  `HOLDS(one_correction_is_enough,
         !valid_q[19] || magnitude_s19_q == '0 || (&quotient_0_s19_q)
         || remainder_s19_q < 2 * divisor_s19)

endmodule

`default_nettype wire
