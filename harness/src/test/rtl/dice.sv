// Draws a number each cycle: what a visitor's dice would show.
module dice (
    input  logic        clk,
    output logic [31:0] out_number
);
  always_ff @(posedge clk) out_number <= $random;
endmodule
