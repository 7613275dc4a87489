// Purpose   nearest surface of a list of spans between two distances
// Equation  the smallest distance with start < distance < limit among the ends not for ever
// Ports     in_*           a list, as span_combiner has it; in_start, in_limit as its distances
//           out_found      there is one; the other outputs are 0 otherwise
//           out_inward     it is an exit, so seen from inside
// Special   an exit with the highest code is for ever, and so is an entry with the lowest, which is
//           never beyond anything
// Latency   0, no clock

`default_nettype none

module span_nearest #(
    parameter int unsigned W = 32,  // word bits, 8 to 32
    parameter int unsigned SURFACE = 8,   // bits that name a surface, 1 to 16
    parameter int unsigned C = 4    // most spans in a list, 1 to 16
) (
    input logic        [$clog2(C+1)-1:0] in_count,
    input logic        [      2*C*W-1:0] in_distance,
    input logic        [      2*C*SURFACE-1:0] in_surface,
    input logic        [        2*C-1:0] in_reversed,
    input logic signed [          W-1:0] in_start,
    input logic signed [          W-1:0] in_limit,

    output logic                out_found,
    output logic signed [W-1:0] out_distance,
    output logic        [SURFACE-1:0] out_surface,
    output logic                out_reversed,
    output logic                out_inward
);

  localparam int unsigned Ends = 2 * C;
  localparam int unsigned EndCountW = $clog2(C + 1) + 1;
  localparam logic [W-1:0] Highest = {1'b0, {(W - 1) {1'b1}}};

  logic [Ends-1:0] counts;
  for (genvar k = 0; k < Ends; k++) begin : g_end
    logic [W-1:0] distance;
    assign distance  = in_distance[k*W+:W];
    assign counts[k] = EndCountW'(k) < {in_count, 1'b0} && $signed(distance) > in_start
        && $signed(distance) < in_limit && distance != Highest;
  end

  // From the far end to the near, so that the nearest has the last word.
  always_comb begin
    out_found    = 1'b0;
    out_distance = '0;
    out_surface = '0;
    out_reversed   = 1'b0;
    out_inward   = 1'b0;
    for (int k = Ends - 1; k >= 0; k--) begin
      if (counts[k]) begin
        out_found    = 1'b1;
        out_distance = in_distance[k*W+:W];
        out_surface = in_surface[k*SURFACE+:SURFACE];
        out_reversed   = in_reversed[k];
        out_inward   = k % 2 == 1;
      end
    end
  end

endmodule

`default_nettype wire
