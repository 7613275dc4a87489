// Purpose   level of one channel of a colour, by threshold or to the nearest, one a cycle
// Equation  scaled = in_channel in_steps;  low = floor(scaled / 255);  rest = scaled - 255 low
//           out_level = low + 1 where rest > in_threshold, else low
// Ports     in_channel    unsigned, 8 bits: 0 to 1 in steps of 1/255
//           in_steps      number of levels less one, 1 to 7
//           in_threshold  0 to 254, in 1/255 of a level; 127: to the nearest (rest of 128 or more)
//                         It belongs to the channel of two clocks before
//           out_level     0 to in_steps
// Latency   3, one channel a cycle; no reset
//
// floor(s / 255) = floor((s + floor(s / 256) + 1) / 256) for s below 255 256, and here s is at
// most 7 255. A channel of 255 has rest 0, so that no level exceeds in_steps.

`default_nettype none

module channel_quantiser (
    input logic clk,

    input logic [7:0] in_channel,
    input logic [2:0] in_steps,
    input logic [7:0] in_threshold,

    output logic [2:0] out_level
);

  // Clock 1: scaled, by sums: no multiplier is worth three bits.
  logic [10:0] scaled_s1_q;
  always_ff @(posedge clk) begin
    scaled_s1_q <= (in_steps[2] ? {1'b0, in_channel, 2'd0} : 11'd0)
        + (in_steps[1] ? {2'b0, in_channel, 1'b0} : 11'd0)
        + (in_steps[0] ? {3'b0, in_channel} : 11'd0);
  end

  // Clock 2: low and rest. 255 low is 256 low - low, so the rest is a sum of 8 bits.
  logic [11:0] raised_s1;
  logic [ 2:0] low_s1;
  logic [ 2:0] low_s2_q;
  logic [ 7:0] rest_s2_q;
  assign raised_s1 = 12'(scaled_s1_q) + 12'(scaled_s1_q[10:8]) + 12'd1;
  assign low_s1    = raised_s1[10:8];
  always_ff @(posedge clk) begin
    low_s2_q  <= low_s1;
    rest_s2_q <= scaled_s1_q[7:0] + 8'(low_s1);
  end

  // Clock 3: level.
  logic [2:0] level_s3_q;
  always_ff @(posedge clk) level_s3_q <= low_s2_q + 3'(rest_s2_q > in_threshold);

  assign out_level = level_s3_q;

  // What was raised stays below 8 256, and its fraction is the rest's.
  logic unused;
  assign unused = ^{raised_s1[11], raised_s1[7:0]};

endmodule

`default_nettype wire
