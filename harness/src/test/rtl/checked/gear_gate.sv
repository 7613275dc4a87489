// Gear train of the orrery behind an input that often waits: angle = turns * teeth + offset, worked
// out a tooth bit at a time.
//
//   in_data    16 bits   beat 0: teeth, u8.0, in bits 15 to 8; beat 1: turns, s8.8
//   in_last              1 at beat 1
//   in_offset  s16.8     stands still during both beats
//   out_angle  s18.8     exact
//   out_forward          1 where the angle is above 0
//
// Valid and ready on both sides, one case at a time. A result is valid 9 cycles after beat 1 was
// taken. Reset synchronous, active high, control only: it also ends a case that has begun.
//
// A fault can be switched on, so that one build has them all:
//   1  turns and teeth come in each other's beat      2  beat 1 after a wait is skipped
//   3  beats are counted, and reset does not count    4  ready falls a cycle late
//   5  the offset is taken a cycle after the last beat
module gear_gate (
    input logic       clk,
    input logic       rst,
    input logic [2:0] fault,

    // cases
    input  logic               in_valid,
    output logic               in_ready,
    input  logic               in_last,
    input  logic        [15:0] in_data,
    input  logic signed [23:0] in_offset,

    // results
    output logic               out_valid,
    input  logic               out_ready,
    output logic signed [25:0] out_angle,
    output logic               out_forward
);
  typedef enum logic [1:0] {
    Beat0,
    Beat1,
    Working,
    Done
  } state_e;

  state_e             state_q;
  logic        [ 3:0] left_q;   // tooth bits to do, after one cycle for the offset
  logic        [ 7:0] teeth_q;
  logic signed [25:0] turns_q;
  logic signed [25:0] angle_q;
  logic               pause_q;  // every fourth cycle ready is low
  logic        [ 1:0] tick_q;
  logic               late_q;   // for the fault: the offset is still to come

  logic last;
  logic takes;

  assign last  = fault == 3'd3 || fault == 3'd2 ? state_q == Beat1 : in_last;
  assign takes = in_valid && in_ready;

  assign in_ready    = (state_q == Beat0 || state_q == Beat1
      || (fault == 3'd4 && state_q == Working && left_q == 4'd7)) && !pause_q;
  assign out_valid   = state_q == Done;
  assign out_angle   = angle_q;
  assign out_forward = angle_q > 0;

  always_ff @(posedge clk) begin
    tick_q  <= rst ? 2'd0 : tick_q + 2'd1;
    pause_q <= tick_q == 2'd2 && !rst;
    if (rst) begin
      if (fault != 3'd3 || state_q != Beat1) state_q <= Beat0;
    end else begin
      case (state_q)
        Beat0, Beat1: begin
          if (takes) state_q <= last ? Working : Beat1;
          else if (fault == 3'd2 && in_valid && last && pause_q) state_q <= Working;
        end
        Working: if (left_q == 4'd0) state_q <= Done;
        default: if (out_ready) state_q <= Beat0;
      endcase
    end
  end

  always_ff @(posedge clk) begin
    if (takes && !last) begin
      teeth_q <= fault == 3'd1 ? in_data[7:0] : in_data[15:8];
      if (fault == 3'd1) turns_q <= 26'($signed(in_data));
    end
    if (takes && last) begin
      left_q  <= 4'd7;
      angle_q <= fault == 3'd5 ? '0 : 26'(in_offset);
      late_q  <= fault == 3'd5;
      if (fault == 3'd1) teeth_q <= in_data[15:8];
      else turns_q <= 26'($signed(in_data));
    end
    if (state_q == Working) begin
      left_q  <= left_q - 4'd1;
      teeth_q <= {1'b0, teeth_q[7:1]};
      turns_q <= turns_q <<< 1;
      angle_q <= angle_q + (teeth_q[0] ? turns_q : '0) + (late_q ? 26'(in_offset) : '0);
      late_q  <= 1'b0;
    end
  end
endmodule
