// Which stars the ceiling shows in each of sixteen fields; begins as stars.hex says.
module star_map (
    input  wire        clk,
    input  wire        we,
    input  wire [ 3:0] field,
    input  wire [11:0] d,
    output reg  [11:0] lit
);
  reg [11:0] star [0:15];

  initial $readmemh("stars.hex", star);

  always @(posedge clk) begin
    if (we) star[field] <= d;
    lit <= star[field];
  end
endmodule
