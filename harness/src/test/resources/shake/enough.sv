// Ends itself in cycle 1234 (counted from 1), and says so.
module enough (
  input  logic        clk,
  input  logic [7:0]  d,

  output logic [15:0] count,
  output logic [7:0]  q
);
  always_ff @(posedge clk) begin
    count <= count + 16'd1;
    q <= d;
    if (count == 16'd1233) begin
      $display("enough at %0d", count);
      $finish;
    end
  end
endmodule
