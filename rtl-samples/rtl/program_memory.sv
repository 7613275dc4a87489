// Purpose   memory of a program: one port to run it, one to load it or to look a word up
// Ports     load_*         a word is written at the edge that ends a cycle with load_valid
//           read_enable    out_word becomes the word at read_address; without it, or in a cycle
//                          with load_valid, it stands still
//           look_enable    look_word likewise
// Special   no word is read in a cycle in which one is written, so that load and look-up can be one
//           port of a block memory with two: were the old word promised instead, two copies and a
//           register for each bit would keep that promise. No reset: power-up contents are the
//           technology's
// Latency   1, a read and a look-up a cycle, or a write

`default_nettype none

module program_memory #(
    parameter int unsigned A     = 10,  // address bits, 1 to 12
    parameter int unsigned WIDTH = 216  // bits of a word, 1 or more
) (
    input logic clk,

    // load port
    input logic             load_valid,
    input logic [    A-1:0] load_address,
    input logic [WIDTH-1:0] load_word,

    // read port
    input  logic             read_enable,
    input  logic [    A-1:0] read_address,
    output logic [WIDTH-1:0] out_word,

    // look-up port
    input  logic             look_enable,
    input  logic [    A-1:0] look_address,
    output logic [WIDTH-1:0] look_word
);

  if (A < 1 || A > 12) begin : g_address_range
    $error("program_memory: A must be 1 to 12");
  end

  logic [WIDTH-1:0] words[2**A];
  logic [WIDTH-1:0] word_q;
  logic [WIDTH-1:0] look_word_q;
  logic [    A-1:0] shared_address;
  assign shared_address = load_valid ? load_address : look_address;
  always_ff @(posedge clk) begin
    if (load_valid) words[shared_address] <= load_word;
    else if (look_enable) look_word_q <= words[shared_address];
    if (read_enable && !load_valid) word_q <= words[read_address];
  end

  assign out_word  = word_q;
  assign look_word = look_word_q;

endmodule

`default_nettype wire
