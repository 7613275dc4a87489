// Every type that a port can have and a test bench can drive.
`include "orrery_units.svh"

module gallery
  import orrery_units::*;
(
    input season_t season,
    input orrery_units::phase_t phase,
    input orrery_frames::phase_t frame,
    input lead_t lead,
    input phase_t phases [0:1],
    input pair_t pair,
    input logic signed [1:0][3:0] whole,
    input setting_t setting,
    input setting_t [1:0] settings,
    input setting_t rack [0:1],
    input slide_t slides [2:0],
    input message_t message,
    input code_t code,
    input logic [0:7] ascending,
    input logic [-3:4] centred,
    input logic [3:0][7:0] quads,
    input wire [64:0] wide,
    input bit signed sign,
    input integer count,
    input byte unsigned letter,
    input byte digit,
    input shortint short_one,
    input longint unsigned long_one,
    input time when_it_was,
    input enum logic [1:0] {RED, GREEN} lamp,
    input struct packed {logic lit; logic [2:0] hue;} glow,
    output logic [0:0] one,
    output var logic signed [11:0] position,
    inout wire [3:0] shared
);
  assign one = phase[0] ^ lamp[0];
  assign position = 12'(message.pose[0].angle);
endmodule
