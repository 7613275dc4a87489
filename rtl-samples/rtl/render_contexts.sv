// Purpose   ray sequencers over one executor, each with a context of it and a table of materials
// Ports     settings   as ray_sequencer has them
//           program_*, table_*  loads reach every context; reads are of context 0, meant for the
//                      time between frames. surface_word, table_word: of each context, 0 lowest
//           context_*, colour_*  as frame_controller has them; the tag is {y, x}
// Flow      as ray_sequencer, each by itself
// Source    as ray_sequencer and scene_contexts

`default_nettype none

module render_contexts #(
    parameter int unsigned CONTEXTS  = 2,   // 1 to 4
    parameter int unsigned W         = 32,  // as scene_contexts and ray_sequencer have them
    parameter int unsigned F         = 16,
    parameter int unsigned DW        = 18,
    parameter int unsigned DF        = 16,
    parameter int unsigned MARGIN    = 64,
    parameter int unsigned C         = 4,
    parameter int unsigned S         = 4,
    parameter int unsigned A         = 10,
    parameter int unsigned P         = 4,
    parameter int unsigned Q         = 64,
    parameter int unsigned M         = 8,
    parameter int unsigned NORMALISE = 1
) (
    input logic clk,
    input logic rst,  // synchronous, active high

    // settings
    input logic [ 3*W-1:0] eye,
    input logic [ 3*W-1:0] corner,
    input logic [ 3*W-1:0] step_x,
    input logic [ 3*W-1:0] step_y,
    input logic [3*DW-1:0] lamp,
    input logic [ 3*W-1:0] lamp_inverse,
    input logic [     2:0] lamp_parallel,
    input logic [   W-1:0] epsilon,
    input logic [     8:0] ambient,
    input logic [    23:0] background,

    // memories
    input  logic                         program_load_valid,
    input  logic [                A-1:0] program_load_address,
    input  logic [           24+6*W-1:0] program_load_word,
    input  logic                         program_read,
    input  logic [                A-1:0] program_read_address,
    output logic [CONTEXTS*(24+6*W)-1:0] surface_word,
    input  logic                         table_load_valid,
    input  logic [                M-1:0] table_load_address,
    input  logic [                 31:0] table_load_word,
    input  logic                         table_read,
    input  logic [                M-1:0] table_read_address,
    output logic [      CONTEXTS*32-1:0] table_word,

    // pixels
    input  logic [CONTEXTS-1:0] context_valid,
    output logic [CONTEXTS-1:0] context_ready,
    input  logic [        11:0] context_x,
    input  logic [        11:0] context_y,

    // colours
    output logic [   CONTEXTS-1:0] colour_valid,
    input  logic [   CONTEXTS-1:0] colour_ready,
    output logic [24*CONTEXTS-1:0] colour_tag,
    output logic [24*CONTEXTS-1:0] colour,
    output logic [   CONTEXTS-1:0] colour_shadow_ray,
    output logic [   CONTEXTS-1:0] colour_mirror_ray,
    output logic [   CONTEXTS-1:0] colour_mirror_shadow_ray
);

  localparam int unsigned WordW = 24 + 6 * W;

  // Rays and results, a field for each context.
  logic [   CONTEXTS-1:0] ray_valid;
  logic [   CONTEXTS-1:0] ray_ready;
  logic [ CONTEXTS*W-1:0] ray_origin_x;
  logic [ CONTEXTS*W-1:0] ray_origin_y;
  logic [ CONTEXTS*W-1:0] ray_origin_z;
  logic [CONTEXTS*DW-1:0] ray_direction_x;
  logic [CONTEXTS*DW-1:0] ray_direction_y;
  logic [CONTEXTS*DW-1:0] ray_direction_z;
  logic [ CONTEXTS*W-1:0] ray_inverse_x;
  logic [ CONTEXTS*W-1:0] ray_inverse_y;
  logic [ CONTEXTS*W-1:0] ray_inverse_z;
  logic [   CONTEXTS-1:0] ray_parallel_x;
  logic [   CONTEXTS-1:0] ray_parallel_y;
  logic [   CONTEXTS-1:0] ray_parallel_z;
  logic [ CONTEXTS*W-1:0] ray_start;
  logic [ CONTEXTS*W-1:0] ray_limit;
  logic [   CONTEXTS-1:0] ray_any_hit;
  logic [   CONTEXTS-1:0] result_valid;
  logic [   CONTEXTS-1:0] result_ready;
  logic [   CONTEXTS-1:0] result_hit;
  logic [ CONTEXTS*W-1:0] result_distance;
  logic [ CONTEXTS*A-1:0] result_address;
  logic [ CONTEXTS*3-1:0] result_face;
  logic [   CONTEXTS-1:0] surface_read;
  logic [ CONTEXTS*A-1:0] surface_address;

  for (genvar k = 0; k < CONTEXTS; k++) begin : of
    logic           reads_surface;
    logic [  A-1:0] its_surface;
    logic           reads_table;
    logic [  M-1:0] its_material;
    logic [3*W-1:0] origin;
    logic [3*DW-1:0] direction;
    logic [3*W-1:0] inverse;
    logic [    2:0] parallel;
    ray_sequencer #(
        .W        (W),
        .F        (F),
        .DW       (DW),
        .DF       (DF),
        .M        (M),
        .A        (A),
        .TAG_W    (24),
        .NORMALISE(NORMALISE)
    ) sequencer (
        .clk                     (clk),
        .rst                     (rst),
        .eye                     (eye),
        .corner                  (corner),
        .step_x                  (step_x),
        .step_y                  (step_y),
        .lamp                    (lamp),
        .lamp_inverse            (lamp_inverse),
        .lamp_parallel           (lamp_parallel),
        .epsilon                 (epsilon),
        .ambient                 (ambient),
        .background              (background),
        .pixel_valid             (context_valid[k]),
        .pixel_ready             (context_ready[k]),
        .pixel_x                 (context_x),
        .pixel_y                 (context_y),
        .pixel_tag               ({context_y, context_x}),
        .ray_valid               (ray_valid[k]),
        .ray_ready               (ray_ready[k]),
        .ray_origin              (origin),
        .ray_direction           (direction),
        .ray_inverse             (inverse),
        .ray_parallel            (parallel),
        .ray_start               (ray_start[k*W+:W]),
        .ray_limit               (ray_limit[k*W+:W]),
        .ray_any_hit             (ray_any_hit[k]),
        .result_valid            (result_valid[k]),
        .result_ready            (result_ready[k]),
        .result_hit              (result_hit[k]),
        .result_distance         (result_distance[k*W+:W]),
        .result_address          (result_address[k*A+:A]),
        .result_face             (result_face[k*3+:3]),
        .surface_read            (reads_surface),
        .surface_address         (its_surface),
        .surface_word            (surface_word[k*WordW+:WordW]),
        .table_read              (reads_table),
        .table_address           (its_material),
        .table_word              (table_word[k*32+:32]),
        .colour_valid            (colour_valid[k]),
        .colour_ready            (colour_ready[k]),
        .colour_tag              (colour_tag[k*24+:24]),
        .colour                  (colour[k*24+:24]),
        .colour_shadow_ray       (colour_shadow_ray[k]),
        .colour_mirror_ray       (colour_mirror_ray[k]),
        .colour_mirror_shadow_ray(colour_mirror_shadow_ray[k])
    );
    assign {ray_origin_z[k*W+:W], ray_origin_y[k*W+:W], ray_origin_x[k*W+:W]} = origin;
    assign {ray_direction_z[k*DW+:DW], ray_direction_y[k*DW+:DW], ray_direction_x[k*DW+:DW]} =
        direction;
    assign {ray_inverse_z[k*W+:W], ray_inverse_y[k*W+:W], ray_inverse_x[k*W+:W]} = inverse;
    assign {ray_parallel_z[k], ray_parallel_y[k], ray_parallel_x[k]} = parallel;

    // The host reads what context 0 has.
    logic         host_reads_table;
    logic [M-1:0] material;
    if (k == 0) begin : g_host
      assign surface_read[k]         = reads_surface || program_read;
      assign surface_address[k*A+:A] = program_read ? program_read_address : its_surface;
      assign host_reads_table        = table_read;
      assign material                = table_read ? table_read_address : its_material;
    end else begin : g_alone
      assign surface_read[k]         = reads_surface;
      assign surface_address[k*A+:A] = its_surface;
      assign host_reads_table        = 1'b0;
      assign material                = its_material;
    end
    table_memory #(
        .A    (M),
        .WIDTH(32)
    ) materials (
        .clk         (clk),
        .load_valid  (table_load_valid),
        .load_address(table_load_address),
        .load_word   (table_load_word),
        .read_enable (reads_table || host_reads_table),
        .read_address(material),
        .out_word    (table_word[k*32+:32])
    );
  end

  /* verilator lint_off PINCONNECTEMPTY */
  scene_contexts #(
      .N     (CONTEXTS),
      .W     (W),
      .F     (F),
      .DW    (DW),
      .DF    (DF),
      .MARGIN(MARGIN),
      .TAG   (1),
      .C     (C),
      .S     (S),
      .A     (A),
      .P     (P),
      .Q     (Q)
  ) executor (
      .clk                   (clk),
      .rst                   (rst),
      .ray_abort             ('0),
      .load_valid            (program_load_valid),
      .load_address          (program_load_address),
      .load_word             (program_load_word),
      .surface_read          (surface_read),
      .surface_address       (surface_address),
      .surface_word          (surface_word),
      .ray_valid             (ray_valid),
      .ray_ready             (ray_ready),
      .ray_origin_x          (ray_origin_x),
      .ray_origin_y          (ray_origin_y),
      .ray_origin_z          (ray_origin_z),
      .ray_direction_x       (ray_direction_x),
      .ray_direction_y       (ray_direction_y),
      .ray_direction_z       (ray_direction_z),
      .ray_inverse_x         (ray_inverse_x),
      .ray_inverse_y         (ray_inverse_y),
      .ray_inverse_z         (ray_inverse_z),
      .ray_parallel_x        (ray_parallel_x),
      .ray_parallel_y        (ray_parallel_y),
      .ray_parallel_z        (ray_parallel_z),
      .ray_start             (ray_start),
      .ray_limit             (ray_limit),
      .ray_any_hit           (ray_any_hit),
      .ray_tag               ('0),
      .result_valid          (result_valid),
      .result_ready          (result_ready),
      .result_hit            (result_hit),
      .result_distance       (result_distance),
      .result_address        (result_address),
      .result_face           (result_face),
      .result_reversed       (),
      .result_inward         (),
      .result_overflow       (),
      .result_tag            (),
      .result_cycles         (),
      .result_operations     (),
      .result_predicted_right(),
      .result_predicted_wrong(),
      .retire_valid          (),
      .retire_address        (),
      .retire_operation      (),
      .retire_taken          (),
      .retire_height         (),
      .retire_count          (),
      .retire_distance       (),
      .retire_surface        (),
      .retire_reversed       (),
      .retire_best_hit       (),
      .retire_best_distance  (),
      .retire_best_surface   (),
      .retire_best_reversed  (),
      .retire_best_inward    (),
      .retire_overflow       ()
  );
  /* verilator lint_on PINCONNECTEMPTY */

endmodule

`default_nettype wire
