// Volume of a crate: its three sides come in turn with the yard's clock, the volume is told with
// the hall's. A request and its answer cross by two registers each; one reset, asynchronous, low.
module crate_bridge (
    input  wire        yard_clk,
    input  wire        hall_clk,
    input  wire        nrst,
    input  wire        side_v,
    input  wire [7:0]  side,
    output wire        side_r,
    output reg         told,
    output reg  [23:0] volume
);
  // The yard: takes sides unless a crate is under way.
  reg  [1:0]  part;
  reg  [7:0]  first, second;
  reg  [23:0] all;
  reg         asks, heard1, heard;
  reg         open;

  assign side_r = asks == heard;

  always @(posedge yard_clk or negedge nrst)
    if (!nrst) begin
      part   <= 2'd0;
      asks   <= 1'b0;
      heard1 <= 1'b0;
      heard  <= 1'b0;
      open   <= 1'b0;
    end else begin
      open   <= 1'b1;
      heard1 <= answer;
      heard  <= heard1;
      if (side_v && side_r) begin
        part <= (part == 2'd2) ? 2'd0 : part + 2'd1;
        if (part == 2'd2) asks <= ~asks;
      end
    end

  always @(posedge yard_clk)
    if (side_v && side_r)
      case (part)
        2'd0: first <= side;
        2'd1: second <= side;
        default: all <= {16'd0, first} * {16'd0, second} * {16'd0, side};
      endcase

  // The hall: tells once for each change of the request.
  reg asked1, asked, answer;
  reg opened;

  always @(posedge hall_clk or negedge nrst)
    if (!nrst) begin
      asked1 <= 1'b0;
      asked  <= 1'b0;
      answer <= 1'b0;
      told   <= 1'b0;
      opened <= 1'b0;
    end else begin
      opened <= opened | open;
      asked1 <= asks;
      asked  <= asked1;
      answer <= asked;
      told   <= (asked != answer) && opened;
      volume <= all;
    end
endmodule
