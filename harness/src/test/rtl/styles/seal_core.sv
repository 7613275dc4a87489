// The seal of a ledger's word: CRC-32 (IEEE 802.3) of its four bytes, the lowest first, one a cycle.
module seal_core (
    input  logic        clk,
    input  logic        rst,
    input  logic        in_valid,
    input  logic [31:0] in_word,
    output logic        out_valid,
    output logic [31:0] out_seal
);
  function automatic logic [31:0] fold(input logic [31:0] seal, input logic [7:0] octet);
    logic [31:0] next;
    next = seal ^ {24'd0, octet};
    for (int bits = 0; bits < 8; bits++) next = next[0] ? (next >> 1) ^ 32'hEDB88320 : next >> 1;
    fold = next;
  endfunction
  logic [ 3:0] valid_q;
  logic [31:0] seal1_q, seal2_q, seal3_q, seal4_q;
  logic [31:8] word1_q;
  logic [31:16] word2_q;
  logic [31:24] word3_q;
  always_ff @(posedge clk) begin
    valid_q <= rst ? '0 : {valid_q[2:0], in_valid};
    seal1_q <= fold(32'hFFFFFFFF, in_word[7:0]);
    word1_q <= in_word[31:8];
    seal2_q <= fold(seal1_q, word1_q[15:8]);
    word2_q <= word1_q[31:16];
    seal3_q <= fold(seal2_q, word2_q[23:16]);
    word3_q <= word2_q[31:24];
    seal4_q <= fold(seal3_q, word3_q);
  end
  assign out_valid = valid_q[3];
  assign out_seal  = ~seal4_q;
endmodule
