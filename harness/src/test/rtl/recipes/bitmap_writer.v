// Pixels of 24 bits in any order to 3-3-2 with ordered dither, then bit planes in words of 16 bits.
// One memory: no pixel is taken while a picture goes out.
module bitmap_writer #(
    parameter XB = 5,
    parameter YB = 4,
    parameter W = 20,
    parameter H = 11,
    parameter TILES = 0
) (
    input clk,
    input nrst,
    input px_vld,
    output px_rdy,
    input [XB-1:0] px_x,
    input [YB-1:0] px_y,
    input [23:0] px_rgb,
    input px_final,
    output reg wd_vld,
    input wd_rdy,
    output reg [15:0] wd_bits,
    output reg wd_final
);
  reg [7:0] store [0:(1<<(XB+YB))-1];
  reg sending;
  reg [3:0] k;                   // bit of the word
  reg [15:0] across, down;       // first pixel of the block
  reg [2:0] plane;
  reg [1:0] pair;                // of rows in a tile

  function [5:0] rank(input [2:0] x, input [2:0] y);
    reg [2:0] q;
    begin
      q = x ^ y;
      rank = {q[0], y[0], q[1], y[1], q[2], y[2]};
    end
  endfunction

  function [2:0] step(input [7:0] v, input [2:0] top, input [5:0] m);
    reg [15:0] scaled, low, rest, need;
    begin
      scaled = {8'd0, v} * {13'd0, top};
      low = scaled / 16'd255;
      rest = scaled - low * 16'd255;
      need = {10'd0, m} * 16'd255 + 16'd127;
      if ((rest << 6) > need) low = low + 16'd1;
      step = low[2:0];
    end
  endfunction

  wire [5:0] cell_rank = rank(px_x[2:0], px_y[2:0]);
  wire [2:0] red = step(px_rgb[23:16], 3'd7, cell_rank);
  wire [2:0] green = step(px_rgb[15:8], 3'd7, cell_rank);
  wire [2:0] blue = step(px_rgb[7:0], 3'd3, cell_rank);

  wire [15:0] at_x = across + (TILES ? {13'd0, k[2:0]} : {12'd0, k});
  wire [15:0] at_y = down + (TILES ? {13'd0, pair, k[3]} : 16'd0);
  wire covered = at_x < W && at_y < H;
  wire [XB+YB-1:0] place = {at_y[YB-1:0], at_x[XB-1:0]};
  wire [7:0] code = store[place];

  wire [15:0] wide = TILES ? 16'd8 : 16'd16;
  wire [15:0] high = TILES ? 16'd8 : 16'd1;
  wire pair_end = !TILES || pair == 2'd3;
  wire row_end = across + wide >= W;
  wire last_row = down + high >= H;
  wire all_end = pair_end && row_end && plane == 3'd7 && last_row;

  assign px_rdy = !sending;

  always @(posedge clk or negedge nrst)
    if (!nrst) begin
      sending <= 0;
      wd_vld <= 0;
      k <= 0;
    end else begin
      if (px_vld && px_rdy) begin
        store[{px_y, px_x}] <= {red, green, blue[1:0]};
        if (px_final) begin
          sending <= 1;
          k <= 0;
          across <= 0;
          down <= 0;
          plane <= 0;
          pair <= 0;
        end
      end
      if (sending && !wd_vld) begin
        wd_bits <= {wd_bits[14:0], covered & code[plane]};
        wd_final <= all_end;
        k <= k + 4'd1;
        if (k == 4'd15) wd_vld <= 1;
      end
      if (wd_vld && wd_rdy) begin
        wd_vld <= 0;
        if (all_end) sending <= 0;
        if (TILES != 0) begin
          pair <= pair + 2'd1;
          if (pair_end) begin
            plane <= plane + 3'd1;
            if (plane == 3'd7) begin
              across <= row_end ? 16'd0 : across + wide;
              if (row_end) down <= down + high;
            end
          end
        end else begin
          across <= row_end ? 16'd0 : across + wide;
          if (row_end) begin
            plane <= plane + 3'd1;
            if (plane == 3'd7) down <= down + high;
          end
        end
      end
    end
endmodule
