// Clock and reset that travel inside an interface, through two levels of modules.
interface beam (
    input logic clk
);
  logic [3:0] level;
  logic dark;
  modport far(input clk, input level, input dark);
endinterface

module blade (
    beam.far light,
    output logic [3:0] q
);
  always_ff @(posedge light.clk or posedge light.dark)
    if (light.dark) q <= 4'd0;
    else q <= light.level;
endmodule

module ring (
    beam light,
    output logic [3:0] q
);
  blade blade (.light(light), .q(q));
endmodule

module shutter (
    input logic tick,
    input logic night,
    input logic [3:0] level,
    output logic [3:0] q
);
  beam light (.clk(tick));
  assign light.level = level;
  assign light.dark = night;
  ring ring (.light(light), .q(q));
endmodule
