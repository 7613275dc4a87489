// One figure for the four quarters of a year: a decimator, one result for every four cases.
//
//   in_quarter   s16.0
//   out_year     s18.0, the sum of four, exact
//
// Valid only, a result 1 cycle after the fourth case. Reset synchronous, active high: a year begins.
module season_sum (
    input logic clk,
    input logic rst,

    // quarters
    input logic               in_valid,
    input logic signed [15:0] in_quarter,

    // years
    output logic               out_valid,
    output logic signed [17:0] out_year
);
  logic        [ 1:0] quarter_q;
  logic signed [17:0] sum_q, next;

  assign next = (quarter_q == 2'd0 ? 18'sd0 : sum_q) + 18'(in_quarter);
  assign out_year = sum_q;

  always_ff @(posedge clk) begin
    out_valid <= in_valid && !rst && quarter_q == 2'd3;
    if (in_valid) sum_q <= next;
  end

  always_ff @(posedge clk) begin
    if (rst) quarter_q <= '0;
    else if (in_valid) quarter_q <= quarter_q + 2'd1;
  end
endmodule
