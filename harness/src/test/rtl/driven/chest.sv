// The orrery's chest of drawers: no clock, and a port of every shape that a value can travel through.
// What is laid in comes out again: as it is, in the opposite order, in part, or as a sum.
module chest
  import chest_types::*;
(
    input  logic                in_bit,
    input  logic        [  4:0] in_u5,
    input  logic signed [  4:0] in_s5,
    input  logic signed [ 32:0] in_s33,
    input  logic        [ 63:0] in_u64,
    input  logic signed [ 63:0] in_s64,
    input  logic        [ 64:0] in_u65,
    input  logic signed [ 64:0] in_s65,
    input  logic        [127:0] in_u128,
    input  logic signed [127:0] in_s128,
    input  logic        [199:0] in_u200,
    input  logic signed [199:0] in_s200,
    input  season_t             in_season,
    input  pose_t               in_pose,
    input  logic        [ 11:0] in_row    [0:3],
    input  logic signed [ 69:0] in_deep   [3:1][0:1],
    input  logic                drive,
    inout  wire         [  7:0] pad,

    output logic                out_bit,
    output logic        [  4:0] out_u5,
    output logic signed [  4:0] out_s5,
    output logic signed [ 32:0] out_s33,
    output logic        [ 63:0] out_u64,
    output logic signed [ 63:0] out_s64,
    output logic        [ 64:0] out_u65,
    output logic signed [ 64:0] out_s65,
    output logic        [127:0] out_u128,
    output logic signed [127:0] out_s128,
    output logic        [199:0] out_u200,
    output logic signed [199:0] out_s200,
    output season_t             out_season,
    output pose_t               out_pose,
    output logic signed [  8:0] out_angle,
    output logic        [ 63:0] out_mark,
    output logic        [ 11:0] out_row   [0:3],
    output logic signed [ 69:0] out_deep  [3:1][0:1],
    output logic signed [200:0] out_sum
);
  assign out_bit = in_bit;
  assign out_u5 = in_u5;
  assign out_s5 = in_s5;
  assign out_s33 = in_s33;
  assign out_u64 = in_u64;
  assign out_s64 = in_s64;
  assign out_u65 = in_u65;
  assign out_s65 = in_s65;
  assign out_u128 = in_u128;
  assign out_s128 = in_s128;
  assign out_u200 = in_u200;
  assign out_s200 = in_s200;
  assign out_season = in_season;
  assign out_pose = in_pose;
  assign out_angle = in_pose.angle;
  assign out_mark = in_pose.mark;
  assign out_row[0] = in_row[3];
  assign out_row[1] = in_row[2];
  assign out_row[2] = in_row[1];
  assign out_row[3] = in_row[0];
  assign out_deep[1][0] = in_deep[1][1];
  assign out_deep[1][1] = in_deep[1][0];
  assign out_deep[2][0] = in_deep[3][1];
  assign out_deep[2][1] = in_deep[3][0];
  assign out_deep[3][0] = in_deep[2][1];
  assign out_deep[3][1] = in_deep[2][0];
  assign out_sum = 201'(in_s200) + 201'(in_s65);
  assign pad = drive ? in_u128[7:0] : 8'bz;
endmodule
