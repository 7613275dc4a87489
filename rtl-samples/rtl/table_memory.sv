// Purpose   memory of a table: one port to load it, one to read it
// Ports     load_*         a word is written at the edge that ends a cycle with load_valid
//           read_enable    out_word becomes the word at read_address; without it, it stands still
// Special   a word read in the cycle in which it is written is read old. No reset: power-up
//           contents are the technology's
// Latency   1, one read and one write a cycle

`default_nettype none

module table_memory #(
    parameter int unsigned A     = 8,  // address bits, 1 to 12
    parameter int unsigned WIDTH = 32  // bits of a word, 1 or more
) (
    input logic clk,

    // load port
    input logic             load_valid,
    input logic [    A-1:0] load_address,
    input logic [WIDTH-1:0] load_word,

    // read port
    input  logic             read_enable,
    input  logic [    A-1:0] read_address,
    output logic [WIDTH-1:0] out_word
);

  if (A < 1 || A > 12) begin : g_address_range
    $error("table_memory: A must be 1 to 12");
  end

  logic [WIDTH-1:0] words[2**A];
  logic [WIDTH-1:0] word_q;
  always_ff @(posedge clk) begin
    if (load_valid) words[load_address] <= load_word;
    if (read_enable) word_q <= words[read_address];
  end

  assign out_word = word_q;

endmodule

`default_nettype wire
