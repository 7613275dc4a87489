// Two pans, each with a load on an arm and the pan's own load; their product.
module pan (
    input  logic               clk,
    input  logic signed [ 7:0] in_load,
    input  logic signed [ 7:0] in_arm,
    output logic signed [16:0] out_weight
);
  logic signed [16:0] weight_q;
  always_ff @(posedge clk) weight_q <= 17'(in_load) * 17'(in_arm) + 17'(in_load);
  assign out_weight = weight_q;
endmodule

module scales (
    input  logic               clk,
    input  logic signed [ 7:0] left_load,
    input  logic signed [ 7:0] left_arm,
    input  logic signed [ 7:0] right_load,
    input  logic signed [ 7:0] right_arm,
    output logic signed [33:0] out_swing
);
  logic signed [16:0] left_weight;
  logic signed [16:0] right_weight;
  pan near_pan (
      .clk       (clk),
      .in_load   (left_load),
      .in_arm    (left_arm),
      .out_weight(left_weight)
  );
  pan far_pan (
      .clk       (clk),
      .in_load   (right_load),
      .in_arm    (right_arm),
      .out_weight(right_weight)
  );
  logic signed [33:0] swing_q;
  always_ff @(posedge clk) swing_q <= 34'(left_weight) * 34'(right_weight);
  assign out_swing = swing_q;
endmodule
