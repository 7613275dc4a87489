// The check of a label, CRC-32 as in Ethernet frames, a byte a cycle, lowest bit first; first begins
// a label.
module label_crc (
    input  wire        clk,
    input  wire        rst,
    input  wire        put,
    input  wire        first,
    input  wire [ 7:0] letter,
    output reg         ok,
    output wire [31:0] check
);
  reg [31:0] r;

  function [31:0] after;
    input [31:0] old;
    input [7:0] data;
    integer i;
    begin
      after = old ^ {24'd0, data};
      for (i = 0; i < 8; i = i + 1)
        after = after[0] ? (after >> 1) ^ 32'hedb88320 : after >> 1;
    end
  endfunction

  assign check = ~r;

  always @(posedge clk) begin
    ok <= put & ~rst;
    if (rst) r <= 32'hffffffff;
    else if (put) r <= after(first ? 32'hffffffff : r, letter);
  end
endmodule
