// Adds up the steps of a wheel and stays at either end of 12 bits; home begins anew with its step.
module turn_total (
    input  wire               clk,
    input  wire               rst,
    input  wire               tick,
    input  wire               home,
    input  wire signed [ 9:0] step,
    output reg                tock,
    output reg  signed [11:0] total
);
  wire signed [11:0] old = home ? 12'sd0 : total;
  wire signed [12:0] sum = {old[11], old} + {{3{step[9]}}, step};

  always @(posedge clk) begin
    tock <= tick & ~rst;
    if (rst) total <= 12'sd0;
    else if (tick)
      if (sum > 13'sd2047) total <= 12'sh7ff;
      else if (sum < -13'sd2048) total <= 12'sh800;
      else total <= sum[11:0];
  end
endmodule
