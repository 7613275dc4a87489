// Purpose   reads a picture out of picture_memory and gives it as words of bit planes
// Equation  plane p is bit p of the code. in_tiled = 0, row-interleaved: for each row planes 0 to 7,
//           each ceil(width / 16) words, the leftmost pixel in bit 15. in_tiled = 1, tiles of
//           8 x 8 in rows from the top left: for each tile planes 0 to 7, each 4 words of two
//           rows, the upper in bits 15..8, the leftmost pixel in bits 15 and 7.
//           Pixels beyond width or height are 0
// Ports     start           a pulse while idle: the picture in read_bank is given once
//           in_*_less_1     width and height less one, unsigned; taken with start, like in_tiled
//           read_*, codes   as picture_memory has them
//           out_word, out_last  word and whether it is the last; mean something only while
//                               out_valid is high
// Flow      out: valid and ready, a word a cycle; the first is offered 4 cycles after start
// Special   a reset ends the picture
// Source    rows: J. Morrison, "ILBM" Interleaved Bitmap, Electronic Arts 1986; tiles: no source

`default_nettype none
`include "assertions.svh"

module plane_stream #(
    parameter int unsigned XW = 8,  // address bits of x, 5 to 12
    parameter int unsigned YW = 8   // address bits of y, 3 to 12
) (
    input logic clk,
    input logic rst,  // synchronous, active high

    // picture
    input  logic          start,
    input  logic          in_tiled,
    input  logic [XW-1:0] in_width_less_1,
    input  logic [YW-1:0] in_height_less_1,
    output logic          busy,

    // memory
    output logic          read_enable,
    output logic          read_paired,
    output logic [XW-1:0] read_x,
    output logic [YW-1:0] read_y,
    input  logic [ 127:0] codes,

    // output stream
    output logic        out_valid,
    input  logic        out_ready,
    output logic [15:0] out_word,
    output logic        out_last
);

  if (XW < 5 || XW > 12) begin : g_x_range
    $error("plane_stream: XW must be 5 to 12");
  end
  if (YW < 3 || YW > 12) begin : g_y_range
    $error("plane_stream: YW must be 3 to 12");
  end

  // All stages move together, whenever the last can.
  logic moves;
  assign moves = !out_valid || out_ready;

  // Where the next word stands: x in steps of 8, y in steps of 2 when tiled.
  logic          tiled_q;
  logic [XW-1:0] width_less_1_q;
  logic [YW-1:0] height_less_1_q;
  logic          places_q;  // words are left
  logic [XW-4:0] x_q;
  logic [YW-1:0] y_q;
  logic [   2:0] plane_q;
  logic          last_group;  // of a plane
  logic          last_plane;
  logic          last_column;
  logic          last_row;
  logic          last_place;
  assign last_group  = tiled_q ? (y_q[2:1] == 2'd3) : (x_q[XW-4:1] == width_less_1_q[XW-1:4]);
  assign last_plane  = plane_q == 3'd7;
  assign last_column = x_q == width_less_1_q[XW-1:3];
  assign last_row    = tiled_q ? ((y_q | YW'(7)) == (height_less_1_q | YW'(7)))
                               : (y_q == height_less_1_q);
  assign last_place  = last_group && last_plane && last_row && (!tiled_q || last_column);

  always_ff @(posedge clk) begin
    if (start) begin
      tiled_q         <= in_tiled;
      width_less_1_q  <= in_width_less_1;
      height_less_1_q <= in_height_less_1;
    end
  end

  // One place a move: within the plane, the next plane, then the next row or tile.
  logic [XW-4:0] x_d;
  logic [YW-1:0] y_d;
  always_comb begin
    x_d = x_q;
    y_d = y_q;
    if (!last_group) begin
      if (tiled_q) y_d = y_q + YW'(2);
      else x_d = x_q + (XW - 3)'(2);
    end else if (!tiled_q) begin
      x_d = '0;
      if (last_plane) y_d = y_q + YW'(1);
    end else if (!last_plane) begin
      y_d = y_q & ~YW'(7);
    end else if (!last_column) begin
      x_d = x_q + (XW - 3)'(1);
      y_d = y_q & ~YW'(7);
    end else begin
      x_d = '0;
      y_d = y_q + YW'(2);
    end
  end
  always_ff @(posedge clk) begin
    if (rst) begin
      places_q <= 1'b0;
    end else if (start) begin
      places_q <= 1'b1;
      x_q      <= '0;
      y_q      <= '0;
      plane_q  <= 3'd0;
    end else if (moves && places_q) begin
      places_q <= !last_place;
      x_q      <= x_d;
      y_q      <= y_d;
      plane_q  <= plane_q + 3'(last_group);
    end
  end
  assign read_enable = moves;
  assign read_paired = tiled_q;
  assign read_x      = {x_q, 3'd0};
  assign read_y      = y_q;

  // Clocks 1, 2: codes come from memory; which of them stand within the picture.
  logic [15:0] shown;
  for (genvar i = 0; i < 16; i++) begin : pixel
    logic [XW-1:0] x;
    logic [YW-1:0] y;
    assign x = tiled_q ? {x_q, 3'(i)} : {x_q[XW-4:1], 4'(i)};
    assign y = tiled_q ? {y_q[YW-1:1], 1'(i >= 8)} : y_q;
    assign shown[15-i] = x <= width_less_1_q && y <= height_less_1_q;
  end
  logic        valid_s1_q;
  logic        valid_s2_q;
  logic [15:0] shown_s1_q;
  logic [15:0] shown_s2_q;
  logic [ 2:0] plane_s1_q;
  logic [ 2:0] plane_s2_q;
  logic        last_s1_q;
  logic        last_s2_q;
  always_ff @(posedge clk) begin
    if (rst) {valid_s1_q, valid_s2_q} <= '0;
    else if (moves) {valid_s1_q, valid_s2_q} <= {places_q, valid_s1_q};
    if (moves) begin
      {shown_s1_q, plane_s1_q, last_s1_q} <= {shown, plane_q, last_place};
      {shown_s2_q, plane_s2_q, last_s2_q} <= {shown_s1_q, plane_s1_q, last_s1_q};
    end
  end

  // Clock 3: one bit of each.
  logic        valid_s3_q;
  logic [15:0] word_s3_q;
  logic        last_s3_q;
  logic [15:0] bits_s2;
  for (genvar i = 0; i < 16; i++) begin : bit_of
    logic [7:0] code;
    assign code          = codes[8*(15-i)+:8];
    assign bits_s2[15-i] = code[plane_s2_q] && shown_s2_q[15-i];
  end
  always_ff @(posedge clk) begin
    if (rst) valid_s3_q <= 1'b0;
    else if (moves) valid_s3_q <= valid_s2_q;
    if (moves) {word_s3_q, last_s3_q} <= {bits_s2, last_s2_q};
  end

  assign busy      = places_q || valid_s1_q || valid_s2_q || valid_s3_q;
  assign out_valid = valid_s3_q;
  assign out_word  = word_s3_q;
  assign out_last  = last_s3_q;

  `LOW_AFTER_RESET(nothing_to_give, {busy, out_valid})
  `HOLDS(started_while_idle, !start || !busy)
  `HOLDS(last_is_the_end, !(out_valid && out_last) || !(places_q || valid_s1_q || valid_s2_q))
  `HOLDS(stalled_word_stands,
         !$past(out_valid && !out_ready && !rst) || (out_valid && $stable({out_word, out_last})))

endmodule

`default_nettype wire
