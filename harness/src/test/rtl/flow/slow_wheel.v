// Turns an angle by a fixed step, in 2001 cycles; no reset, and nothing is initialised.
module slow_wheel (
    input  wire        clk,
    input  wire        turn,
    input  wire [9:0]  angle,
    input  wire [2:0]  mode,
    input  wire [70:0] spare,
    output reg         turned,
    output reg  [9:0]  place,
    output reg         over,
    output reg  [9:0]  rest
);
  reg [10:0] left;
  reg [9:0]  kept;
  wire [10:0] sum = {1'b0, kept} + 11'd300;

  always @(posedge clk) begin
    turned <= 1'b0;
    if (turn) begin
      left <= 11'd1999;
      kept <= angle;
    end else if (left != 11'd0) begin
      left <= left - 11'd1;
      if (left == 11'd1) begin
        turned <= 1'b1;
        place  <= sum[9:0];
        over   <= sum[10];
        rest   <= sum[10] ? kept : 10'd1023 - sum[9:0];
      end
    end
  end
endmodule
