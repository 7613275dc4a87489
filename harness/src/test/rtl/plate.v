// Verilog of 2001: the port list gives the order, the declarations stand in another.
module plate(level, clk, knock, chime, echo);
  output chime;
  input knock;
  input clk;
  input [3:0] level;
  output [7:0] echo;
  parameter DEPTH = 4;
  localparam LAST = DEPTH - 1;
  reg chime;
  reg signed [7:0] echo;
  reg [3:0] line [0:LAST];

  always @(posedge clk) begin
    chime <= knock;
    line[level[1:0]] <= level;
    echo <= {line[0], line[1]};
  end
endmodule
