// Purpose   the picture converter with the end of a picture told by its last pixel

`default_nettype none

module picture_by_pixel #(
    parameter int unsigned XW = 8,
    parameter int unsigned YW = 8
) (
    input logic clk,
    input logic rst,

    input logic [XW-1:0] width_less_1,
    input logic [YW-1:0] height_less_1,
    input logic          palette,
    input logic          dither,
    input logic          layout,

    input  logic          pixel_valid,
    output logic          pixel_ready,
    input  logic [XW-1:0] pixel_x,
    input  logic [YW-1:0] pixel_y,
    input  logic [  23:0] pixel_colour,
    input  logic          pixel_last,

    output logic        out_valid,
    input  logic        out_ready,
    output logic [15:0] out_word,
    output logic        out_end
);

  logic swap_pending;
  logic streamed;
  picture_converter #(
      .XW(XW),
      .YW(YW)
  ) converter (
      .clk          (clk),
      .rst          (rst),
      .width_less_1 (width_less_1),
      .height_less_1(height_less_1),
      .palette      (palette),
      .dither       (dither),
      .layout       (layout),
      .pixel_valid  (pixel_valid),
      .pixel_ready  (pixel_ready),
      .pixel_x      (pixel_x),
      .pixel_y      (pixel_y),
      .pixel_colour (pixel_colour),
      .swap         (pixel_valid && pixel_ready && pixel_last),
      .swap_pending (swap_pending),
      .streamed     (streamed),
      .out_valid    (out_valid),
      .out_ready    (out_ready),
      .out_word     (out_word),
      .out_last     (out_end)
  );

endmodule

`default_nettype wire
