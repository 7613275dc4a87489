// Purpose   what the parts of the picture converter share

`ifndef PICTURE_PKG_SVH
`define PICTURE_PKG_SVH

package picture_pkg;

  // Clocks from a colour to its code.
  function automatic int unsigned quantiser_latency();
    quantiser_latency = 4;
  endfunction

  // Threshold matrix of ordered dither, 8 x 8, row first, each of 0 to 63 once: M(2n) is
  // [4 M(n), 4 M(n) + 2; 4 M(n) + 3, 4 M(n) + 1], so that each pair of index bits gives two bits
  // of the cell, the lowest pair the highest.
  function automatic logic [5:0] bayer_cell(input logic [2:0] row, input logic [2:0] column);
    bayer_cell = {
      row[0] ^ column[0], row[0], row[1] ^ column[1], row[1], row[2] ^ column[2], row[2]
    };
  endfunction

endpackage

`endif
