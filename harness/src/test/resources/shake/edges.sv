// State of every kind: both edges, a latch, an asynchronous reset, a second clock, a memory, x.
module edges (
  input  logic       clk,
  input  logic       rst_n,
  input  logic       other_clk,
  input  logic       enable,
  input  logic [7:0] d,

  output logic [7:0] rising,
  output logic [7:0] falling,
  output logic [3:0] both,
  output logic [7:0] latched,
  output logic [7:0] other,
  output logic [7:0] read,
  output logic [7:0] unknown,
  output logic       clock_itself
);
  logic [7:0] memory [0:15];

  always_ff @(posedge clk or negedge rst_n)
    if (!rst_n) rising <= 8'hA5;
    else rising <= d + falling;
  always_ff @(negedge clk) falling <= d ^ rising;
  always_ff @(posedge clk or negedge clk) both <= both + 4'd1;
  always_latch if (!enable) latched = ~d;
  always_ff @(posedge other_clk) other <= other + rising;
  always_ff @(posedge clk) begin
    if (enable) memory[d[3:0]] <= d;
    read <= memory[d[7:4]];
    case (d[1:0])
      2'd0: unknown <= d;
      2'd1: unknown <= ~d;
      default: unknown <= 8'bxxxx_0110;
    endcase
  end
  assign clock_itself = clk;
endmodule
