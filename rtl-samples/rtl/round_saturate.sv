// Purpose   narrows a number: nearest, halves up, then the nearest code of the narrower format
// Equation  out_value = floor(in_value / 2^DROP + 1/2), saturated to OUT_W bits
// Ports     in_value   signed, IN_W bits, every code is legal
//           out_value  signed, OUT_W bits, DROP fraction bits fewer; wider than the rounded value:
//                      sign-extended
// Latency   1, one value a cycle; no reset

`default_nettype none

module round_saturate #(
    parameter int unsigned IN_W  = 64,  // 2 or more
    parameter int unsigned DROP  = 16,  // 0 to IN_W-1; 0 rounds nothing
    parameter int unsigned OUT_W = 32   // 2 or more
) (
    input logic clk,

    input logic signed [IN_W-1:0] in_value,

    output logic signed [OUT_W-1:0] out_value
);

  localparam int unsigned SumW = IN_W + 1;  // a carry from the half
  localparam int unsigned RoundedW = SumW - DROP;
  localparam logic signed [SumW-1:0] Half = $signed((SumW'(1) << DROP) >> 1);

  if (IN_W < 2 || OUT_W < 2) begin : g_width_range
    $error("round_saturate: IN_W and OUT_W must be at least 2");
  end
  if (DROP > IN_W - 1) begin : g_drop_range
    $error("round_saturate: DROP must be 0 to IN_W-1");
  end

  logic signed [RoundedW-1:0] rounded;
  assign rounded = RoundedW'((SumW'(in_value) + Half) >>> DROP);

  logic signed [OUT_W-1:0] value_q;
  if (OUT_W >= RoundedW) begin : g_fits
    always_ff @(posedge clk) value_q <= OUT_W'(rounded);
  end else begin : g_saturates
    // The value fits where all bits above the kept ones repeat their sign.
    logic negative;
    logic fits;
    assign negative = rounded[RoundedW-1];
    assign fits     = rounded[RoundedW-1:OUT_W-1] == {(RoundedW - OUT_W + 1) {negative}};
    always_ff @(posedge clk) begin
      value_q <= fits ? OUT_W'(rounded) : $signed({negative, {(OUT_W - 1) {!negative}}});
    end
  end

  assign out_value = value_q;

endmodule

`default_nettype wire
