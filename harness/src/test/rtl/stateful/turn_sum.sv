// How far a wheel of the orrery has turned: the sum of its steps since the last clear.
//
//   in_clear   1: the sum begins with this step
//   in_step    s16.0
//   out_sum    s24.0, modulo 2^24
//
// Valid only, a result 2 cycles after its case. Reset synchronous, active high: the sum is 0.
module turn_sum (
    input logic clk,
    input logic rst,

    // cases
    input logic               in_valid,
    input logic               in_clear,
    input logic signed [15:0] in_step,

    // results
    output logic               out_valid,
    output logic signed [23:0] out_sum
);
  logic               valid_s1_q, valid_s2_q;
  logic               clear_s1_q;
  logic signed [15:0] step_s1_q;
  logic signed [23:0] sum_q;

  assign out_valid = valid_s2_q;
  assign out_sum   = sum_q;

  always_ff @(posedge clk) begin
    valid_s1_q <= in_valid && !rst;
    valid_s2_q <= valid_s1_q && !rst;
    clear_s1_q <= in_clear;
    step_s1_q  <= in_step;
  end

  always_ff @(posedge clk) begin
    if (rst) sum_q <= '0;
    else if (valid_s1_q) sum_q <= (clear_s1_q ? 24'sd0 : sum_q) + 24'(step_s1_q);
  end
endmodule
