// How many pegs of a row are set: 17 places, counted two cycles after the row came.
module peg_count (
    input  logic        clk,
    input  logic        rst,
    input  logic        in_valid,
    input  logic [16:0] in_pegs,
    output logic        out_valid,
    output logic [ 4:0] out_count
);
  logic       valid_q;
  logic [4:0] low_q, high_q;

  function automatic logic [4:0] pegs(input logic [8:0] places);
    pegs = 5'd0;
    for (int i = 0; i < 9; i++) pegs = pegs + 5'(places[i]);
  endfunction

  always_ff @(posedge clk) begin
    valid_q   <= in_valid && !rst;
    out_valid <= valid_q && !rst;
    low_q     <= pegs(in_pegs[8:0]);
    high_q    <= pegs({1'b0, in_pegs[16:9]});
    out_count <= low_q + high_q;
  end
endmodule
