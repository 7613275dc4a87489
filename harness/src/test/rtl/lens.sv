// No clock at all: logic and a latch.
module lens (
    input wire signed [7:0] left,
    input wire signed [7:0] right,
    input wire hold,
    output wire signed [8:0] sum,
    output logic [7:0] kept
);
  logic [7:0] pair[0:1];
  assign pair[0] = left;
  assign pair[1] = right;
  assign sum = left + right;
  always_latch if (!hold) kept = pair[0];
endmodule
