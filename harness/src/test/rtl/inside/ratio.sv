// Angle times ratio, rounded down to 8 fraction bits, plus the angle itself: three cycles. The fault
// that is asked for is built in, so that one model serves all tests.
module ratio (
    input  logic               clk,
    input  logic               rst,
    input  logic        [ 1:0] fault,  // 0 none, 1 rounding, 2 a delay too short, 3 $stop
    input  logic               in_valid,
    input  logic signed [15:0] in_angle,
    input  logic signed [15:0] in_ratio,
    output logic               out_valid,
    output logic signed [20:0] out_sum
);

  logic               [ 3:1] valid_q;
  logic signed        [31:0] product_s1_q;
  logic signed        [19:0] turned_s2_q;
  logic signed        [15:0] waited;

  always_ff @(posedge clk) begin
    valid_q <= rst ? 3'd0 : {valid_q[2:1], in_valid};
    product_s1_q <= in_angle * in_ratio;
    turned_s2_q <= 20'(product_s1_q >>> 12)
        + 20'(fault == 2'd1 && product_s1_q[11:9] == 3'd7 ? 1 : 0);
    out_sum <= 21'(turned_s2_q) + 21'(waited);
    if (fault == 2'd3 && valid_q[3] && out_sum[3:0] == 4'd9) $stop;
  end

  wait_two waiting (
      .clk(clk),
      .short(fault == 2'd2),
      .in_value(in_angle),
      .out_value(waited)
  );

  assign out_valid = valid_q[3];

endmodule

module wait_two (
    input  logic               clk,
    input  logic               short,
    input  logic signed [15:0] in_value,
    output logic signed [15:0] out_value
);

  logic signed [15:0] first_q;
  logic signed [15:0] second_q;
  always_ff @(posedge clk) begin
    first_q  <= in_value;
    second_q <= first_q;
  end
  assign out_value = short ? first_q : second_q;

endmodule
