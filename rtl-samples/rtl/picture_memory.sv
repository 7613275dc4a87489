// Purpose   memory of two pictures, codes of 8 bits: written a pixel, read sixteen at a time
// Ports     write_*       the pixel (x, y) of a bank is written at the edge that ends a cycle with
//                         write_valid
//           read_enable   out_codes becomes the sixteen from (read_x, read_y) on; without it, it
//                         stands still
//           read_paired   0: (x, y) to (x + 15, y); x is taken as a multiple of 16
//                         1: (x, y) to (x + 7, y), then (x, y + 1) to (x + 7, y + 1); x is taken as
//                         a multiple of 8 and y as even
//           out_codes     the first pixel in bits 127..120, the last in 7..0
// Special   a pixel read in the cycle in which it is written is read old. No reset: power-up
//           contents are the technology's
// Latency   2, one read and one write a cycle
//
// Sixteen memories, one for each low three bits of x and the parity of x[3] and y[0]. Both ways of
// reading meet each memory once: sixteen in a row have both parities, eight and the eight below
// them too.

`default_nettype none

module picture_memory #(
    parameter int unsigned XW = 8,  // address bits of x, 5 to 12
    parameter int unsigned YW = 8   // address bits of y, 1 to 12
) (
    input logic clk,

    // write port
    input logic          write_valid,
    input logic          write_bank,
    input logic [XW-1:0] write_x,
    input logic [YW-1:0] write_y,
    input logic [   7:0] write_code,

    // read port
    input  logic          read_enable,
    input  logic          read_bank,
    input  logic          read_paired,
    input  logic [XW-1:0] read_x,
    input  logic [YW-1:0] read_y,
    output logic [ 127:0] out_codes
);

  localparam int unsigned AddressW = 1 + YW + XW - 4;

  if (XW < 5 || XW > 12) begin : g_x_range
    $error("picture_memory: XW must be 5 to 12");
  end
  if (YW < 1 || YW > 12) begin : g_y_range
    $error("picture_memory: YW must be 1 to 12");
  end

  logic                write_parity;
  logic [AddressW-1:0] write_address;
  assign write_parity  = write_x[3] ^ write_y[0];
  assign write_address = {write_bank, write_y, write_x[XW-1:4]};

  // The parity of the first eight, wherever they are.
  logic parity;
  assign parity = read_paired ? read_x[3] : read_y[0];

  // Clock 1: each memory. row: the parity of the pixel's row.
  for (genvar i = 0; i < 16; i++) begin : lane
    localparam logic Parity = i >= 8;
    logic [         7:0] codes        [2**AddressW];
    logic [         7:0] code_s1_q;
    logic                row;
    logic [AddressW-1:0] read_address;
    logic [      YW-1:0] read_row;
    assign row = read_paired ? read_x[3] ^ Parity : read_y[0];
    if (YW > 1) begin : g_rows
      assign read_row = {read_y[YW-1:1], row};
    end else begin : g_two_rows
      assign read_row = row;
    end
    assign read_address = {read_bank, read_row, read_x[XW-1:4]};
    always_ff @(posedge clk) begin
      if (write_valid && write_parity == Parity && write_x[2:0] == 3'(i)) begin
        codes[write_address] <= write_code;
      end
      if (read_enable) code_s1_q <= codes[read_address];
    end
  end

  logic parity_s1_q;
  always_ff @(posedge clk) begin
    if (read_enable) parity_s1_q <= parity;
  end

  // Clock 2: in order.
  logic [ 63:0] even_s1;
  logic [ 63:0] odd_s1;
  logic [127:0] codes_s2_q;
  assign even_s1 = {
    lane[0].code_s1_q,
    lane[1].code_s1_q,
    lane[2].code_s1_q,
    lane[3].code_s1_q,
    lane[4].code_s1_q,
    lane[5].code_s1_q,
    lane[6].code_s1_q,
    lane[7].code_s1_q
  };
  assign odd_s1 = {
    lane[8].code_s1_q,
    lane[9].code_s1_q,
    lane[10].code_s1_q,
    lane[11].code_s1_q,
    lane[12].code_s1_q,
    lane[13].code_s1_q,
    lane[14].code_s1_q,
    lane[15].code_s1_q
  };
  always_ff @(posedge clk) begin
    if (read_enable) codes_s2_q <= parity_s1_q ? {odd_s1, even_s1} : {even_s1, odd_s1};
  end

  assign out_codes = codes_s2_q;

  // Reads are of whole groups.
  logic unused;
  assign unused = ^read_x[2:0];

endmodule

`default_nettype wire
