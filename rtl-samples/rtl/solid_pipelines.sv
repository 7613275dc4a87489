// Purpose   what of a ray lies in a box, sphere or half-space, one solid of any kind a cycle
// Ports     in_operation   an operation of scene_pkg; those without a solid get a meaningless result
//           in_slots       the operands, six words as scene_pkg has them
//           in_origin_*, in_direction_*, in_inverse_*, in_parallel_*
//                          the ray, as box_pipeline and sphere_pipeline take it
//           out_entry, out_exit
//                          signed, W bits with F fraction bits: the span, for ever by the codes of
//                          the pipelines
//           out_empty      there is none: entry >= exit, or a sphere of negative radius
//           out_entry_face, out_exit_face
//                          of a box, as box_pipeline has them; 0 of others
//           early_*        8 clocks after in_valid: whether the slab test with its margin finds a
//                          miss, and where the box is entered; mean something for box and skip alone
//           drop_young     all with 8 clocks or fewer behind them vanish, the one at in_valid too:
//                          in the cycle after an early result, those that are younger
//           young          how many that would be, 4 bits a context
//           drop_all       all vanish
//           in_valid, early_valid, out_valid and those have a bit for each context that shares the
//           pipelines; at most one of in_valid is high, and the ray is that context's. Outputs mean
//           something only while out_valid (early_valid) is high.
// Special   a sphere that the line misses has entry = exit, so it is empty like one that it touches
// Latency   W + 20, that of the sphere, for all; a cycle with reset drops all in flight
// Source    as the pipelines

`default_nettype none
`include "assertions.svh"
`include "orrery_pkg.svh"
`include "scene_pkg.svh"

module solid_pipelines #(
    parameter int unsigned W      = 32,  // word bits, 10 to 32: no other is deeper than the sphere
    parameter int unsigned F      = 16,  // fraction bits, 0 to W-1
    parameter int unsigned DW     = 18,  // direction and normal bits, 8 to W
    parameter int unsigned DF     = 16,  // direction and normal fraction bits, 4 to DW-1
    parameter int unsigned MARGIN = 64,  // of the slab test, 0 to 255
    parameter int unsigned N      = 1    // contexts that share the pipelines, 1 to 4
) (
    input logic clk,
    input logic rst,  // synchronous, active high

    // the ray
    input logic signed [ W-1:0] in_origin_x,
    input logic signed [ W-1:0] in_origin_y,
    input logic signed [ W-1:0] in_origin_z,
    input logic signed [DW-1:0] in_direction_x,
    input logic signed [DW-1:0] in_direction_y,
    input logic signed [DW-1:0] in_direction_z,
    input logic signed [ W-1:0] in_inverse_x,
    input logic signed [ W-1:0] in_inverse_y,
    input logic signed [ W-1:0] in_inverse_z,
    input logic                 in_parallel_x,
    input logic                 in_parallel_y,
    input logic                 in_parallel_z,

    // input stream
    input logic [  N-1:0] in_valid,
    input logic [    3:0] in_operation,
    input logic [6*W-1:0] in_slots,

    // early result of the slab test
    output logic        [N-1:0] early_valid,
    output logic                early_missed,
    output logic signed [W-1:0] early_entry,
    input  logic        [N-1:0] drop_all,
    input  logic        [N-1:0] drop_young,
    output logic    [4*N-1:0] young,

    // output stream
    output logic        [N-1:0] out_valid,
    output logic                out_empty,
    output logic signed [W-1:0] out_entry,
    output logic signed [W-1:0] out_exit,
    output logic        [  2:0] out_entry_face,
    output logic        [  2:0] out_exit_face
);

  localparam int unsigned BoxLatency = orrery_pkg::box_latency();
  localparam int unsigned PlaneLatency = orrery_pkg::plane_latency();
  localparam int unsigned Latency = orrery_pkg::sphere_latency(W);
  localparam int unsigned ResultW = 2 * W + 6;  // faces, exit, entry

  if (W < 10 || W > 32) begin : g_word_range
    $error("solid_pipelines: W must be 10 to 32");
  end
  if (DW < 8 || DW > W) begin : g_direction_word_range
    $error("solid_pipelines: DW must be 8 to W");
  end

  // Each pipeline's own valid bit marks below whose result stands where.
  logic in_box;
  logic in_sphere;
  logic in_plane;
  assign in_box = in_valid != '0
      && (in_operation == scene_pkg::OpBox || in_operation == scene_pkg::OpSkip);
  assign in_sphere = in_valid != '0 && in_operation == scene_pkg::OpSphere;
  assign in_plane  = in_valid != '0 && in_operation == scene_pkg::OpHalfSpace;

  logic                box_valid_s8;
  logic                box_hit_s8;
  logic signed [W-1:0] box_entry_s8;
  logic signed [W-1:0] box_exit_s8;
  logic        [  2:0] box_entry_face_s8;
  logic        [  2:0] box_exit_face_s8;
  box_pipeline #(
      .W     (W),
      .F     (F),
      .INV_W (W),
      .INV_F (F),
      .MARGIN(MARGIN)
  ) box (
      .clk          (clk),
      .rst          (rst),
      .in_valid     (in_box),
      .in_origin_x  (in_origin_x),
      .in_origin_y  (in_origin_y),
      .in_origin_z  (in_origin_z),
      .in_inverse_x (in_inverse_x),
      .in_inverse_y (in_inverse_y),
      .in_inverse_z (in_inverse_z),
      .in_parallel_x(in_parallel_x),
      .in_parallel_y(in_parallel_y),
      .in_parallel_z(in_parallel_z),
      .in_min_x     (in_slots[0*W+:W]),
      .in_min_y     (in_slots[1*W+:W]),
      .in_min_z     (in_slots[2*W+:W]),
      .in_max_x     (in_slots[3*W+:W]),
      .in_max_y     (in_slots[4*W+:W]),
      .in_max_z     (in_slots[5*W+:W]),
      .out_valid    (box_valid_s8),
      .out_hit      (box_hit_s8),
      .out_entry    (box_entry_s8),
      .out_exit     (box_exit_s8),
      .out_entry_face(box_entry_face_s8),
      .out_exit_face(box_exit_face_s8)
  );

  logic                plane_valid_s30;
  logic                plane_hit_s30;
  logic                plane_inside_s30;
  logic                plane_leaving_s30;
  logic                plane_parallel_s30;
  logic signed [W-1:0] plane_entry_s30;
  logic signed [W-1:0] plane_exit_s30;
  plane_pipeline #(
      .W (W),
      .F (F),
      .DW(DW),
      .DF(DF)
  ) plane (
      .clk           (clk),
      .rst           (rst),
      .in_valid      (in_plane),
      .in_origin_x   (in_origin_x),
      .in_origin_y   (in_origin_y),
      .in_origin_z   (in_origin_z),
      .in_direction_x(in_direction_x),
      .in_direction_y(in_direction_y),
      .in_direction_z(in_direction_z),
      .in_normal_x   (in_slots[0*W+:DW]),
      .in_normal_y   (in_slots[1*W+:DW]),
      .in_normal_z   (in_slots[2*W+:DW]),
      .in_level      (in_slots[3*W+:W]),
      .out_valid     (plane_valid_s30),
      .out_hit       (plane_hit_s30),
      .out_inside    (plane_inside_s30),
      .out_leaving   (plane_leaving_s30),
      .out_parallel  (plane_parallel_s30),
      .out_entry     (plane_entry_s30),
      .out_exit      (plane_exit_s30)
  );

  logic                sphere_valid;
  logic                sphere_hit;
  logic                sphere_inside;
  logic signed [W-1:0] sphere_entry;
  logic signed [W-1:0] sphere_exit;
  logic                radius_negative;
  logic                radius_negative_last_q;
  sphere_pipeline #(
      .W (W),
      .F (F),
      .DW(DW),
      .DF(DF)
  ) sphere (
      .clk           (clk),
      .rst           (rst),
      .in_valid      (in_sphere),
      .in_origin_x   (in_origin_x),
      .in_origin_y   (in_origin_y),
      .in_origin_z   (in_origin_z),
      .in_direction_x(in_direction_x),
      .in_direction_y(in_direction_y),
      .in_direction_z(in_direction_z),
      .in_centre_x   (in_slots[0*W+:W]),
      .in_centre_y   (in_slots[1*W+:W]),
      .in_centre_z   (in_slots[2*W+:W]),
      .in_radius     (in_slots[3*W+:W]),
      .out_valid     (sphere_valid),
      .out_hit       (sphere_hit),
      .out_inside    (sphere_inside),
      .out_entry     (sphere_entry),
      .out_exit      (sphere_exit)
  );
  assign radius_negative = in_slots[4*W-1];
  delay_line #(
      .WIDTH(1),
      .DEPTH(Latency)
  ) delay_radius_sign (
      .clk      (clk),
      .in_value (radius_negative),
      .out_value(radius_negative_last_q)
  );

  // One line of results brings all to the sphere's depth; the plane's join it on the way.
  logic [ResultW-1:0] result_s8;
  logic [ResultW-1:0] result_s30_q;
  logic [ResultW-1:0] result_s30;
  logic [ResultW-1:0] result_last_q;
  assign result_s8  = {box_exit_face_s8, box_entry_face_s8, box_exit_s8, box_entry_s8};
  assign result_s30 = plane_valid_s30 ? {6'd0, plane_exit_s30, plane_entry_s30} : result_s30_q;
  delay_line #(
      .WIDTH(ResultW),
      .DEPTH(PlaneLatency - BoxLatency)
  ) delay_box (
      .clk      (clk),
      .in_value (result_s8),
      .out_value(result_s30_q)
  );
  if (Latency > PlaneLatency) begin : g_sphere_is_deeper
    delay_line #(
        .WIDTH(ResultW),
        .DEPTH(Latency - PlaneLatency)
    ) delay_box_and_plane (
        .clk      (clk),
        .in_value (result_s30),
        .out_value(result_last_q)
    );
  end else begin : g_all_are_as_deep
    assign result_last_q = result_s30;
  end

  // valid_q[k]: whether a case of the context is k clocks on its way. What the pipelines say of a
  // case that was dropped comes out where no case is.
  for (genvar n = 0; n < N; n++) begin : g_context
    logic [Latency:1] valid_q;
    logic [      3:0] count;
    always_ff @(posedge clk) begin
      if (rst || drop_all[n]) valid_q <= '0;
      else if (drop_young[n]) begin
        valid_q <= {valid_q[Latency-1:BoxLatency+1], (BoxLatency + 1)'(0)};
      end else valid_q <= {valid_q[Latency-1:1], in_valid[n]};
    end
    always_comb begin
      count = 4'(in_valid[n]);
      for (int unsigned k = 1; k <= BoxLatency; k++) count = count + 4'(valid_q[k]);
    end
    assign young[4*n+:4]  = count;
    assign early_valid[n] = box_valid_s8 && valid_q[BoxLatency];
    assign out_valid[n]   = valid_q[Latency];
    `LOW_AFTER_RESET(valids_low, valid_q)
  end

  assign early_missed = !box_hit_s8;
  assign early_entry  = box_entry_s8;

  assign out_entry      = sphere_valid ? sphere_entry : $signed(result_last_q[W-1:0]);
  assign out_exit       = sphere_valid ? sphere_exit : $signed(result_last_q[2*W-1:W]);
  assign out_entry_face = sphere_valid ? 3'd0 : result_last_q[2*W+:3];
  assign out_exit_face  = sphere_valid ? 3'd0 : result_last_q[2*W+3+:3];
  assign out_empty      = out_entry >= out_exit || (sphere_valid && radius_negative_last_q);

  // Decisions about the ray ahead of its origin are not for spans.
  logic unused;
  assign unused = ^{
    plane_hit_s30,
    plane_inside_s30,
    plane_leaving_s30,
    plane_parallel_s30,
    sphere_hit,
    sphere_inside
  };

  `HOLDS(one_context_at_a_time, (in_valid & (in_valid - N'(1))) == '0)

endmodule

`default_nettype wire
