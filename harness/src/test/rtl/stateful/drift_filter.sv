// Smooths the drift of a planet's arm over three cases: x[n] + 2 x[n-1] + x[n-2].
//
//   in_drift     s12.0
//   out_smooth   s14.0, exact
//
// Valid only, a result 1 cycle after its case; bubbles are no cases. Reset synchronous, active high:
// the cases before the first are 0.
module drift_filter (
    input logic clk,
    input logic rst,

    // cases
    input logic               in_valid,
    input logic signed [11:0] in_drift,

    // results
    output logic               out_valid,
    output logic signed [13:0] out_smooth
);
  logic signed [11:0] before_q, earlier_q;
  logic signed [13:0] next;

  assign next = 14'(in_drift) + 14'(before_q) + 14'(before_q) + 14'(earlier_q);

  always_ff @(posedge clk) begin
    out_valid <= in_valid && !rst;
    if (in_valid) out_smooth <= next;
    if (rst) begin
      before_q  <= '0;
      earlier_q <= '0;
    end else if (in_valid) begin
      before_q  <= in_drift;
      earlier_q <= before_q;
    end
  end
endmodule
