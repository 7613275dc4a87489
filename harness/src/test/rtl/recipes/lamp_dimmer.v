// Brightness as the eye has it, b*b/256 rounded down. Two registers that each wait for the one
// behind; the lamp takes a value when it has time.
module lamp_dimmer (
    input  wire       clk,
    input  wire       nrst,
    input  wire       b_valid,
    output wire       b_ready,
    input  wire [7:0] b,
    output wire       p_valid,
    input  wire       p_ready,
    output reg  [7:0] power
);
  reg       full1, full2;
  reg [7:0] b1;

  wire        go2    = ~full2 | p_ready;
  wire        go1    = ~full1 | go2;
  wire [15:0] square = b1 * b1;

  assign b_ready = go1;
  assign p_valid = full2;

  always @(posedge clk) begin
    if (go1) b1 <= b;
    if (go2) power <= square[15:8];
    if (!nrst) begin
      full1 <= 1'b0;
      full2 <= 1'b0;
    end else begin
      if (go1) full1 <= b_valid;
      if (go2) full2 <= full1;
    end
  end
endmodule
