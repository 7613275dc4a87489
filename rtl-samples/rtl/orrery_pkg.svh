// Purpose   functions that several units share

`ifndef ORRERY_PKG_SVH
`define ORRERY_PKG_SVH

package orrery_pkg;

  // Smallest integer that is not below a / b; b > 0. For sizes, at elaboration.
  function automatic int unsigned ceil_div(input int unsigned a, input int unsigned b);
    ceil_div = (a + b - 1) / b;
  endfunction

  // Latencies of the units, in clocks. They stand here alone: a unit takes its own from here, and so
  // does whoever waits for it.
  function automatic int unsigned reciprocal_latency();
    reciprocal_latency = 21;
  endfunction

  // Of words of w bits with f fraction bits: one bit of the root a clock.
  function automatic int unsigned square_root_latency(input int unsigned w, input int unsigned f);
    square_root_latency = ceil_div(w - 1 + f, 2) + 2;
  endfunction

  function automatic int unsigned box_latency();
    box_latency = 8;
  endfunction

  function automatic int unsigned plane_latency();
    plane_latency = 4 + reciprocal_latency() + 5;
  endfunction

  // Of words of w bits; the radicand has twice as many.
  function automatic int unsigned sphere_latency(input int unsigned w);
    sphere_latency = 15 + square_root_latency(2 * w, 0) + 3;
  endfunction

  // Zeros above the highest one of a word that is not zero (0 to 31; a zero word gives 31).
  // Five halvings, so a tree of multiplexers and no priority chain.
  function automatic logic [4:0] leading_zeros_32(input logic [31:0] word);
    logic [31:0] rest;
    logic [ 4:0] count;
    rest  = word;
    count = 5'd0;
    if (rest[31:16] == 16'd0) begin
      count[4] = 1'b1;
      rest     = {rest[15:0], 16'd0};
    end
    if (rest[31:24] == 8'd0) begin
      count[3] = 1'b1;
      rest     = {rest[23:0], 8'd0};
    end
    if (rest[31:28] == 4'd0) begin
      count[2] = 1'b1;
      rest     = {rest[27:0], 4'd0};
    end
    if (rest[31:30] == 2'd0) begin
      count[1] = 1'b1;
      rest     = {rest[29:0], 2'd0};
    end
    count[0]         = !rest[31];
    leading_zeros_32 = count;
  endfunction

endpackage

`endif
