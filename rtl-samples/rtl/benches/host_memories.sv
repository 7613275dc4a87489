// Purpose   the host port with the three memories behind it, as the chip has them

`default_nettype none
`include "assertions.svh"

module host_memories #(
    parameter int unsigned W  = 32,
    parameter int unsigned DW = 18,
    parameter int unsigned M  = 8,
    parameter int unsigned A  = 10
) (
    input logic clk,
    input logic rst,

    input  logic        bus_valid,
    output logic        bus_ready,
    input  logic        bus_write,
    input  logic [ 7:0] bus_address,
    input  logic [15:0] bus_wdata,
    output logic [15:0] bus_rdata,
    output logic        bus_error,
    output logic        irq,

    output logic        start_frame,
    output logic        abort_frame,
    output logic        swap,
    input  logic        busy,
    input  logic        swap_pending,
    input  logic        set_frame_done,
    input  logic        set_streamed,
    input  logic        set_start_ignored,
    input  logic [31:0] frame_cycles,
    input  logic [31:0] primary_rays,
    input  logic [31:0] shadow_rays,
    input  logic [31:0] mirror_rays,
    input  logic [31:0] mirror_shadow_rays,

    output logic [ 3*W-1:0] eye,
    output logic [ 3*W-1:0] corner,
    output logic [ 3*W-1:0] step_x,
    output logic [ 3*W-1:0] step_y,
    output logic [3*DW-1:0] lamp,
    output logic [ 3*W-1:0] lamp_inverse,
    output logic [     2:0] lamp_parallel,
    output logic [   W-1:0] epsilon,
    output logic [     8:0] ambient,
    output logic [    23:0] background,
    output logic [    11:0] width_less_1,
    output logic [    11:0] height_less_1,
    output logic            palette_kind,
    output logic            dither,
    output logic            layout
);

  logic              program_load_valid;
  logic [     A-1:0] program_load_address;
  logic [24+6*W-1:0] program_load_word;
  logic              program_read;
  logic [     A-1:0] program_read_address;
  logic [24+6*W-1:0] program_word;
  logic              palette_load_valid;
  logic [       7:0] palette_load_address;
  logic [      23:0] palette_load_word;
  logic              palette_read;
  logic [       7:0] palette_read_address;
  logic [      23:0] palette_word;
  logic              table_load_valid;
  logic [     M-1:0] table_load_address;
  logic [      31:0] table_load_word;
  logic              table_read;
  logic [     M-1:0] table_read_address;
  logic [      31:0] table_word;

  host_port #(
      .W (W),
      .DW(DW),
      .M (M),
      .A (A)
  ) port (
      .*
  );
  table_memory #(
      .A    (A),
      .WIDTH(24 + 6 * W)
  ) program_words (
      .clk         (clk),
      .load_valid  (program_load_valid),
      .load_address(program_load_address),
      .load_word   (program_load_word),
      .read_enable (program_read),
      .read_address(program_read_address),
      .out_word    (program_word)
  );
  table_memory #(
      .A    (8),
      .WIDTH(24)
  ) palette_words (
      .clk         (clk),
      .load_valid  (palette_load_valid),
      .load_address(palette_load_address),
      .load_word   (palette_load_word),
      .read_enable (palette_read),
      .read_address(palette_read_address),
      .out_word    (palette_word)
  );
  table_memory #(
      .A    (M),
      .WIDTH(32)
  ) table_words (
      .clk         (clk),
      .load_valid  (table_load_valid),
      .load_address(table_load_address),
      .load_word   (table_load_word),
      .read_enable (table_read),
      .read_address(table_read_address),
      .out_word    (table_word)
  );

endmodule

`default_nettype wire
