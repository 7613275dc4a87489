// Every register stands behind a clock gate with a latch: only the clock itself passes it.
module ratchet (
    input wire clk,
    input wire enable,
    input wire data,
    output reg q
);
  logic held;
  always_latch if (!clk) held = enable;
  wire gated = clk & held;
  always @(posedge gated) q <= data;
endmodule
