// Gear train of the orrery: angle = turns * teeth + offset, and whether that points forward.
//
//   in_turns   s8.8    turns of the first wheel
//   in_teeth   u8.0    teeth it has
//   in_offset  s16.8   where the second wheel stood
//   out_angle  s18.8   where it stands; exact, since 2^7 * 2^8 + 2^15 < 2^17
//   out_forward        1 where the angle is above 0
//
// Latency 3, a case every cycle, valid only. Reset synchronous, active high, control only.
module gear_train (
    input logic clk,
    input logic rst,

    // cases
    input logic               in_valid,
    input logic signed [15:0] in_turns,
    input logic        [ 7:0] in_teeth,
    input logic signed [23:0] in_offset,

    // results
    output logic               out_valid,
    output logic signed [25:0] out_angle,
    output logic               out_forward
);
  localparam int Latency = 3;

  logic [Latency-1:0] valid_q;

  always_ff @(posedge clk) begin
    if (rst) valid_q <= '0;
    else valid_q <= {valid_q[Latency-2:0], in_valid};
  end

  // 1: operands; teeth gain a sign bit so that the product is signed
  logic signed [15:0] turns_s1_q;
  logic signed [ 8:0] teeth_s1_q;
  logic signed [23:0] offset_s1_q;

  always_ff @(posedge clk) begin
    turns_s1_q  <= in_turns;
    teeth_s1_q  <= {1'b0, in_teeth};
    offset_s1_q <= in_offset;
  end

  // 2: product, 16 + 9 bits
  logic signed [24:0] product_s2_q;
  logic signed [23:0] offset_s2_q;

  always_ff @(posedge clk) begin
    product_s2_q <= 25'(turns_s1_q) * 25'(teeth_s1_q);
    offset_s2_q  <= offset_s1_q;
  end

  // 3: sum, one bit more for the carry
  logic signed [25:0] angle_s3_q;

  always_ff @(posedge clk) begin
    angle_s3_q <= 26'(product_s2_q) + 26'(offset_s2_q);
  end

  assign out_valid   = valid_q[Latency-1];
  assign out_angle   = angle_s3_q;
  assign out_forward = angle_s3_q > 0;
endmodule
