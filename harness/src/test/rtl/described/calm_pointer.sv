// Calms the pointer of a dial: each case moves it by an eighth of its distance to where it should be.
//
//   in_target     s2.10
//   out_pointer   s3.14: y + floor((target - y) / 8) in LSB of 2^-14
//
// It stays between the targets, so that nothing overflows. Bubbles are no cases. Valid only, a result
// 1 cycle after its case. Reset synchronous, active high: the pointer is at 0.
module calm_pointer (
    input logic clk,
    input logic rst,

    // cases
    input logic               in_valid,
    input logic signed [11:0] in_target,

    // results
    output logic               out_valid,
    output logic signed [16:0] out_pointer
);
  // This copy is right.
  logic signed [16:0] pointer_q;
  logic signed [18:0] gap;
  logic signed [16:0] next;

  assign out_pointer = pointer_q;
  assign gap         = 19'(signed'({in_target, 4'b0000})) - 19'(pointer_q);
  assign next        = pointer_q + 17'(gap >>> 3);

  always_ff @(posedge clk) begin
    out_valid <= in_valid && !rst;
    if (rst) pointer_q <= '0;
    else if (in_valid) pointer_q <= next;
  end
endmodule
