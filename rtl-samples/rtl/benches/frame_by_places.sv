// Purpose   the frame controller with contexts whose colour tells the place: y in bits 23..12, x
//           below. They work for up to 15, 31, 63 and 127 cycles, by chance, so that one is seldom
//           alone with a pixel, and then take up to 7 until they are ready

`default_nettype none

module frame_by_places #(
    parameter int unsigned CONTEXTS = 3
) (
    input logic clk,
    input logic rst,

    input  logic [11:0] width_less_1,
    input  logic [11:0] height_less_1,
    input  logic        start,
    input  logic        abort_frame,
    output logic        busy,
    output logic        done,
    output logic        start_ignored,
    output logic [31:0] frame_cycles,
    output logic [31:0] primary_rays,
    output logic [31:0] shadow_rays,
    output logic [31:0] mirror_rays,
    output logic [31:0] mirror_shadow_rays,

    output logic        pixel_valid,
    input  logic        pixel_ready,
    output logic [11:0] pixel_x,
    output logic [11:0] pixel_y,
    output logic [23:0] pixel_colour
);

  logic [   CONTEXTS-1:0] context_valid;
  logic [   CONTEXTS-1:0] context_ready;
  logic [           11:0] context_x;
  logic [           11:0] context_y;
  logic [   CONTEXTS-1:0] colour_valid;
  logic [   CONTEXTS-1:0] colour_ready;
  logic [24*CONTEXTS-1:0] colour_tag;
  logic [24*CONTEXTS-1:0] colour;
  logic [   CONTEXTS-1:0] colour_shadow_ray;
  logic [   CONTEXTS-1:0] colour_mirror_ray;
  logic [   CONTEXTS-1:0] colour_mirror_shadow_ray;
  frame_controller #(
      .CONTEXTS(CONTEXTS)
  ) controller (
      .*
  );

  // Chance: maximal sequence of x^16 + x^15 + x^13 + x^4 + 1.
  logic [15:0] chance_q;
  always_ff @(posedge clk) begin
    if (rst) chance_q <= 16'd1;
    else chance_q <= {chance_q[14:0], chance_q[15] ^ chance_q[14] ^ chance_q[12] ^ chance_q[3]};
  end

  for (genvar k = 0; k < CONTEXTS; k++) begin : g_context
    logic        held_q;
    logic  [6:0] work_q;
    logic [23:0] place_q;
    logic        takes;
    logic        gives;
    assign context_ready[k] = !held_q && work_q == '0;
    assign colour_valid[k]  = held_q && work_q == '0;
    assign takes = context_valid[k] && context_ready[k];
    assign gives = colour_valid[k] && colour_ready[k];
    always_ff @(posedge clk) begin
      if (rst) begin
        held_q <= 1'b0;
        work_q <= '0;
      end else begin
        held_q <= (held_q || takes) && !gives;
        if (takes) work_q <= chance_q[6:0] & 7'(2 ** (4 + k) - 1);
        else if (gives) work_q <= {4'd0, chance_q[2+k+:3]};
        else if (work_q != '0) work_q <= work_q - 7'd1;
      end
      if (takes) place_q <= {context_y, context_x};
    end
    // Where nothing is offered, anything is told.
    assign colour_tag[24*k+:24] = colour_valid[k] ? place_q : {chance_q[7:0], chance_q};
    assign colour[24*k+:24]     = colour_valid[k] ? place_q : {chance_q, chance_q[7:0]};
    assign colour_shadow_ray[k]        = place_q[0];
    assign colour_mirror_ray[k]        = place_q[12];
    assign colour_mirror_shadow_ray[k] = place_q[1];
  end

endmodule

`default_nettype wire
