// Purpose   code of 8 bits for a colour of 24, with ordered dither, one colour a cycle
// Equation  each channel: scaled = value (levels - 1), low = floor(scaled / 255),
//           rest = scaled - 255 low; out_code from the three levels:
//           3-3-2 (8, 8 and 4 levels): 32 red + 4 green + blue
//           6x6x6 (6 levels each):     36 red + 6 green + blue, 0 to 215
//           dithered:  level = low + 1 where 64 rest > 255 M[y mod 8][x mod 8] + 127, else low
//           otherwise: the nearest level, halves up: floor((2 scaled + 255) / 510)
//           M: picture_pkg::bayer_cell
// Ports     in_x, in_y  the low three bits of the place, unsigned
//           in_colour   red in bits 23..16, green in 15..8, blue in 7..0
//           in_palette  0: 3-3-2, 1: 6x6x6;  in_dither  1: dithered
//           out_code    means something only while out_valid is high
// Latency   4, one colour a cycle; a cycle with reset drops all in flight
// Source    matrix: B. E. Bayer, An optimum method for two-level rendition of continuous-tone
//           pictures, IEEE International Conference on Communications, 1973

`default_nettype none
`include "assertions.svh"
`include "picture_pkg.svh"

module colour_quantiser (
    input logic clk,
    input logic rst,  // synchronous, active high

    // settings, still while a colour is in flight
    input logic in_palette,
    input logic in_dither,

    // input stream
    input logic        in_valid,
    input logic [ 2:0] in_x,
    input logic [ 2:0] in_y,
    input logic [23:0] in_colour,

    // output stream
    output logic       out_valid,
    output logic [7:0] out_code
);

  localparam int unsigned Latency = picture_pkg::quantiser_latency();
  localparam logic [7:0] Nearest = 8'd127;

  // valid_q[k]: whether the values after k clocks belong to a colour.
  logic [Latency:1] valid_q;
  always_ff @(posedge clk) begin
    if (rst) valid_q <= '0;
    else valid_q <= {valid_q[Latency-1:1], in_valid};
  end

  // Clock 1: cell of the matrix. (Clocks 1 to 3 of the channels stand beside.)
  logic [5:0] cell_s1_q;
  always_ff @(posedge clk) cell_s1_q <= picture_pkg::bayer_cell(in_y, in_x);

  // Clock 2: threshold. 64 rest > t exactly where rest > floor(t / 64).
  logic [13:0] raised_s1;
  logic [ 7:0] threshold_s2_q;
  assign raised_s1 = {cell_s1_q, 8'd0} - 14'(cell_s1_q) + 14'd127;
  always_ff @(posedge clk) threshold_s2_q <= in_dither ? raised_s1[13:6] : Nearest;

  // Clocks 1 to 3: levels.
  logic [2:0] steps_high;
  logic [2:0] steps_blue;
  logic [2:0] red_s3;
  logic [2:0] green_s3;
  logic [2:0] blue_s3;
  assign steps_high = in_palette ? 3'd5 : 3'd7;
  assign steps_blue = in_palette ? 3'd5 : 3'd3;
  channel_quantiser red (
      .clk         (clk),
      .in_channel  (in_colour[23:16]),
      .in_steps    (steps_high),
      .in_threshold(threshold_s2_q),
      .out_level   (red_s3)
  );
  channel_quantiser green (
      .clk         (clk),
      .in_channel  (in_colour[15:8]),
      .in_steps    (steps_high),
      .in_threshold(threshold_s2_q),
      .out_level   (green_s3)
  );
  channel_quantiser blue (
      .clk         (clk),
      .in_channel  (in_colour[7:0]),
      .in_steps    (steps_blue),
      .in_threshold(threshold_s2_q),
      .out_level   (blue_s3)
  );

  // Clock 4: code. Six levels: (6 red + green) 6 + blue, at most 215.
  logic [5:0] pair_s3;
  logic [7:0] code_s4_q;
  assign pair_s3 = (6'(red_s3) << 2) + (6'(red_s3) << 1) + 6'(green_s3);
  always_ff @(posedge clk) begin
    if (in_palette) code_s4_q <= (8'(pair_s3) << 2) + (8'(pair_s3) << 1) + 8'(blue_s3);
    else code_s4_q <= {red_s3, green_s3, blue_s3[1:0]};
  end

  assign out_valid = valid_q[Latency];
  assign out_code  = code_s4_q;

  // Bits below a sixty-fourth of a threshold decide nothing.
  logic unused;
  assign unused = ^raised_s1[5:0];

  `LOW_AFTER_RESET(valids_low, valid_q)
  `HOLDS(blue_has_its_levels, !valid_q[3] || blue_s3 <= steps_blue)
  `HOLDS(six_levels_end_at_215, !out_valid || !in_palette || out_code <= 8'd215)

endmodule

`default_nettype wire
