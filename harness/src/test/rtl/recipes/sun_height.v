// Height of the sun: the sine of an angle of a quarter turn or less, by CORDIC, a pass a cycle.
// Sines carry six bits more than the result has, angles eight more than came in.
module sun_height (
    input  wire               clk,
    input  wire               rst,
    input  wire               go,
    input  wire signed [15:0] angle,   // a turn is 65536
    output reg                fin,
    output wire signed [15:0] height   // 14 fraction bits
);
  reg               run;
  reg        [ 3:0] i;
  reg signed [22:0] x, y;
  reg signed [23:0] z;
  reg signed [23:0] arc;

  // A turn is 2^24.
  always @*
    case (i)
      4'd0: arc = 24'd2097152;
      4'd1: arc = 24'd1238021;
      4'd2: arc = 24'd654136;
      4'd3: arc = 24'd332050;
      4'd4: arc = 24'd166669;
      4'd5: arc = 24'd83416;
      4'd6: arc = 24'd41718;
      4'd7: arc = 24'd20860;
      4'd8: arc = 24'd10430;
      4'd9: arc = 24'd5215;
      4'd10: arc = 24'd2608;
      4'd11: arc = 24'd1304;
      4'd12: arc = 24'd652;
      4'd13: arc = 24'd326;
      default: arc = 24'd163;
    endcase

  wire signed [22:0] rounded = y + 23'sd32;
  assign height = rounded[21:6];

  always @(posedge clk) begin
    fin <= 1'b0;
    if (rst) run <= 1'b0;
    else if (go) begin
      run <= 1'b1;
      i   <= 4'd0;
      x   <= 23'sd636751;  // 2^20 by the gain of all passes
      y   <= 23'sd0;
      z   <= {angle, 8'd0};
    end else if (run) begin
      i <= i + 4'd1;
      if (z[23]) begin
        x <= x + (y >>> i);
        y <= y - (x >>> i);
        z <= z + arc;
      end else begin
        x <= x - (y >>> i);
        y <= y + (x >>> i);
        z <= z - arc;
      end
      if (i == 4'd14) begin
        run <= 1'b0;
        fin <= 1'b1;
      end
    end
  end
endmodule
