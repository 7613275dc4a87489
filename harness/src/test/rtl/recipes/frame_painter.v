// Two painters share a frame: one has the even columns, the other, slower, the odd ones.
// A pixel is red by column, green by row, blue by both.
module frame_painter #(
    parameter W = 24,
    parameter H = 10
) (
    input clk,
    input rst,
    input go,
    output reg px_valid,
    input px_ready,
    output reg [7:0] px_x,
    output reg [7:0] px_y,
    output reg [23:0] px_rgb,
    output reg finished
);
  reg busy;
  reg [7:0] even_x, even_y, odd_x, odd_y;
  reg [2:0] delay;
  wire even_left = even_y < H;
  wire odd_left = odd_y < H;
  wire odd_turn = odd_left && (delay == 3'd0 || !even_left);
  wire [7:0] x = odd_turn ? odd_x : even_x;
  wire [7:0] y = odd_turn ? odd_y : even_y;
  wire [7:0] red = x * 8'd10;
  wire [7:0] green = y * 8'd20;
  wire free = !px_valid || px_ready;

  always @(posedge clk)
    if (rst) begin
      busy <= 0;
      px_valid <= 0;
      finished <= 0;
    end else begin
      finished <= 0;
      if (go && !busy) begin
        busy <= 1;
        even_x <= 0;
        even_y <= 0;
        odd_x <= 1;
        odd_y <= 0;
        delay <= 3'd5;
      end
      if (px_valid && px_ready) px_valid <= 0;
      if (busy && free) begin
        if (!even_left && !odd_left) begin
          busy <= 0;
          finished <= 1;
        end else begin
          px_valid <= 1;
          px_x <= x;
          px_y <= y;
          px_rgb <= {red, green, red ^ green};
          delay <= odd_turn ? 3'd5 : delay - 3'd1;
          if (odd_turn) begin
            odd_x <= odd_x + 8'd2 >= W ? 8'd1 : odd_x + 8'd2;
            if (odd_x + 8'd2 >= W) odd_y <= odd_y + 8'd1;
          end else begin
            even_x <= even_x + 8'd2 >= W ? 8'd0 : even_x + 8'd2;
            if (even_x + 8'd2 >= W) even_y <= even_y + 8'd1;
          end
        end
      end
    end
endmodule
