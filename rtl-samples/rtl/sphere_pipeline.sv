// Purpose   ray against sphere by the perpendicular from its centre, one ray and sphere a cycle
// Equation  offset = centre - origin; projection = offset . direction;
//           across = offset - projection direction; discriminant = radius^2 - across . across;
//           entry, exit = projection -+ sqrt(discriminant);
//           hit = discriminant >= 0 and radius >= 0 and exit >= 0; inside = hit and entry < 0
// Ports     in_origin_*, in_centre_*, in_radius
//                           signed, W bits with F fraction bits
//           in_direction_*  signed, DW bits with DF fraction bits, taken to be of unit length
//           out_entry, out_exit
//                           signed, W bits with F fraction bits, in units of the direction's
//                           length
//           out_hit, out_inside
//           Every code is legal. Outputs mean something only while out_valid is high.
// Rounding  nearest, halves up: projection and each component of projection direction, to
//           F + 4 fraction bits, and entry and exit, to F. Floor: discriminant to 2F, root to F.
//           All else exact
// Overflow  projection saturates at W + 6 bits, across at W + 4, entry and exit at W. A saturated
//           across is longer than any radius, so the decision stands
// Special   tangent ray, origin on the surface: a hit (entry = exit; entry or exit = 0), as the
//           rounded numbers have it. Sphere wholly behind the origin: a miss.
//           radius 0: a point, hit only dead on; below 0: always a miss.
//           Miss: entry and exit are given, the root of a discriminant below 0 taken as 0
//           A direction whose squared length is 1 + e puts distances off by e relative, or so
// Latency   W + 20 (52 for W = 32); one case a cycle; a cycle with reset drops all cases in flight
// Source    E. Haines, Essential ray tracing algorithms, in A. Glassner (ed.), An Introduction to
//           Ray Tracing, Academic Press 1989 (the geometric solution); the distance from the
//           centre as a vector, which b^2 - c cannot cancel: common practice, no source

`default_nettype none
`include "assertions.svh"
`include "orrery_pkg.svh"

module sphere_pipeline #(
    parameter int unsigned W  = 32,  // word bits, 8 to 32
    parameter int unsigned F  = 16,  // fraction bits, 0 to W-1
    parameter int unsigned DW = 18,  // direction bits, 8 to 32
    parameter int unsigned DF = 16   // direction fraction bits, 4 to DW-1
) (
    input logic clk,
    input logic rst,  // synchronous, active high

    // input stream
    input logic                 in_valid,
    input logic signed [ W-1:0] in_origin_x,
    input logic signed [ W-1:0] in_origin_y,
    input logic signed [ W-1:0] in_origin_z,
    input logic signed [DW-1:0] in_direction_x,
    input logic signed [DW-1:0] in_direction_y,
    input logic signed [DW-1:0] in_direction_z,
    input logic signed [ W-1:0] in_centre_x,
    input logic signed [ W-1:0] in_centre_y,
    input logic signed [ W-1:0] in_centre_z,
    input logic signed [ W-1:0] in_radius,

    // output stream
    output logic                out_valid,
    output logic                out_hit,
    output logic                out_inside,
    output logic signed [W-1:0] out_entry,
    output logic signed [W-1:0] out_exit
);

  localparam int unsigned G = 4;  // guard bits
  localparam int unsigned RootLatency = orrery_pkg::square_root_latency(2 * W, 0);
  localparam int unsigned RootStage = 15 + RootLatency;
  localparam int unsigned Latency = orrery_pkg::sphere_latency(W);

  localparam int unsigned OffsetW = W + 1;  // a borrow
  localparam int unsigned DotW = OffsetW + DW + 1;
  localparam int unsigned ProjectionW = W + G + 2;  // four times a word's range; 2 sqrt(3) needed
  localparam int unsigned SquareW = 2 * (W + G);
  localparam int unsigned DiscriminantW = SquareW + 1;  // a sign: three squares fill SquareW
  localparam int unsigned RadicandW = 2 * W;  // radius^2 <= 2^(2W-2), and a sign
  localparam int unsigned DistanceW = ProjectionW + 1;  // a carry

  if (W < 8 || W > 32) begin : g_word_range
    $error("sphere_pipeline: W must be 8 to 32");
  end
  // F only places the point: each step drops as many bits whatever F is.
  if (F > W - 1) begin : g_fraction_range
    $error("sphere_pipeline: F must be 0 to W-1");
  end
  if (DW < 8 || DW > 32) begin : g_direction_word_range
    $error("sphere_pipeline: DW must be 8 to 32");
  end
  if (DF < G || DF > DW - 1) begin : g_direction_fraction_range
    $error("sphere_pipeline: DF must be 4 to DW-1");
  end

  // valid_q[k]: whether the values *_s<k>_q belong to a case.
  logic [Latency:1] valid_q;
  always_ff @(posedge clk) begin
    if (rst) valid_q <= '0;
    else valid_q <= {valid_q[Latency-1:1], in_valid};
  end

  // Clock 1: exact offsets of the centre from the origin.
  logic signed [OffsetW-1:0] offset_x_s1_q;
  logic signed [OffsetW-1:0] offset_y_s1_q;
  logic signed [OffsetW-1:0] offset_z_s1_q;
  logic signed [     DW-1:0] direction_x_s1_q;
  logic signed [     DW-1:0] direction_y_s1_q;
  logic signed [     DW-1:0] direction_z_s1_q;
  logic signed [      W-1:0] radius_s1_q;
  always_ff @(posedge clk) begin
    offset_x_s1_q    <= OffsetW'(in_centre_x) - OffsetW'(in_origin_x);
    offset_y_s1_q    <= OffsetW'(in_centre_y) - OffsetW'(in_origin_y);
    offset_z_s1_q    <= OffsetW'(in_centre_z) - OffsetW'(in_origin_z);
    direction_x_s1_q <= in_direction_x;
    direction_y_s1_q <= in_direction_y;
    direction_z_s1_q <= in_direction_z;
    radius_s1_q      <= in_radius;
  end

  // Clocks 2 to 4: their exact projection on the ray, F + DF fraction bits.
  logic signed [DotW-1:0] dot_s4_q;
  dot_product #(
      .A_W(OffsetW),
      .B_W(DW)
  ) dot (
      .clk    (clk),
      .in_a_x (offset_x_s1_q),
      .in_a_y (offset_y_s1_q),
      .in_a_z (offset_z_s1_q),
      .in_b_x (direction_x_s1_q),
      .in_b_y (direction_y_s1_q),
      .in_b_z (direction_z_s1_q),
      .out_dot(dot_s4_q)
  );

  // Clock 5: distance of the foot of the perpendicular, F + G fraction bits.
  logic signed [ProjectionW-1:0] projection_s5_q;
  logic signed [    OffsetW-1:0] offset_x_s5_q;
  logic signed [    OffsetW-1:0] offset_y_s5_q;
  logic signed [    OffsetW-1:0] offset_z_s5_q;
  logic signed [         DW-1:0] direction_x_s5_q;
  logic signed [         DW-1:0] direction_y_s5_q;
  logic signed [         DW-1:0] direction_z_s5_q;
  round_saturate #(
      .IN_W (DotW),
      .DROP (DF - G),
      .OUT_W(ProjectionW)
  ) round_projection (
      .clk      (clk),
      .in_value (dot_s4_q),
      .out_value(projection_s5_q)
  );
  delay_line #(
      .WIDTH(3 * OffsetW),
      .DEPTH(4)
  ) delay_offset (
      .clk      (clk),
      .in_value ({offset_x_s1_q, offset_y_s1_q, offset_z_s1_q}),
      .out_value({offset_x_s5_q, offset_y_s5_q, offset_z_s5_q})
  );
  delay_line #(
      .WIDTH(3 * DW),
      .DEPTH(4)
  ) delay_direction (
      .clk      (clk),
      .in_value ({direction_x_s1_q, direction_y_s1_q, direction_z_s1_q}),
      .out_value({direction_x_s5_q, direction_y_s5_q, direction_z_s5_q})
  );

  // Clocks 6 to 12: the perpendicular from the foot to the centre, squared by components.
  logic [SquareW-1:0] square_x_s12_q;
  logic [SquareW-1:0] square_y_s12_q;
  logic [SquareW-1:0] square_z_s12_q;
  sphere_axis #(
      .W (W),
      .DW(DW),
      .DF(DF),
      .G (G)
  ) axis_x (
      .clk          (clk),
      .in_offset    (offset_x_s5_q),
      .in_direction (direction_x_s5_q),
      .in_projection(projection_s5_q),
      .out_square   (square_x_s12_q)
  );
  sphere_axis #(
      .W (W),
      .DW(DW),
      .DF(DF),
      .G (G)
  ) axis_y (
      .clk          (clk),
      .in_offset    (offset_y_s5_q),
      .in_direction (direction_y_s5_q),
      .in_projection(projection_s5_q),
      .out_square   (square_y_s12_q)
  );
  sphere_axis #(
      .W (W),
      .DW(DW),
      .DF(DF),
      .G (G)
  ) axis_z (
      .clk          (clk),
      .in_offset    (offset_z_s5_q),
      .in_direction (direction_z_s5_q),
      .in_projection(projection_s5_q),
      .out_square   (square_z_s12_q)
  );

  // Clock 13: squared distance of the ray's line from the centre, at most 3/4 2^SquareW. The
  // radius has waited, since it is half as wide as its square.
  logic        [SquareW-1:0] squared_distance_s13_q;
  logic signed [      W-1:0] radius_s11_q;
  logic        [    2*W-1:0] squared_radius_s13_q;
  always_ff @(posedge clk) begin
    squared_distance_s13_q <= square_x_s12_q + square_y_s12_q + square_z_s12_q;
  end
  delay_line #(
      .WIDTH(W),
      .DEPTH(10)
  ) delay_radius (
      .clk      (clk),
      .in_value (radius_s1_q),
      .out_value(radius_s11_q)
  );
  split_multiply #(
      .A_W   (W),
      .B_W   (W),
      .SIGNED(1)
  ) multiply_radius (
      .clk        (clk),
      .in_a       (radius_s11_q),
      .in_b       (radius_s11_q),
      .out_product(squared_radius_s13_q)
  );

  // Clock 14: discriminant, exact, 2 (F + G) fraction bits. Both operands are not negative.
  logic signed [DiscriminantW-1:0] discriminant_s14_q;
  logic                            radius_negative_s11;
  logic                            radius_negative_s14_q;
  assign radius_negative_s11 = radius_s11_q < W'(0);
  always_ff @(posedge clk) begin
    discriminant_s14_q <= $signed(
        (DiscriminantW'(squared_radius_s13_q) << (2 * G)) - DiscriminantW'(squared_distance_s13_q)
    );
  end
  delay_line #(
      .WIDTH(1),
      .DEPTH(3)
  ) delay_radius_sign (
      .clk      (clk),
      .in_value (radius_negative_s11),
      .out_value(radius_negative_s14_q)
  );

  // Clock 15: decision of the line, and radicand, 2F fraction bits: at most radius^2.
  logic                        meets_s15_q;
  logic signed [RadicandW-1:0] radicand_s15_q;
  always_ff @(posedge clk) begin
    meets_s15_q <= discriminant_s14_q >= DiscriminantW'(0) && !radius_negative_s14_q;
    radicand_s15_q <= discriminant_s14_q < DiscriminantW'(0)
        ? RadicandW'(0) : RadicandW'(discriminant_s14_q >>> (2 * G));
  end

  // Clocks 16 to RootStage: half the chord. The radicand as an integer has a root with F fraction
  // bits, at most 2^(W-1).
  logic                        root_valid;
  logic                        root_negative;
  logic signed [RadicandW-1:0] root;
  logic                        meets_root_q;
  logic signed [ProjectionW-1:0] projection_root_q;
  square_root #(
      .W(RadicandW),
      .F(0)
  ) root_of_discriminant (
      .clk         (clk),
      .rst         (rst),
      .in_valid    (valid_q[15]),
      .in_x        (radicand_s15_q),
      .out_valid   (root_valid),
      .out_root    (root),
      .out_negative(root_negative)
  );
  delay_line #(
      .WIDTH(ProjectionW),
      .DEPTH(RootStage - 5)
  ) delay_projection (
      .clk      (clk),
      .in_value (projection_s5_q),
      .out_value(projection_root_q)
  );
  delay_line #(
      .WIDTH(1),
      .DEPTH(RootStage - 15)
  ) delay_meets (
      .clk      (clk),
      .in_value (meets_s15_q),
      .out_value(meets_root_q)
  );

  // Clock RootStage + 1: both crossings, exact, F + G fraction bits.
  logic signed [DistanceW-1:0] half_chord;
  logic signed [DistanceW-1:0] entry_exact_q;
  logic signed [DistanceW-1:0] exit_exact_q;
  logic                        meets_exact_q;
  assign half_chord = DistanceW'(root) <<< G;
  always_ff @(posedge clk) begin
    entry_exact_q <= DistanceW'(projection_root_q) - half_chord;
    exit_exact_q  <= DistanceW'(projection_root_q) + half_chord;
    meets_exact_q <= meets_root_q;
  end

  // Clock RootStage + 2: as words.
  logic signed [W-1:0] entry_word_q;
  logic signed [W-1:0] exit_word_q;
  logic                meets_word_q;
  round_saturate #(
      .IN_W (DistanceW),
      .DROP (G),
      .OUT_W(W)
  ) round_entry (
      .clk      (clk),
      .in_value (entry_exact_q),
      .out_value(entry_word_q)
  );
  round_saturate #(
      .IN_W (DistanceW),
      .DROP (G),
      .OUT_W(W)
  ) round_exit (
      .clk      (clk),
      .in_value (exit_exact_q),
      .out_value(exit_word_q)
  );
  always_ff @(posedge clk) meets_word_q <= meets_exact_q;

  // Clock RootStage + 3: decision of the ray.
  logic                hit_last_q;
  logic                inside_last_q;
  logic signed [W-1:0] entry_last_q;
  logic signed [W-1:0] exit_last_q;
  logic                hit_word;
  assign hit_word = meets_word_q && exit_word_q >= W'(0);
  always_ff @(posedge clk) begin
    hit_last_q    <= hit_word;
    inside_last_q <= hit_word && entry_word_q < W'(0);
    entry_last_q  <= entry_word_q;
    exit_last_q   <= exit_word_q;
  end

  assign out_valid  = valid_q[Latency];
  assign out_hit    = hit_last_q;
  assign out_inside = inside_last_q;
  assign out_entry  = entry_last_q;
  assign out_exit   = exit_last_q;

  // The root has no more than W bits of its format, and valid_q marks its cases.
  logic unused_root;
  assign unused_root = ^{root, root_valid, root_negative};

  `LOW_AFTER_RESET(valids_low, valid_q)
  `HOLDS(root_in_step, root_valid == valid_q[RootStage])
  `HOLDS(entered_before_left, !out_valid || out_entry <= out_exit)
  `HOLDS(inside_is_hit, !out_valid || !out_inside || out_hit)

endmodule

`default_nettype wire
