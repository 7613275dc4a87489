// Purpose   the orrery display chip: from a scene and a camera to pictures in bit planes
// Ports     bus_*, irq   host_port, which says what the host sets, loads and starts
//           pixel_*      each pixel in the cycle in which it goes to the picture converter, to watch
//           out_*        words of pictures, as plane_stream has them
//           look_*       the palette for a display: look_colour is the colour of look_code from the
//                        cycle after look_valid on, until the next
// Special   memories stand when the chip is reset; all else begins anew. Pictures of more than
//           2^XW by 2^YW pixels overlap in memory
// Flow      out: valid and ready; bus: as host_port
// Size      the executor's pipelines once, for each context a program memory, a ray sequencer and a
//           table of materials
// Source    as the blocks

`default_nettype none
`include "assertions.svh"

module orrery #(
    parameter int unsigned CONTEXTS  = 2,   // pixels at a time, 1 to 4
    parameter int unsigned W         = 32,  // as scene_executor has them
    parameter int unsigned F         = 16,
    parameter int unsigned DW        = 18,
    parameter int unsigned DF        = 16,
    parameter int unsigned MARGIN    = 64,
    parameter int unsigned C         = 4,
    parameter int unsigned S         = 4,
    parameter int unsigned A         = 10,
    parameter int unsigned P         = 4,
    parameter int unsigned Q         = 64,
    parameter int unsigned M         = 8,   // as ray_sequencer has them
    parameter int unsigned NORMALISE = 1,
    parameter int unsigned XW        = 8,   // as picture_converter has them
    parameter int unsigned YW        = 8
) (
    input logic clk,
    input logic rst,  // synchronous, active high

    // host
    input  logic        bus_valid,
    output logic        bus_ready,
    input  logic        bus_write,
    input  logic [ 7:0] bus_address,
    input  logic [15:0] bus_wdata,
    output logic [15:0] bus_rdata,
    output logic        bus_error,
    output logic        irq,

    // pixels, to watch
    output logic        pixel_valid,
    output logic [11:0] pixel_x,
    output logic [11:0] pixel_y,
    output logic [23:0] pixel_colour,

    // pictures
    output logic        out_valid,
    input  logic        out_ready,
    output logic [15:0] out_word,
    output logic        out_last,

    // palette
    input  logic        look_valid,
    input  logic [ 7:0] look_code,
    output logic [23:0] look_colour
);

  localparam int unsigned WordW = 24 + 6 * W;
  localparam int unsigned TagW = 24;

  // Host.
  logic             start_frame;
  logic             abort_frame;
  logic             swap;
  logic             busy;
  logic             swap_pending;
  logic             frame_done;
  logic             streamed;
  logic             start_ignored;
  logic [     31:0] frame_cycles;
  logic [     31:0] primary_rays;
  logic [     31:0] shadow_rays;
  logic [     31:0] mirror_rays;
  logic [     31:0] mirror_shadow_rays;
  logic             program_load_valid;
  logic [    A-1:0] program_load_address;
  logic [WordW-1:0] program_load_word;
  logic             program_read;
  logic [    A-1:0] program_read_address;
  logic             palette_load_valid;
  logic [      7:0] palette_load_address;
  logic [     23:0] palette_load_word;
  logic             palette_read;
  logic [      7:0] palette_read_address;
  logic [     23:0] palette_word;
  logic             table_load_valid;
  logic [    M-1:0] table_load_address;
  logic [     31:0] table_load_word;
  logic             table_read;
  logic [    M-1:0] table_read_address;
  logic [  3*W-1:0] eye;
  logic [  3*W-1:0] corner;
  logic [  3*W-1:0] step_x;
  logic [  3*W-1:0] step_y;
  logic [ 3*DW-1:0] lamp;
  logic [  3*W-1:0] lamp_inverse;
  logic [      2:0] lamp_parallel;
  logic [    W-1:0] epsilon;
  logic [      8:0] ambient;
  logic [     23:0] background;
  logic [     11:0] width_less_1;
  logic [     11:0] height_less_1;
  logic             palette_kind;
  logic             dither;
  logic             layout;
  logic [CONTEXTS*WordW-1:0] surface_word;
  logic [   CONTEXTS*32-1:0] table_word;
  host_port #(
      .W (W),
      .DW(DW),
      .M (M),
      .A (A)
  ) host (
      .clk                 (clk),
      .rst                 (rst),
      .bus_valid           (bus_valid),
      .bus_ready           (bus_ready),
      .bus_write           (bus_write),
      .bus_address         (bus_address),
      .bus_wdata           (bus_wdata),
      .bus_rdata           (bus_rdata),
      .bus_error           (bus_error),
      .irq                 (irq),
      .start_frame         (start_frame),
      .abort_frame         (abort_frame),
      .swap                (swap),
      .busy                (busy),
      .swap_pending        (swap_pending),
      .set_frame_done      (frame_done),
      .set_streamed        (streamed),
      .set_start_ignored   (start_ignored),
      .frame_cycles        (frame_cycles),
      .primary_rays        (primary_rays),
      .shadow_rays         (shadow_rays),
      .mirror_rays         (mirror_rays),
      .mirror_shadow_rays  (mirror_shadow_rays),
      .program_load_valid  (program_load_valid),
      .program_load_address(program_load_address),
      .program_load_word   (program_load_word),
      .program_read        (program_read),
      .program_read_address(program_read_address),
      .program_word        (surface_word[WordW-1:0]),
      .palette_load_valid  (palette_load_valid),
      .palette_load_address(palette_load_address),
      .palette_load_word   (palette_load_word),
      .palette_read        (palette_read),
      .palette_read_address(palette_read_address),
      .palette_word        (palette_word),
      .table_load_valid    (table_load_valid),
      .table_load_address  (table_load_address),
      .table_load_word     (table_load_word),
      .table_read          (table_read),
      .table_read_address  (table_read_address),
      .table_word          (table_word[31:0]),
      .eye                 (eye),
      .corner              (corner),
      .step_x              (step_x),
      .step_y              (step_y),
      .lamp                (lamp),
      .lamp_inverse        (lamp_inverse),
      .lamp_parallel       (lamp_parallel),
      .epsilon             (epsilon),
      .ambient             (ambient),
      .background          (background),
      .width_less_1        (width_less_1),
      .height_less_1       (height_less_1),
      .palette_kind        (palette_kind),
      .dither              (dither),
      .layout              (layout)
  );

  // The palette, once for the host to read back and once for the display.
  table_memory #(
      .A    (8),
      .WIDTH(24)
  ) palette_of_host (
      .clk         (clk),
      .load_valid  (palette_load_valid),
      .load_address(palette_load_address),
      .load_word   (palette_load_word),
      .read_enable (palette_read),
      .read_address(palette_read_address),
      .out_word    (palette_word)
  );
  table_memory #(
      .A    (8),
      .WIDTH(24)
  ) palette_of_display (
      .clk         (clk),
      .load_valid  (palette_load_valid),
      .load_address(palette_load_address),
      .load_word   (palette_load_word),
      .read_enable (look_valid),
      .read_address(look_code),
      .out_word    (look_colour)
  );

  // Frames.
  logic [     CONTEXTS-1:0] context_valid;
  logic [     CONTEXTS-1:0] context_ready;
  logic [             11:0] context_x;
  logic [             11:0] context_y;
  logic [     CONTEXTS-1:0] colour_valid;
  logic [     CONTEXTS-1:0] colour_ready;
  logic [TagW*CONTEXTS-1:0] colour_tag;
  logic [  24*CONTEXTS-1:0] colour;
  logic [     CONTEXTS-1:0] colour_shadow_ray;
  logic [     CONTEXTS-1:0] colour_mirror_ray;
  logic [     CONTEXTS-1:0] colour_mirror_shadow_ray;
  logic                     to_converter;
  logic                     converter_ready;
  frame_controller #(
      .CONTEXTS(CONTEXTS)
  ) frames (
      .clk                     (clk),
      .rst                     (rst),
      .width_less_1            (width_less_1),
      .height_less_1           (height_less_1),
      .start                   (start_frame),
      .abort_frame             (abort_frame),
      .busy                    (busy),
      .done                    (frame_done),
      .start_ignored           (start_ignored),
      .frame_cycles            (frame_cycles),
      .primary_rays            (primary_rays),
      .shadow_rays             (shadow_rays),
      .mirror_rays             (mirror_rays),
      .mirror_shadow_rays      (mirror_shadow_rays),
      .context_valid           (context_valid),
      .context_ready           (context_ready),
      .context_x               (context_x),
      .context_y               (context_y),
      .colour_valid            (colour_valid),
      .colour_ready            (colour_ready),
      .colour_tag              (colour_tag),
      .colour                  (colour),
      .colour_shadow_ray       (colour_shadow_ray),
      .colour_mirror_ray       (colour_mirror_ray),
      .colour_mirror_shadow_ray(colour_mirror_shadow_ray),
      .pixel_valid             (to_converter),
      .pixel_ready             (converter_ready),
      .pixel_x                 (pixel_x),
      .pixel_y                 (pixel_y),
      .pixel_colour            (pixel_colour)
  );
  assign pixel_valid = to_converter && converter_ready;

  // Rays.
  render_contexts #(
      .CONTEXTS (CONTEXTS),
      .W        (W),
      .F        (F),
      .DW       (DW),
      .DF       (DF),
      .MARGIN   (MARGIN),
      .C        (C),
      .S        (S),
      .A        (A),
      .P        (P),
      .Q        (Q),
      .M        (M),
      .NORMALISE(NORMALISE)
  ) rays (
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
      .program_load_valid      (program_load_valid),
      .program_load_address    (program_load_address),
      .program_load_word       (program_load_word),
      .program_read            (program_read),
      .program_read_address    (program_read_address),
      .surface_word            (surface_word),
      .table_load_valid        (table_load_valid),
      .table_load_address      (table_load_address),
      .table_load_word         (table_load_word),
      .table_read              (table_read),
      .table_read_address      (table_read_address),
      .table_word              (table_word),
      .context_valid           (context_valid),
      .context_ready           (context_ready),
      .context_x               (context_x),
      .context_y               (context_y),
      .colour_valid            (colour_valid),
      .colour_ready            (colour_ready),
      .colour_tag              (colour_tag),
      .colour                  (colour),
      .colour_shadow_ray       (colour_shadow_ray),
      .colour_mirror_ray       (colour_mirror_ray),
      .colour_mirror_shadow_ray(colour_mirror_shadow_ray)
  );

  picture_converter #(
      .XW(XW),
      .YW(YW)
  ) pictures (
      .clk          (clk),
      .rst          (rst),
      .width_less_1 (width_less_1[XW-1:0]),
      .height_less_1(height_less_1[YW-1:0]),
      .palette      (palette_kind),
      .dither       (dither),
      .layout       (layout),
      .pixel_valid  (to_converter),
      .pixel_ready  (converter_ready),
      .pixel_x      (pixel_x[XW-1:0]),
      .pixel_y      (pixel_y[YW-1:0]),
      .pixel_colour (pixel_colour),
      .swap         (swap),
      .swap_pending (swap_pending),
      .streamed     (streamed),
      .out_valid    (out_valid),
      .out_ready    (out_ready),
      .out_word     (out_word),
      .out_last     (out_last)
  );

  // Of the contexts' words and tables the host reads the first's.
  logic unused;
  assign unused = ^{surface_word, table_word};

endmodule

`default_nettype wire
