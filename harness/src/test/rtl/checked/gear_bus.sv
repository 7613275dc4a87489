// Gear train of the orrery on a narrow bus: angle = turns * teeth + offset, whose operands come one
// after the other, a beat each.
//
//   in_data    24 bits   beat 0: turns, s8.8, in the lowest 16; beat 1: teeth, u8.0, in the lowest
//                        8; beat 2: offset, s16.8
//   in_first             1 at beat 0; only looked at where lone_start is 0
//   out_angle  s18.8     exact, since 2^7 * 2^8 + 2^15 < 2^17
//   out_forward          1 where the angle is above 0
//
// Latency 2 from the last beat, valid only, beats with or without bubbles between them. With
// lone_start = 1 valid is high at beat 0 alone and the others follow in the next two cycles. Reset
// synchronous, active high, control only: it also ends a case that has begun.
//
// A fault can be switched on, so that one build has them all:
//   1  turns and teeth come in each other's beat      2  a beat after a bubble is dropped
//   3  beats are counted, and reset does not count    4  a beat is counted without valid
//   5  everything a cycle late                        6  teeth take a bit more of the bus
//   7  the offset is that of the case before
module gear_bus (
    input logic       clk,
    input logic       rst,
    input logic       lone_start,
    input logic [2:0] fault,

    // cases
    input logic        in_valid,
    input logic        in_first,
    input logic [23:0] in_data,

    // results
    output logic               out_valid,
    output logic signed [25:0] out_angle,
    output logic               out_forward
);
  // the beat to come, and whether one comes
  logic [1:0] beat_q;
  logic [1:0] beat;
  logic       comes;
  logic       after_bubble_q;

  assign comes = (in_valid && !(fault == 3'd2 && after_bubble_q && beat_q != 2'd0))
      || ((lone_start || fault == 3'd4) && beat_q != 2'd0);
  assign beat = (in_first && in_valid && !lone_start && fault != 3'd3) ? 2'd0 : beat_q;

  always_ff @(posedge clk) begin
    after_bubble_q <= !in_valid;
    if (rst) begin
      if (fault != 3'd3) beat_q <= 2'd0;
      else if (beat_q == 2'd3) beat_q <= 2'd0;
    end else if (comes) begin
      beat_q <= beat >= 2'd2 ? 2'd0 : beat + 2'd1;
    end
  end

  // 1: operands as they come
  logic signed [15:0] turns_s1_q;
  logic        [ 8:0] teeth_s1_q;
  logic signed [23:0] offset_s1_q;
  logic signed [23:0] offset_before_q;
  logic               full_s1_q;

  always_ff @(posedge clk) begin
    if (comes && beat == (fault == 3'd1 ? 2'd1 : 2'd0)) turns_s1_q <= in_data[15:0];
    if (comes && beat == (fault == 3'd1 ? 2'd0 : 2'd1)) begin
      teeth_s1_q <= {in_data[8] && fault == 3'd6, in_data[7:0]};
    end
    if (comes && beat == 2'd2) begin
      offset_s1_q     <= in_data;
      offset_before_q <= offset_s1_q;
    end
    full_s1_q <= comes && beat == 2'd2 && !rst;
  end

  // 2: the sum, in full width
  logic signed [25:0] sum;
  logic signed [25:0] angle_s2_q;
  logic               valid_s2_q;

  assign sum = 26'(turns_s1_q) * $signed({17'd0, teeth_s1_q})
      + (fault == 3'd7 ? 26'(offset_before_q) : 26'(offset_s1_q));

  always_ff @(posedge clk) begin
    angle_s2_q <= sum;
    valid_s2_q <= full_s1_q && !rst;
  end

  // late, for the fault
  logic signed [25:0] late_q;
  logic               valid_late_q;

  always_ff @(posedge clk) begin
    late_q       <= angle_s2_q;
    valid_late_q <= valid_s2_q && !rst;
  end

  assign out_valid   = fault == 3'd5 ? valid_late_q : valid_s2_q;
  assign out_angle   = fault == 3'd5 ? late_q : angle_s2_q;
  assign out_forward = out_angle > 0;
endmodule
