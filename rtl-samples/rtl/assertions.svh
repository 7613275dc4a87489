// Purpose   assertions that simulate and vanish in synthesis
//
// Both expect clk and rst in the module that uses them. Nothing is asserted while rst is high,
// and nothing before the first reset can be relied on: payload and valids are then arbitrary.

`ifndef ASSERTIONS_SVH
`define ASSERTIONS_SVH

`ifdef SYNTHESIS

`define HOLDS(label, condition)
`define LOW_AFTER_RESET(label, bits)

`else

// The condition is true at every rising edge outside reset.
`define HOLDS(label, condition) \
  label : assert property (@(posedge clk) disable iff (rst) condition);

// All of these bits are low in the cycle after one with reset.
`define LOW_AFTER_RESET(label, bits) \
  logic label``_armed; \
  initial label``_armed = 1'b0; \
  always_ff @(posedge clk) label``_armed <= rst; \
  label : assert property (@(posedge clk) !label``_armed || (bits) == '0);

`endif

`endif
