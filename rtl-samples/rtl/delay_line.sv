// Purpose   holds a value back so that it meets later results of its own case
// Equation  out_value = in_value, DEPTH clocks ago
// Latency   DEPTH, one value a cycle; no reset, so that it maps to shift-register cells

`default_nettype none

module delay_line #(
    parameter int unsigned WIDTH = 32,  // 1 or more
    parameter int unsigned DEPTH = 3    // 1 or more
) (
    input logic clk,

    input logic [WIDTH-1:0] in_value,

    output logic [WIDTH-1:0] out_value
);

  if (WIDTH < 1) begin : g_width_range
    $error("delay_line: WIDTH must be at least 1");
  end
  if (DEPTH < 1) begin : g_depth_range
    $error("delay_line: DEPTH must be at least 1");
  end

  // delayed[k].value_q is the value after k clocks. Verilator 5.006 loses such names where a block
  // around this one has its own of the same name, so this is not called stage, as others are.
  for (genvar k = 1; k <= DEPTH; k++) begin : delayed
    logic [WIDTH-1:0] value_q;
    if (k == 1) begin : g_first
      always_ff @(posedge clk) value_q <= in_value;
    end else begin : g_later
      always_ff @(posedge clk) value_q <= delayed[k-1].value_q;
    end
  end

  assign out_value = delayed[DEPTH].value_q;

endmodule

`default_nettype wire
