// Purpose   ray against axis-parallel box by slabs, one ray and box a cycle
// Equation  per axis t = (plane - origin) inverse; entry = largest near, exit = smallest far;
//           hit = entry <= exit + MARGIN and exit + MARGIN >= 0, the sums exact
// Ports     in_origin_*, in_min_*, in_max_*
//                          signed, W bits with F fraction bits
//           in_inverse_*   1 / direction component: signed, INV_W bits with INV_F fraction bits
//           in_parallel_*  that direction component is 0; the inverse is then ignored
//           out_entry, out_exit
//                          signed, W bits with F fraction bits, in units of the direction's
//                          length; given for a miss as well
//           out_entry_face, out_exit_face
//                          the faces that give them, for a miss as well: 2 axis + side, axis 0 x,
//                          1 y, 2 z, side 0 the min plane, 1 the max plane. Of axes with the same
//                          distance the lowest; near is of the min plane where t_min <= t_max or
//                          the ray is parallel
//           Outputs mean something only while out_valid is high.
// Range     min <= max on each axis; where they are crossed the box is taken between the two,
//           unless the ray is parallel to its planes (then a miss)
// Rounding  t: floor to F fraction bits, then saturated to W bits; all else exact
// Special   parallel: a ray between the planes, or exactly in one, is inside that slab for ever
//           (lowest to highest code); any other ray is outside for ever and misses.
//           The test is of the ray: a box wholly behind the origin misses; a box around it hits
//           with a negative entry
// Margin    makes up for inverses, which fall short of the true ones by less than one LSB and
//           so put each t off by less than |plane - origin| / 2^INV_F LSB. No ray that hits
//           exactly is missed while |plane - origin|, summed over the planes of entry and exit,
//           is at most MARGIN 2^INV_F as codes and no inverse is saturated: E - X < MARGIN + 1
//           after two floors, and both are integers. More reach: a larger MARGIN or INV_F.
// Latency   8 for all parameters; one case a cycle; a cycle with reset drops all cases in flight
// Source    slabs: T. L. Kay, J. T. Kajiya, Ray tracing complex scenes, SIGGRAPH 1986; margin
//           after T. Ize, Robust BVH ray traversal, JCGT 2(2), 2013 (its fixed-point analogue:
//           common practice, no source)

`default_nettype none
`include "assertions.svh"
`include "orrery_pkg.svh"

module box_pipeline #(
    parameter int unsigned W      = 32,  // word bits, 8 to 32
    parameter int unsigned F      = 16,  // fraction bits, 0 to W-1
    parameter int unsigned INV_W  = 32,  // inverse bits, 8 to 32
    parameter int unsigned INV_F  = 16,  // inverse fraction bits, 0 to INV_W-1
    parameter int unsigned MARGIN = 2    // LSB by which exits are widened, 0 to 255
) (
    input logic clk,
    input logic rst,  // synchronous, active high

    // input stream
    input logic                    in_valid,
    input logic signed [    W-1:0] in_origin_x,
    input logic signed [    W-1:0] in_origin_y,
    input logic signed [    W-1:0] in_origin_z,
    input logic signed [INV_W-1:0] in_inverse_x,
    input logic signed [INV_W-1:0] in_inverse_y,
    input logic signed [INV_W-1:0] in_inverse_z,
    input logic                    in_parallel_x,
    input logic                    in_parallel_y,
    input logic                    in_parallel_z,
    input logic signed [    W-1:0] in_min_x,
    input logic signed [    W-1:0] in_min_y,
    input logic signed [    W-1:0] in_min_z,
    input logic signed [    W-1:0] in_max_x,
    input logic signed [    W-1:0] in_max_y,
    input logic signed [    W-1:0] in_max_z,

    // output stream
    output logic                out_valid,
    output logic                out_hit,
    output logic signed [W-1:0] out_entry,
    output logic signed [W-1:0] out_exit,
    output logic        [  2:0] out_entry_face,
    output logic        [  2:0] out_exit_face
);

  localparam int unsigned Latency = orrery_pkg::box_latency();

  if (W < 8 || W > 32) begin : g_word_range
    $error("box_pipeline: W must be 8 to 32");
  end
  // F only places the point: products are floored by INV_F places whatever F is.
  if (F > W - 1) begin : g_fraction_range
    $error("box_pipeline: F must be 0 to W-1");
  end
  if (INV_W < 8 || INV_W > 32) begin : g_inverse_word_range
    $error("box_pipeline: INV_W must be 8 to 32");
  end
  if (INV_F > INV_W - 1) begin : g_inverse_fraction_range
    $error("box_pipeline: INV_F must be 0 to INV_W-1");
  end
  if (MARGIN > 255) begin : g_margin_range
    $error("box_pipeline: MARGIN must be 0 to 255");
  end

  // valid_q[k]: whether the values *_s<k>_q belong to a case.
  logic [Latency:1] valid_q;
  always_ff @(posedge clk) begin
    if (rst) valid_q <= '0;
    else valid_q <= {valid_q[Latency-1:1], in_valid};
  end

  // Clocks 1 to 5: the three slabs.
  logic signed [W-1:0] near_x_s5_q;
  logic signed [W-1:0] near_y_s5_q;
  logic signed [W-1:0] near_z_s5_q;
  logic signed [W-1:0] far_x_s5_q;
  logic signed [W-1:0] far_y_s5_q;
  logic signed [W-1:0] far_z_s5_q;
  logic                swapped_x_s5_q;
  logic                swapped_y_s5_q;
  logic                swapped_z_s5_q;
  box_axis #(
      .W    (W),
      .INV_W(INV_W),
      .INV_F(INV_F)
  ) axis_x (
      .clk        (clk),
      .in_origin  (in_origin_x),
      .in_inverse (in_inverse_x),
      .in_parallel(in_parallel_x),
      .in_min     (in_min_x),
      .in_max     (in_max_x),
      .out_near   (near_x_s5_q),
      .out_far    (far_x_s5_q),
      .out_swapped(swapped_x_s5_q)
  );
  box_axis #(
      .W    (W),
      .INV_W(INV_W),
      .INV_F(INV_F)
  ) axis_y (
      .clk        (clk),
      .in_origin  (in_origin_y),
      .in_inverse (in_inverse_y),
      .in_parallel(in_parallel_y),
      .in_min     (in_min_y),
      .in_max     (in_max_y),
      .out_near   (near_y_s5_q),
      .out_far    (far_y_s5_q),
      .out_swapped(swapped_y_s5_q)
  );
  box_axis #(
      .W    (W),
      .INV_W(INV_W),
      .INV_F(INV_F)
  ) axis_z (
      .clk        (clk),
      .in_origin  (in_origin_z),
      .in_inverse (in_inverse_z),
      .in_parallel(in_parallel_z),
      .in_min     (in_min_z),
      .in_max     (in_max_z),
      .out_near   (near_z_s5_q),
      .out_far    (far_z_s5_q),
      .out_swapped(swapped_z_s5_q)
  );

  // Clock 6: x with y; z waits.
  logic signed [W-1:0] entry_xy_s6_q;
  logic signed [W-1:0] exit_xy_s6_q;
  logic signed [W-1:0] near_z_s6_q;
  logic signed [W-1:0] far_z_s6_q;
  logic        [  2:0] entry_face_xy_s6_q;
  logic        [  2:0] exit_face_xy_s6_q;
  logic                swapped_z_s6_q;
  logic                x_enters_last;
  logic                x_leaves_first;
  assign x_enters_last  = near_x_s5_q >= near_y_s5_q;
  assign x_leaves_first = far_x_s5_q <= far_y_s5_q;
  always_ff @(posedge clk) begin
    entry_xy_s6_q      <= x_enters_last ? near_x_s5_q : near_y_s5_q;
    exit_xy_s6_q       <= x_leaves_first ? far_x_s5_q : far_y_s5_q;
    entry_face_xy_s6_q <= x_enters_last ? {2'd0, swapped_x_s5_q} : {2'd1, swapped_y_s5_q};
    exit_face_xy_s6_q  <= x_leaves_first ? {2'd0, !swapped_x_s5_q} : {2'd1, !swapped_y_s5_q};
    near_z_s6_q        <= near_z_s5_q;
    far_z_s6_q         <= far_z_s5_q;
    swapped_z_s6_q     <= swapped_z_s5_q;
  end

  // Clock 7: with z.
  logic signed [W-1:0] entry_s7_q;
  logic signed [W-1:0] exit_s7_q;
  logic        [  2:0] entry_face_s7_q;
  logic        [  2:0] exit_face_s7_q;
  logic                xy_enters_last;
  logic                xy_leaves_first;
  assign xy_enters_last  = entry_xy_s6_q >= near_z_s6_q;
  assign xy_leaves_first = exit_xy_s6_q <= far_z_s6_q;
  always_ff @(posedge clk) begin
    entry_s7_q      <= xy_enters_last ? entry_xy_s6_q : near_z_s6_q;
    exit_s7_q       <= xy_leaves_first ? exit_xy_s6_q : far_z_s6_q;
    entry_face_s7_q <= xy_enters_last ? entry_face_xy_s6_q : {2'd2, swapped_z_s6_q};
    exit_face_s7_q  <= xy_leaves_first ? exit_face_xy_s6_q : {2'd2, !swapped_z_s6_q};
  end

  // Clock 8: decision; the widened exit grows by a carry.
  logic                hit_s8_q;
  logic signed [W-1:0] entry_s8_q;
  logic signed [W-1:0] exit_s8_q;
  logic        [  2:0] entry_face_s8_q;
  logic        [  2:0] exit_face_s8_q;
  // A margin of eight bits takes more than the carry of a shorter word.
  localparam int unsigned ReachW = (W > 9 ? W : 9) + 1;
  logic signed [ReachW-1:0] widened_s7;
  assign widened_s7 = ReachW'(exit_s7_q) + $signed(ReachW'(MARGIN));
  always_ff @(posedge clk) begin
    hit_s8_q        <= ReachW'(entry_s7_q) <= widened_s7 && !widened_s7[ReachW-1];
    entry_s8_q      <= entry_s7_q;
    exit_s8_q       <= exit_s7_q;
    entry_face_s8_q <= entry_face_s7_q;
    exit_face_s8_q  <= exit_face_s7_q;
  end

  assign out_valid      = valid_q[Latency];
  assign out_hit        = hit_s8_q;
  assign out_entry      = entry_s8_q;
  assign out_exit       = exit_s8_q;
  assign out_entry_face = entry_face_s8_q;
  assign out_exit_face  = exit_face_s8_q;

  `LOW_AFTER_RESET(valids_low, valid_q)
  `HOLDS(hit_is_entered_before_left,
         !out_valid || !out_hit
         || ReachW'(out_entry) <= ReachW'(out_exit) + $signed(ReachW'(MARGIN)))

endmodule

`default_nettype wire
