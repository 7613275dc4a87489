// Escapement of the orrery: travel = ticks * step, one tick a cycle.
//
//   in_ticks    u3.0    how often the wheel is let go
//   in_step     s8.16   how far it goes each time
//   out_travel  s11.16  exact
//
// Valid and ready on both sides, one case at a time: a result is valid 1 + ticks cycles after its
// case was accepted, and stands still until it is taken. Reset synchronous, active high, control
// only.
module escapement (
    input logic clk,
    input logic rst,

    // cases
    input  logic               in_valid,
    output logic               in_ready,
    input  logic        [ 2:0] in_ticks,
    input  logic signed [23:0] in_step,

    // results
    output logic               out_valid,
    input  logic               out_ready,
    output logic signed [26:0] out_travel
);
  logic               busy_q;
  logic        [ 2:0] ticks_q;
  logic signed [23:0] step_q;
  logic signed [26:0] travel_q;

  assign in_ready   = !busy_q;
  assign out_valid  = busy_q && ticks_q == 3'd0;
  assign out_travel = travel_q;

  always_ff @(posedge clk) begin
    if (rst) busy_q <= 1'b0;
    else if (in_valid && in_ready) busy_q <= 1'b1;
    else if (out_valid && out_ready) busy_q <= 1'b0;
  end

  always_ff @(posedge clk) begin
    if (in_valid && in_ready) begin
      ticks_q  <= in_ticks;
      step_q   <= in_step;
      travel_q <= '0;
    end else if (busy_q && ticks_q != 3'd0) begin
      ticks_q  <= ticks_q - 3'd1;
      travel_q <= travel_q + 27'(step_q);
    end
  end
endmodule
