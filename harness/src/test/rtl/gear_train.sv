// Turns the crank angle of the orrery into a planet's angle: angle += step, one turn is 2^16.
module gear_train #(
    parameter int Steps = 3
) (
    input  logic               clk,
    input  logic               rst,
    input  logic               in_valid,
    input  logic signed [15:0] in_step,
    output logic               out_valid,
    output logic signed [15:0] out_angle
);
  always_ff @(posedge clk) begin
    out_valid <= in_valid && !rst;
    if (rst) out_angle <= 16'sd0;
    else if (in_valid) out_angle <= out_angle + 16'(Steps) * in_step;
  end
endmodule
