// Purpose   a wide memory seen through three registers of 16 bits: address, part and data
// Ports     address_write, part_write  take write_value
//           data_write  write_value is the part in hand of a word that is gathered; with the last
//                       part the word is stored at the address
//           data_read   the word at the address is asked for; out_value is the part in hand of it
//                       two cycles later
//           step        the part counts on, and the address with the last part
//           part_known  the part in hand is one of the word's
//           load_*      the word is stored at the edge that ends a cycle with load_valid
//           read_*      in_word is the word asked for, in the cycle after read_enable
// Special   parts that were not written since are as they were. Bits beyond the word: ignored, and
//           0 when read. A reset clears address and part
// Flow      no two strobes in the same cycle but step with data_write

`default_nettype none
`include "assertions.svh"
`include "orrery_pkg.svh"

module memory_window #(
    parameter int unsigned A     = 10,  // address bits, 1 to 16
    parameter int unsigned WIDTH = 216  // bits of a word, 17 to 256
) (
    input logic clk,
    input logic rst,  // synchronous, active high

    // registers
    input  logic        address_write,
    input  logic        part_write,
    input  logic        data_write,
    input  logic        data_read,
    input  logic        step,
    input  logic [15:0] write_value,
    output logic [15:0] address,
    output logic [15:0] part,
    output logic        part_known,
    output logic [15:0] out_value,

    // memory
    output logic             load_valid,
    output logic [    A-1:0] load_address,
    output logic [WIDTH-1:0] load_word,
    output logic             read_enable,
    output logic [    A-1:0] read_address,
    input  logic [WIDTH-1:0] in_word
);

  localparam int unsigned Parts = orrery_pkg::ceil_div(WIDTH, 16);
  localparam int unsigned PartW = $clog2(Parts);
  localparam int unsigned Padded = 16 * Parts;
  localparam logic [PartW-1:0] Last = PartW'(Parts - 1);

  if (A < 1 || A > 16) begin : g_address_range
    $error("memory_window: A must be 1 to 16");
  end
  if (WIDTH < 17 || WIDTH > 256) begin : g_width_range
    $error("memory_window: WIDTH must be 17 to 256");
  end

  // Address and part.
  logic [    A-1:0] address_q;
  logic [PartW-1:0] part_q;
  logic             last;
  assign last = part_q == Last;
  always_ff @(posedge clk) begin
    if (rst) begin
      address_q <= '0;
      part_q    <= '0;
    end else begin
      if (address_write) address_q <= A'(write_value);
      else if (step && last) address_q <= address_q + A'(1);
      if (part_write) part_q <= PartW'(write_value);
      else if (step) part_q <= last ? '0 : part_q + PartW'(1);
    end
  end
  assign address = 16'(address_q);
  assign part    = 16'(part_q);
  if (Parts == 2 ** PartW) begin : g_every_part
    assign part_known = 1'b1;
  end else begin : g_some_parts
    assign part_known = part_q <= Last;
  end

  // The parts below the last are gathered; the last is stored as it arrives.
  logic [Padded-1:16] gathered_q;
  logic [ Padded-1:0] padded;
  for (genvar k = 0; k < Parts - 1; k++) begin : part_of
    always_ff @(posedge clk) begin
      if (data_write && part_q == PartW'(k)) gathered_q[16*(k+1)+:16] <= write_value;
    end
  end
  assign padded       = {write_value, gathered_q};
  assign load_valid   = data_write && last;
  assign load_address = address_q;
  assign load_word    = padded[WIDTH-1:0];

  // One part of the word that was read.
  logic [Padded-1:0] read_word;
  logic [      15:0] value_q;
  assign read_enable  = data_read;
  assign read_address = address_q;
  assign read_word    = Padded'(in_word);
  always_ff @(posedge clk) value_q <= read_word[{part_q, 4'd0}+:16];
  assign out_value = value_q;

  if (Padded > WIDTH) begin : g_beyond
    logic unused;
    assign unused = ^padded[Padded-1:WIDTH];
  end

  `LOW_AFTER_RESET(at_the_beginning, {address, part})
  `HOLDS(only_known_parts, !(data_write || data_read) || part_known)

endmodule

`default_nettype wire
