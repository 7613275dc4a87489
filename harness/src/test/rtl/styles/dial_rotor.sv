// Turns a hand of length 1 by an angle (coordinate rotation, four iterations, one a cycle).
// Angle: s2.12 radians; x and y: s2.12. The gain of the iterations is left in.
module dial_rotor (
    input  logic               clk,
    input  logic               rst,
    input  logic               in_valid,
    input  logic signed [13:0] in_angle,
    output logic               out_valid,
    output logic signed [13:0] out_x,
    output logic signed [13:0] out_y
);
  localparam logic signed [13:0] Turn0 = 14'sd3217;
  localparam logic signed [13:0] Turn1 = 14'sd1899;
  localparam logic signed [13:0] Turn2 = 14'sd1003;
  localparam logic signed [13:0] Turn3 = 14'sd509;
  logic [3:0] valid_q;
  logic signed [13:0] x1_q, y1_q, z1_q;
  logic signed [13:0] x2_q, y2_q, z2_q;
  logic signed [13:0] x3_q, y3_q, z3_q;
  logic signed [13:0] x4_q, y4_q;
  always_ff @(posedge clk) begin
    valid_q <= rst ? '0 : {valid_q[2:0], in_valid};
    x1_q <= 14'sd4096;
    y1_q <= in_angle < 0 ? -14'sd4096 : 14'sd4096;
    z1_q <= in_angle < 0 ? in_angle + Turn0 : in_angle - Turn0;
    x2_q <= z1_q < 0 ? x1_q + (y1_q >>> 1) : x1_q - (y1_q >>> 1);
    y2_q <= z1_q < 0 ? y1_q - (x1_q >>> 1) : y1_q + (x1_q >>> 1);
    z2_q <= z1_q < 0 ? z1_q + Turn1 : z1_q - Turn1;
    x3_q <= z2_q < 0 ? x2_q + (y2_q >>> 2) : x2_q - (y2_q >>> 2);
    y3_q <= z2_q < 0 ? y2_q - (x2_q >>> 2) : y2_q + (x2_q >>> 2);
    z3_q <= z2_q < 0 ? z2_q + Turn2 : z2_q - Turn2;
    x4_q <= z3_q < 0 ? x3_q + (y3_q >>> 3) : x3_q - (y3_q >>> 3);
    y4_q <= z3_q < 0 ? y3_q - (x3_q >>> 3) : y3_q + (x3_q >>> 3);
  end
  assign out_valid = valid_q[3];
  assign out_x = x4_q;
  assign out_y = y4_q;
  logic unused;
  assign unused = ^Turn3;
endmodule
