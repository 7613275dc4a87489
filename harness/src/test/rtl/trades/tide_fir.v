// Smooths the tide's height: eight taps, 3 -7 18 61 61 18 -7 3 over 128, in the transposed form.
// Rounded down; saturated to 12 bits. A sample is taken where ce_i is high.
module tide_fir (
  input  wire               clk_i,
  input  wire               rst_ni,
  input  wire               ce_i,
  input  wire signed [11:0] height_i,
  output reg                vld_o,
  output reg  signed [11:0] smooth_o
);
  reg  signed [19:0] acc_r [1:7];
  wire signed [19:0] x_s   = {{8{height_i[11]}}, height_i};
  wire signed [19:0] x3_s  = x_s * 20'sd3;
  wire signed [19:0] x7_s  = x_s * 20'sd7;
  wire signed [19:0] x18_s = x_s * 20'sd18;
  wire signed [19:0] x61_s = x_s * 20'sd61;
  wire signed [19:0] sum_s = acc_r[1] + x3_s;
  wire signed [12:0] over_s = sum_s[19:7];

  integer k;
  always @(posedge clk_i)
    if (rst_ni == 1'b0) begin
      vld_o <= 1'b0;
      for (k = 1; k < 8; k = k + 1) acc_r[k] <= 20'sd0;
    end else begin
      vld_o <= ce_i;
      if (ce_i) begin
        acc_r[1] <= acc_r[2] - x7_s;
        acc_r[2] <= acc_r[3] + x18_s;
        acc_r[3] <= acc_r[4] + x61_s;
        acc_r[4] <= acc_r[5] + x61_s;
        acc_r[5] <= acc_r[6] + x18_s;
        acc_r[6] <= acc_r[7] - x7_s;
        acc_r[7] <= x3_s;
        if (over_s > 13'sd2047) smooth_o <= 12'sd2047;
        else if (over_s < -13'sd2048) smooth_o <= -12'sd2048;
        else smooth_o <= over_s[11:0];
      end
    end
endmodule
