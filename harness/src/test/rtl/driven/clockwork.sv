// Signals of every shape inside a design: registers, wires, wide ones, arrays, memories, generate
// scopes, an instance within an instance.
module clockwork (
    input  logic               clk,
    input  logic               rst,
    input  logic signed [15:0] in_step,
    output logic signed [15:0] out_angle
);

  logic signed [15:0] angle_q;
  logic        [99:0] history_q;  // the newest six angles, the latest one lowest
  logic        [ 7:0] memory[3:10];
  logic               turned;
  logic        [ 2:0] place_q;
  assign turned = angle_q != 0;

  always_ff @(posedge clk) begin
    if (rst) begin
      angle_q <= '0;
      history_q <= '0;
      place_q <= '0;
    end else begin
      angle_q <= angle_q + in_step;
      history_q <= {history_q[83:0], angle_q};
      memory[4'd3+4'(place_q)] <= angle_q[7:0];
      place_q <= place_q + 3'd1;
    end
  end

  hand hand (
      .clk(clk),
      .in_angle(angle_q),
      .out_angle(out_angle)
  );

endmodule

module hand (
    input  logic               clk,
    input  logic signed [15:0] in_angle,
    output logic signed [15:0] out_angle
);

  for (genvar k = 0; k < 2; k++) begin : gear
    logic signed [15:0] angle_q;
    if (k == 0) begin : g_first
      always_ff @(posedge clk) angle_q <= in_angle;
    end else begin : g_later
      always_ff @(posedge clk) angle_q <= gear[k-1].angle_q;
    end
  end

  assign out_angle = gear[1].angle_q;

endmodule
