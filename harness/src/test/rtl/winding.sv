// A clock that is only ever used behind a gate: either input may be the clock.
module winding (
    input wire clk,
    input wire enable,
    input wire data,
    output reg q
);
  wire turning = clk & enable;
  always @(posedge turning) q <= data;
endmodule
