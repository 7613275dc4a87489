// The highest peg that is set, from 1; 0 where none is. Generate loop and loop share a name.
module peg_row (
    input  logic       clk,
    input  logic [3:0] pegs,
    output logic [2:0] highest
);
  logic [3:0] missing;
  for (genvar k = 0; k < 4; k++) begin : g_peg
    logic set;
    assign set        = pegs[k];
    assign missing[k] = !set;
  end
  logic [2:0] found;
  always_comb begin
    found = '0;
    for (int k = 0; k < 4; k++) begin
      if (!missing[k]) found = 3'(k) + 3'd1;
    end
  end
  always_ff @(posedge clk) highest <= found;
endmodule
