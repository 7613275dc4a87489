// Divides, a bit of the quotient a cycle; a division by zero is over at once and gives all ones
// and the dividend. What is found stays until the next start.
module ratio_hold (
    input  wire       clk,
    input  wire       nrst,
    input  wire       go,
    input  wire [7:0] num,
    input  wire [7:0] den,
    output wire       busy,
    output reg        fin,
    output reg  [7:0] quo,
    output reg  [7:0] rem
);
  reg       run;
  reg [3:0] left;
  reg [7:0] d, n, acc;

  wire [8:0] sh = {acc, n[7]};
  wire       ge = sh >= {1'b0, d};
  wire [8:0] next = ge ? sh - {1'b0, d} : sh;

  assign busy = run;

  always @(posedge clk)
    if (!nrst) begin
      run <= 1'b0;
      fin <= 1'b0;
    end else begin
      if (go & ~run) begin
        fin <= 1'b0;
        if (den == 8'd0) begin
          quo <= 8'hff;
          rem <= num;
          fin <= 1'b1;
        end else begin
          run  <= 1'b1;
          left <= 4'd8;
          n    <= num;
          d    <= den;
          acc  <= 8'd0;
        end
      end else if (run) begin
        acc  <= next[7:0];
        n    <= {n[6:0], ge};
        left <= left - 4'd1;
        if (left == 4'd1) begin
          run <= 1'b0;
          fin <= 1'b1;
          quo <= {n[6:0], ge};
          rem <= next[7:0];
        end
      end
    end
endmodule
