// The square of how far a pointer reaches, x*x + y*y, three cycles after its strobe. Takes a pair in
// every cycle.
module reach (
    input  wire               clk,
    input  wire               rst,
    input  wire               strobe,
    input  wire signed [11:0] x,
    input  wire signed [11:0] y,
    output reg                done,
    output reg         [23:0] square
);
  reg               v1, v2;
  reg signed [11:0] x1, y1;
  reg signed [23:0] xx, yy;

  always @(posedge clk) begin
    x1 <= x;
    y1 <= y;
    xx <= x1 * x1;
    yy <= y1 * y1;
    square <= xx + yy;
    if (rst) {done, v2, v1} <= 3'b000;
    else {done, v2, v1} <= {v2, v1, strobe};
  end
endmodule
