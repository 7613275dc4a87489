// Adds up the steps of a wheel and stays at either end of 16 bits; home begins anew with its step.
module turn_total (
    input  wire               clk,
    input  wire               rst,
    input  wire               tick,
    input  wire               home,
    input  wire signed [ 9:0] step,
    output reg                tock,
    output reg  signed [15:0] total
);
  wire signed [15:0] old = home ? 16'sd0 : total;
  wire signed [16:0] sum = {old[15], old} + {{7{step[9]}}, step};

  always @(posedge clk) begin
    tock <= tick & ~rst;
    if (rst) total <= 16'sd0;
    else if (tick)
      if (sum > 17'sd32767) total <= 16'sh7fff;
      else if (sum < -17'sd32768) total <= 16'sh8000;
      else total <= sum[15:0];
  end
endmodule
