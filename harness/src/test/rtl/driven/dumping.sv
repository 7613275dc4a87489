// Asks for a waveform by itself.
module dumping (
    input  logic clk,
    output logic tick
);
  initial begin
    $dumpfile("dumping.vcd");
    $dumpvars;
  end
  always_ff @(posedge clk) tick <= !tick;
endmodule
