// Purpose   the frame controller with contexts whose colour tells the place: y in bits 23..12, x
//           below. They work for up to 15, 31, 63 and 127 cycles, by chance, so that one is seldom
//           alone with a pixel, and then take up to 7 until they are ready
// Ports     as frame_controller has them, but that done is given on only where its header was kept:
//           the counts are those that are counted here, and since the reset no start went untold, no
//           pixel was handed out or given on after its frame was given up, and none was with a
//           context in a cycle without busy. So whoever waits for done sees what is no pixel

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
  logic                    controller_done;
  frame_controller #(
      .CONTEXTS(CONTEXTS)
  ) controller (
      .done(controller_done),
      .*
  );

  // Chance: maximal sequence of x^16 + x^15 + x^13 + x^4 + 1.
  logic [15:0] chance_q;
  always_ff @(posedge clk) begin
    if (rst) chance_q <= 16'd1;
    else chance_q <= {chance_q[14:0], chance_q[15] ^ chance_q[14] ^ chance_q[12] ^ chance_q[3]};
  end

  logic [CONTEXTS-1:0] holds;
  for (genvar k = 0; k < CONTEXTS; k++) begin : g_context
    logic        held_q;
    logic  [6:0] work_q;
    logic [23:0] place_q;
    logic        takes;
    logic        gives;
    assign holds[k] = held_q;
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

  // Counts of the frame under way: of the cycles before this one, of all colours taken.
  logic                begins;
  logic [CONTEXTS-1:0] taken;
  logic [        31:0] cycles_q;
  logic [        31:0] colours_q;
  logic [        31:0] shadows_q;
  logic [        31:0] mirrors_q;
  logic [        31:0] mirror_shadows_q;
  logic                counts_right;
  assign begins = start && !busy && !abort_frame;
  assign taken  = colour_valid & colour_ready;
  always_ff @(posedge clk) begin
    if (begins) begin
      cycles_q         <= 32'd1;
      colours_q        <= '0;
      shadows_q        <= '0;
      mirrors_q        <= '0;
      mirror_shadows_q <= '0;
    end else begin
      cycles_q         <= cycles_q + 32'd1;
      colours_q        <= colours_q + 32'($countones(taken));
      shadows_q        <= shadows_q + 32'($countones(taken & colour_shadow_ray));
      mirrors_q        <= mirrors_q + 32'($countones(taken & colour_mirror_ray));
      mirror_shadows_q <= mirror_shadows_q + 32'($countones(taken & colour_mirror_shadow_ray));
    end
  end
  assign counts_right = frame_cycles == cycles_q + 32'd1 && primary_rays == colours_q
      && shadow_rays == shadows_q && mirror_rays == mirrors_q
      && mirror_shadow_rays == mirror_shadows_q;

  // What the header does not allow. A colour that is taken as the frame is given up may be offered.
  logic given_up_q;  // and no frame was begun since
  logic dropped_q;  // a colour was taken after that in the cycle before
  logic stood_q;  // a pixel stood on offer
  logic wrong;
  logic wrong_q;
  assign wrong = start_ignored != (start && !begins)
      || (!busy && holds != '0)
      || (given_up_q && context_valid != '0)
      || (dropped_q && pixel_valid && !stood_q);
  always_ff @(posedge clk) begin
    if (rst) begin
      given_up_q <= 1'b0;
      dropped_q  <= 1'b0;
      stood_q    <= 1'b0;
      wrong_q    <= 1'b0;
    end else begin
      given_up_q <= !begins && (given_up_q || (busy && abort_frame));
      dropped_q  <= given_up_q && taken != '0;
      stood_q    <= pixel_valid && !pixel_ready;
      wrong_q    <= wrong_q || wrong;
    end
  end
  assign done = controller_done && counts_right && !wrong && !wrong_q;

endmodule

`default_nettype wire
