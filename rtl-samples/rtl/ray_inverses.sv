// Purpose   inverse of a length, or of the three components of a direction, one reciprocal for all
// Equation  as reciprocal with W and F
// Ports     in_length     signed, W bits with F fraction bits: its inverse is out_x
//           in_direction  signed, DW bits with DF fraction bits each, x in the lowest: each is
//                         first rounded to a word, halves up
//           in_is_length  chooses between the two
//           out_inverse   of x in the lowest bits
//           out_parallel  the component is 0 or its inverse saturates
//           Both stand still from out_valid, a pulse, until the next start
// Latency   22 from start for a length, 25 for a direction; start while one is under way is not
//           allowed. A reset drops what is under way

`default_nettype none
`include "assertions.svh"

module ray_inverses #(
    parameter int unsigned W  = 32,  // word bits, 10 to 32
    parameter int unsigned F  = 16,  // fraction bits, 0 to W-1
    parameter int unsigned DW = 18,  // direction bits, 8 to W; DW-DF below W-F
    parameter int unsigned DF = 16   // direction fraction bits, 4 to DW-1
) (
    input logic clk,
    input logic rst,  // synchronous, active high

    // input
    input logic                start,
    input logic                in_is_length,
    input logic signed [W-1:0] in_length,
    input logic [    3*DW-1:0] in_direction,

    // output
    output logic           out_valid,
    output logic [3*W-1:0] out_inverse,
    output logic [    2:0] out_parallel
);

  // Fraction bits that a component loses, or gets, as a word.
  localparam int unsigned Drop = DF > F ? DF - F : 0;
  localparam int unsigned Raise = F > DF ? F - DF : 0;

  if (W < 10 || W > 32) begin : g_word_range
    $error("ray_inverses: W must be 10 to 32");
  end
  if (F > W - 1) begin : g_fraction_range
    $error("ray_inverses: F must be 0 to W-1");
  end
  if (DW < 8 || DW > W) begin : g_direction_word_range
    $error("ray_inverses: DW must be 8 to W");
  end
  if (DF < 4 || DF > DW - 1) begin : g_direction_fraction_range
    $error("ray_inverses: DF must be 4 to DW-1");
  end
  if (DW + F >= W + DF) begin : g_direction_range
    $error("ray_inverses: DW-DF must be below W-F");
  end

  // Components as words.
  logic [3*W-1:0] words;
  for (genvar k = 0; k < 3; k++) begin : axis
    logic signed [ DW-1:0] component;
    logic signed [W+DF:0] widened;
    logic signed [W+DF:0] rounded;
    assign component = in_direction[k*DW+:DW];
    assign widened = (W + DF + 1)'(component) <<< Raise;
    if (Drop > 0) begin : g_rounded
      assign rounded = (widened + ($signed((W + DF + 1)'(1)) <<< (Drop - 1))) >>> Drop;
    end else begin : g_exact
      assign rounded = widened;
    end
    assign words[k*W+:W] = rounded[W-1:0];
    logic unused;
    assign unused = ^rounded[W+DF:W];
  end

  // One is asked for with start, the further two in the cycles after.
  logic       length_q;
  logic [1:0] asked_q;  // 0: nothing to ask, 1 and 2: the next component
  logic [1:0] given_q;
  logic       unit_in_valid;
  logic       unit_valid;
  logic       unit_overflow;
  logic       unit_zero;
  logic [W-1:0] unit_in;
  logic [W-1:0] unit_out;
  always_comb begin
    case (asked_q)
      2'd1:    unit_in = words[W+:W];
      2'd2:    unit_in = words[2*W+:W];
      default: unit_in = in_is_length ? in_length : words[0+:W];
    endcase
  end
  assign unit_in_valid = start || asked_q != 2'd0;
  always_ff @(posedge clk) begin
    if (rst) asked_q <= 2'd0;
    else if (start) asked_q <= in_is_length ? 2'd0 : 2'd1;
    else if (asked_q == 2'd1) asked_q <= 2'd2;
    else asked_q <= 2'd0;
    if (start) length_q <= in_is_length;
  end

  reciprocal #(
      .W(W),
      .F(F)
  ) unit (
      .clk         (clk),
      .rst         (rst),
      .in_valid    (unit_in_valid),
      .in_x        (unit_in),
      .out_valid   (unit_valid),
      .out_y       (unit_out),
      .out_zero    (unit_zero),
      .out_overflow(unit_overflow)
  );

  // They come in the order in which they were asked for.
  logic [3*W-1:0] inverse_q;
  logic [    2:0] parallel_q;
  logic           last;
  logic           valid_q;
  assign last = unit_valid && given_q == (length_q ? 2'd0 : 2'd2);
  always_ff @(posedge clk) begin
    if (rst || last) given_q <= 2'd0;
    else if (unit_valid) given_q <= given_q + 2'd1;
    if (rst) valid_q <= 1'b0;
    else valid_q <= last;
    if (unit_valid) begin
      case (given_q)
        2'd0: begin
          inverse_q[0+:W] <= unit_out;
          parallel_q[0]   <= unit_overflow;
        end
        2'd1: begin
          inverse_q[W+:W] <= unit_out;
          parallel_q[1]   <= unit_overflow;
        end
        default: begin
          inverse_q[2*W+:W] <= unit_out;
          parallel_q[2]     <= unit_overflow;
        end
      endcase
    end
  end
  assign out_valid    = valid_q;
  assign out_inverse  = inverse_q;
  assign out_parallel = parallel_q;

  // An inverse of 0 overflows as well.
  logic unused;
  assign unused = unit_zero;

  `LOW_AFTER_RESET(nothing_under_way, {out_valid, asked_q, given_q})
  `HOLDS(one_at_a_time, !start || (asked_q == 2'd0 && given_q == 2'd0))

endmodule

`default_nettype wire
