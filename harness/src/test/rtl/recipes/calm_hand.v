// A hand that follows a shaky angle: an eighth of the way with each sample, rounded down.
module calm_hand (
    input  wire               clk,
    input  wire               rst,
    input  wire               sample,
    input  wire signed [11:0] angle,  // 10 fraction bits
    output reg                moved,
    output reg  signed [15:0] hand    // 14 fraction bits
);
  wire signed [18:0] target = {{3{angle[11]}}, angle, 4'b0000};
  wire signed [18:0] sum    = hand * 19'sd7 + target;
  wire signed [15:0] next   = sum[18:3];

  always @(posedge clk)
    if (rst) begin
      moved <= 1'b0;
      hand  <= 16'sd0;
    end else begin
      moved <= sample;
      if (sample) hand <= next;
    end
endmodule
