// The orrery's almanac reckons with numbers of any length: quotients, remainders and products, with
// and without sign, and a value written out in decimal.
module long_division #(
    parameter int W = 512
) (
    input  logic         clk,
    input  logic [W-1:0] a,
    input  logic [W-1:0] b,
    input  logic         say,
    output logic [W-1:0] quotient,
    output logic [W-1:0] remainder,
    output logic [W-1:0] product,
    output logic [W-1:0] signed_quotient,
    output logic [W-1:0] signed_remainder
);
  assign quotient         = a / b;
  assign remainder        = a % b;
  assign product          = a * b;
  assign signed_quotient  = $signed(a) / $signed(b);
  assign signed_remainder = $signed(a) % $signed(b);

  always_ff @(posedge clk) if (say) $display("%0d %0d", a, $signed(b));
endmodule
