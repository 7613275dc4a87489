// Purpose   hands the pixels of a frame to several ray sequencers and gives their colours on
// Equation  pixels in rows from (0, 0), each to the lowest context that is ready; colours in any
//           order, one a cycle, of several the lowest context's
// Ports     settings   width and height less one, unsigned; still while busy
//           start      a pulse while idle; busy from the next cycle on
//           done       a pulse in the cycle after the last pixel's transfer; busy is low again
//           abort_frame  a level or pulse: no more pixels are handed out, colours of those in hand
//                      are dropped, but a pixel on offer stays until it is taken; then busy ends
//                      without done. A frame whose last pixel is taken in that very cycle is done
//           start_ignored  a pulse in the cycle of a start while busy or with abort_frame
//           context_*  a bit for each context, context 0 lowest; x and y are for all of them
//           colour_*   from each context: tag is {y, x}; one bit for each kind of ray it took
//           pixel_*    red in bits 23..16, green in 15..8, blue in 7..0
//           counts     of the last frame done: its cycles from start to done, both included, and
//                      rays by kind; 32 bits, wrapping
// Flow      pixel: valid and ready, a cycle after the colour's transfer, one a cycle.
//           context_valid waits for context_ready, so that one context has a pixel on offer

`default_nettype none
`include "assertions.svh"

module frame_controller #(
    parameter int unsigned CONTEXTS = 2  // ray sequencers, 1 to 4
) (
    input logic clk,
    input logic rst,  // synchronous, active high

    // settings
    input logic [11:0] width_less_1,
    input logic [11:0] height_less_1,

    // control
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

    // pixels for contexts
    output logic [CONTEXTS-1:0] context_valid,
    input  logic [CONTEXTS-1:0] context_ready,
    output logic [        11:0] context_x,
    output logic [        11:0] context_y,

    // colours from contexts
    input  logic [   CONTEXTS-1:0] colour_valid,
    output logic [   CONTEXTS-1:0] colour_ready,
    input  logic [24*CONTEXTS-1:0] colour_tag,
    input  logic [24*CONTEXTS-1:0] colour,
    input  logic [   CONTEXTS-1:0] colour_shadow_ray,
    input  logic [   CONTEXTS-1:0] colour_mirror_ray,
    input  logic [   CONTEXTS-1:0] colour_mirror_shadow_ray,

    // output stream
    output logic        pixel_valid,
    input  logic        pixel_ready,
    output logic [11:0] pixel_x,
    output logic [11:0] pixel_y,
    output logic [23:0] pixel_colour
);

  localparam int unsigned InHandW = $clog2(CONTEXTS + 2);  // and one on offer

  if (CONTEXTS < 1 || CONTEXTS > 4) begin : g_contexts_range
    $error("frame_controller: CONTEXTS must be 1 to 4");
  end

  typedef enum logic [1:0] {
    StateIdle,
    StateRun,
    StateDrain
  } state_e;

  // A frame.
  state_e             state_q;
  state_e             state_d;
  logic               done_q;
  logic               all_out_q;  // the last pixel was handed out
  logic [InHandW-1:0] in_hand_q;  // handed out, and neither taken nor dropped
  logic               begins;
  logic               hands_out;
  logic               collects;  // a colour, to be given on or dropped
  logic               takes;  // the pixel on offer
  logic               drops;
  logic               last_ends;
  logic               finished;
  assign begins    = start && !abort_frame && state_q == StateIdle;
  assign takes     = pixel_valid && pixel_ready;
  assign drops     = collects && state_q == StateDrain;
  assign last_ends = takes && all_out_q && in_hand_q == InHandW'(1);
  assign finished  = state_q == StateRun && last_ends;
  always_comb begin
    state_d = state_q;
    case (state_q)
      StateIdle: if (begins) state_d = StateRun;
      StateRun: begin
        if (finished) state_d = StateIdle;
        else if (abort_frame) state_d = StateDrain;
      end
      StateDrain: if (in_hand_q == '0) state_d = StateIdle;
      default: state_d = StateIdle;
    endcase
  end
  always_ff @(posedge clk) begin
    if (rst) state_q <= StateIdle;
    else state_q <= state_d;
    done_q <= finished && !rst;
    if (rst) in_hand_q <= '0;
    else in_hand_q <= in_hand_q + InHandW'(hands_out) - InHandW'(takes) - InHandW'(drops);
  end
  assign busy          = state_q != StateIdle;
  assign done          = done_q;
  assign start_ignored = start && !begins;

  // The next pixel.
  logic [11:0] x_q;
  logic [11:0] y_q;
  logic        may_hand_out;
  assign may_hand_out = state_q == StateRun && !all_out_q && !abort_frame;
  assign hands_out    = may_hand_out && context_ready != '0;
  always_ff @(posedge clk) begin
    if (begins) begin
      x_q       <= '0;
      y_q       <= '0;
      all_out_q <= 1'b0;
    end else if (hands_out) begin
      x_q <= x_q == width_less_1 ? '0 : x_q + 12'd1;
      if (x_q == width_less_1) begin
        y_q       <= y_q + 12'd1;
        all_out_q <= y_q == height_less_1;
      end
    end
  end
  assign context_x = x_q;
  assign context_y = y_q;

  // The lowest bit of a set: of the contexts that are ready, and of those that have a colour.
  logic offer_free;
  assign offer_free    = !pixel_valid || pixel_ready || state_q == StateDrain;
  assign context_valid = may_hand_out ? context_ready & (~context_ready + CONTEXTS'(1)) : '0;
  assign colour_ready  = offer_free ? colour_valid & (~colour_valid + CONTEXTS'(1)) : '0;
  assign collects      = colour_ready != '0;

  // Its colour: what the others have is masked out. chosen[k] is of the contexts 0 to k.
  for (genvar k = 0; k < CONTEXTS; k++) begin : chosen
    logic [47:0] own;
    logic [47:0] value;
    assign own = colour_ready[k] ? {colour_tag[24*k+:24], colour[24*k+:24]} : '0;
    if (k == 0) begin : g_first
      assign value = own;
    end else begin : g_later
      assign value = chosen[k-1].value | own;
    end
  end

  // The pixel on offer.
  logic        valid_q;
  logic [23:0] tag_q;
  logic [23:0] colour_q;
  always_ff @(posedge clk) begin
    if (rst) valid_q <= 1'b0;
    else if (collects && !drops) valid_q <= 1'b1;
    else if (pixel_ready) valid_q <= 1'b0;
    if (collects && !drops) begin
      {tag_q, colour_q} <= chosen[CONTEXTS-1].value;
    end
  end
  assign pixel_valid  = valid_q;
  assign pixel_x      = tag_q[11:0];
  assign pixel_y      = tag_q[23:12];
  assign pixel_colour = colour_q;

  // Counts of the frame under way, and of the last one done. Start and done are two cycles more.
  logic [31:0] cycles_q;
  logic [31:0] primary_q;
  logic [31:0] shadow_q;
  logic [31:0] mirror_q;
  logic [31:0] mirror_shadow_q;
  always_ff @(posedge clk) begin
    if (begins) begin
      cycles_q        <= 32'd2;
      primary_q       <= '0;
      shadow_q        <= '0;
      mirror_q        <= '0;
      mirror_shadow_q <= '0;
    end else begin
      cycles_q        <= cycles_q + 32'd1;
      primary_q       <= primary_q + 32'(collects);
      shadow_q        <= shadow_q + 32'((colour_ready & colour_shadow_ray) != '0);
      mirror_q        <= mirror_q + 32'((colour_ready & colour_mirror_ray) != '0);
      mirror_shadow_q <= mirror_shadow_q + 32'((colour_ready & colour_mirror_shadow_ray) != '0);
    end
    if (rst) begin
      frame_cycles       <= '0;
      primary_rays       <= '0;
      shadow_rays        <= '0;
      mirror_rays        <= '0;
      mirror_shadow_rays <= '0;
    end else if (finished) begin
      frame_cycles       <= cycles_q + 32'd1;
      primary_rays       <= primary_q;
      shadow_rays        <= shadow_q;
      mirror_rays        <= mirror_q;
      mirror_shadow_rays <= mirror_shadow_q;
    end
  end

  `LOW_AFTER_RESET(nothing_in_hand, {busy, done, pixel_valid, in_hand_q})
  `HOLDS(in_hand_has_room, in_hand_q <= InHandW'(CONTEXTS + 1))
  `HOLDS(idle_has_nothing, state_q != StateIdle || in_hand_q == '0)
  `HOLDS(stalled_pixel_stands,
         !$past(pixel_valid && !pixel_ready && !rst)
         || (pixel_valid && $stable({pixel_x, pixel_y, pixel_colour})))

endmodule

`default_nettype wire
