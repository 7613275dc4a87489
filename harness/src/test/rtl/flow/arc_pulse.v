// x * y + z, three cycles after the strobe; no reset, and nothing says when.
module arc_pulse (
    input  wire              CK,
    input  wire              strobe,
    input  wire signed [8:0] x,
    input  wire signed [8:0] y,
    input  wire signed [8:0] z,
    output reg  signed [18:0] area
);
  reg signed [17:0] p;
  reg signed [8:0] z1, x0, y0, z0;
  reg s0, s1;

  always @(posedge CK) begin
    s0 <= strobe;
    s1 <= s0;
    if (strobe) begin
      x0 <= x;
      y0 <= y;
      z0 <= z;
    end
    if (s0) begin
      p  <= x0 * y0;
      z1 <= z0;
    end
    if (s1) area <= p + z1;
  end
endmodule
