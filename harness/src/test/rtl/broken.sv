// Mistakes of several kinds.
module spring (
    input wire x
);
  wire [3:0] q = 4'd3 + missing_here;
endmodule

module broken (
    input wire [3:0] a,
    output wire [7:0] b
);
  spring spring (.y(a));
  assign b = a[7:2];
  assign implied = never_declared;
  wire [3:0] twice;
  always @(posedge a[0]) wind();
  logic twice;
endmodule
