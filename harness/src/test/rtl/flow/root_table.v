// The whole root of a radicand that is no less than 0, in one cycle; of others it says anything.
module root_table (
    input  wire               ck,
    input  wire               nres,
    input  wire               go,
    input  wire signed [8:0]  x,
    input  wire        [6:0]  y,
    input  wire        [3:0]  trim,
    input  wire               test_on,
    output reg                ok,
    output reg         [4:0]  r,
    output reg         [6:0]  z
);
  integer i;
  reg [4:0] root;
  always @* begin
    root = 5'd0;
    for (i = 1; i < 16; i = i + 1) if (i * i <= {23'd0, x}) root = i[4:0];
    if (x < 0) root = 5'd31;
  end
  always @(posedge ck or negedge nres)
    if (!nres) ok <= 1'b0;
    else begin
      ok <= go;
      if (go) begin
        r <= root;
        z <= y ^ 7'h55;
      end
    end
endmodule
