// Purpose   turns pixels of 24 bits into pictures of 256 colours in bit planes
// Equation  code of a pixel as colour_quantiser, words of a picture as plane_stream
// Ports     settings   width and height less one; palette 0: 3-3-2, 1: 6x6x6; dither; layout 0:
//                      row-interleaved, 1: tiles. Still from a picture's first pixel until its swap
//                      is no longer pending
//           pixel_*    in any order; x and y unsigned, colour: red in bits 23..16, green in 15..8,
//                      blue in 7..0. Pixels beyond width or height leave no trace in the words
//           swap       a pulse: the picture is complete, with what is taken in this very cycle. Once
//                      the one before is given out it becomes the front picture and is given once;
//                      pixels then go to the other memory. A swap while one is pending is lost
//           swap_pending  from the cycle after swap until the picture becomes the front one;
//                      pixels are not ready meanwhile
//           streamed   a pulse with the last word's transfer
//           out_*      as plane_stream
// Special   pixels that a picture does not have keep the code of two pictures before, or of
//           power-up. A reset drops pixels in flight, the stream and a pending swap; codes stay, and
//           memory 1 is written first
// Flow      pixel and out: valid and ready, one a cycle each. A pixel is in memory 5 cycles after
//           its transfer; the first word is offered 4 cycles after swap_pending ends
// Source    as colour_quantiser and plane_stream

`default_nettype none
`include "assertions.svh"
`include "picture_pkg.svh"

module picture_converter #(
    parameter int unsigned XW = 8,  // address bits of x, 5 to 12
    parameter int unsigned YW = 8   // address bits of y, 3 to 12
) (
    input logic clk,
    input logic rst,  // synchronous, active high

    // settings
    input logic [XW-1:0] width_less_1,
    input logic [YW-1:0] height_less_1,
    input logic          palette,
    input logic          dither,
    input logic          layout,

    // input stream
    input  logic          pixel_valid,
    output logic          pixel_ready,
    input  logic [XW-1:0] pixel_x,
    input  logic [YW-1:0] pixel_y,
    input  logic [  23:0] pixel_colour,

    // pictures
    input  logic swap,
    output logic swap_pending,
    output logic streamed,

    // output stream
    output logic        out_valid,
    input  logic        out_ready,
    output logic [15:0] out_word,
    output logic        out_last
);

  localparam int unsigned Latency = picture_pkg::quantiser_latency();

  if (XW < 5 || XW > 12) begin : g_x_range
    $error("picture_converter: XW must be 5 to 12");
  end
  if (YW < 3 || YW > 12) begin : g_y_range
    $error("picture_converter: YW must be 3 to 12");
  end

  // Pixels on their way to the back memory.
  logic             accept;
  logic [Latency:1] on_way_q;
  assign pixel_ready = !swap_pending;
  assign accept      = pixel_valid && pixel_ready;
  always_ff @(posedge clk) begin
    if (rst) on_way_q <= '0;
    else on_way_q <= {on_way_q[Latency-1:1], accept};
  end

  // The front picture; the other one is written.
  logic front_q;
  logic pending_q;
  logic turn;  // the back picture becomes the front one
  logic giving;
  assign turn = pending_q && !giving && on_way_q == '0;
  always_ff @(posedge clk) begin
    if (rst) begin
      front_q   <= 1'b0;
      pending_q <= 1'b0;
    end else begin
      if (turn) front_q <= !front_q;
      if (turn) pending_q <= 1'b0;
      else if (swap) pending_q <= 1'b1;
    end
  end
  assign swap_pending = pending_q;

  // Clocks 1 to 4: codes.
  logic          code_valid;
  logic [   7:0] code;
  logic [XW-1:0] code_x;
  logic [YW-1:0] code_y;
  colour_quantiser quantiser (
      .clk       (clk),
      .rst       (rst),
      .in_palette(palette),
      .in_dither (dither),
      .in_valid  (accept),
      .in_x      (pixel_x[2:0]),
      .in_y      (pixel_y[2:0]),
      .in_colour (pixel_colour),
      .out_valid (code_valid),
      .out_code  (code)
  );
  delay_line #(
      .WIDTH(XW + YW),
      .DEPTH(Latency)
  ) delay_place (
      .clk      (clk),
      .in_value ({pixel_x, pixel_y}),
      .out_value({code_x, code_y})
  );

  // Clock 5: memory.
  logic           read_enable;
  logic           read_paired;
  logic [ XW-1:0] read_x;
  logic [ YW-1:0] read_y;
  logic [  127:0] codes;
  picture_memory #(
      .XW(XW),
      .YW(YW)
  ) memory (
      .clk        (clk),
      .write_valid(code_valid),
      .write_bank (!front_q),
      .write_x    (code_x),
      .write_y    (code_y),
      .write_code (code),
      .read_enable(read_enable),
      .read_bank  (front_q),
      .read_paired(read_paired),
      .read_x     (read_x),
      .read_y     (read_y),
      .out_codes  (codes)
  );

  plane_stream #(
      .XW(XW),
      .YW(YW)
  ) stream (
      .clk             (clk),
      .rst             (rst),
      .start           (turn),
      .in_tiled        (layout),
      .in_width_less_1 (width_less_1),
      .in_height_less_1(height_less_1),
      .busy            (giving),
      .read_enable     (read_enable),
      .read_paired     (read_paired),
      .read_x          (read_x),
      .read_y          (read_y),
      .codes           (codes),
      .out_valid       (out_valid),
      .out_ready       (out_ready),
      .out_word        (out_word),
      .out_last        (out_last)
  );
  assign streamed = out_valid && out_ready && out_last;

  `LOW_AFTER_RESET(nothing_in_hand, {swap_pending, streamed, on_way_q})
  `HOLDS(no_pixel_while_pending, !(pixel_ready && swap_pending))
  `HOLDS(places_in_step, code_valid == on_way_q[Latency])

endmodule

`default_nettype wire
