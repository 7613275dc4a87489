// How far a governor opens: by the slope of its track, as long as the track has one; else it is
// all open or all closed. The opening has a size, of which there is no more than a word holds; the
// rest is the depth, as long as there is a slope.
module governor (
    input  logic              clk,
    input  logic signed [7:0] in_slope,
    input  logic signed [7:0] in_depth,
    output logic signed [7:0] out_opening,
    output logic signed [7:0] out_rest
);
  logic       still_s1_q;
  logic       inside_s1_q;
  logic       negative_s1_q;
  logic [8:0] size_s1_q;
  logic [7:0] depth_s1_q;
  logic [7:0] steep;
  assign steep = in_slope < 0 ? 8'(-in_slope) : in_slope;
  always_ff @(posedge clk) begin
    still_s1_q    <= in_slope == 0;
    inside_s1_q   <= in_depth >= 0;
    depth_s1_q    <= in_depth;
    negative_s1_q <= in_slope < 0;
    size_s1_q     <= 9'd320 - {steep, 1'b0};
  end

  logic [8:0] limit_s1;
  logic [7:0] within_s1;
  logic [7:0] opening_s2_q;
  logic [7:0] rest_s2_q;
  assign limit_s1  = negative_s1_q ? 9'd128 : 9'd127;
  assign within_s1 = size_s1_q > limit_s1 ? limit_s1[7:0] : size_s1_q[7:0];
  always_ff @(posedge clk) begin
    if (still_s1_q) begin
      opening_s2_q <= inside_s1_q ? 8'h7f : 8'h80;
      rest_s2_q    <= inside_s1_q ? 8'h00 : 8'h01;
    end else begin
      opening_s2_q <= negative_s1_q ? -within_s1 : within_s1;
      rest_s2_q    <= depth_s1_q;
    end
  end
  assign out_opening = opening_s2_q;
  assign out_rest    = rest_s2_q;
endmodule
