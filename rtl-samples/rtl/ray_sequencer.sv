// Purpose   one pixel to one colour: the rays that it takes, and light and shade where they hit
// Equation  rn(x, f): x to f fraction bits, halves up; every result is the nearest of its format
//           1 primary ray from eye: u = corner + x step_x + y step_y; direction = rn(u / |u|, DF)
//             with 1 / |u| of square_root of rn(u.u, F) and reciprocal (NORMALISE = 1), or
//             rn(u, DF) as it is (NORMALISE = 0). Inverses: ray_inverses. Without a surface
//             the colour is background
//           2 point p = rn(origin + t direction, F)
//           3 normal: a half-space's own; of a sphere rn((p - centre) inverse_radius, DF); of a box
//             the face's. Negated where its scalar product with the direction is above 0
//           4 share c = rn(normal . lamp, 16), 0 to 1; shadow ray towards lamp from
//             p' = rn(p + epsilon normal, F) where c is above 0; c = 0 where it is blocked
//           5 level = ambient + floor((256 - ambient) c); own colour = rn(base level / 256, 0)
//           6 mirror, where the primary surface has a tint above 0: m = rn(normal . direction, DF),
//             a ray from p' along rn(direction - 2 m normal, DF), shaded by 2 to 5 with no further
//             mirror, or background; share s = tint + floor(tint / 128):
//             colour = own + rn(reflected s / 256, 0) - rn(own s / 256, 0)
// Ports     settings  still while a pixel is in hand. eye, corner, step_x, step_y, lamp_inverse,
//                     epsilon: words, signed, W bits with F fraction bits; lamp: towards the lamp, of
//                     unit length, signed, DW bits with DF fraction bits, inverse and parallel as
//                     ray_inverses has them; ambient: in 1/256, more than 256 is taken as 256;
//                     background: a colour; vectors have x in the lowest bits. |u| is 1/4 to 16
//           pixel_*   x, y: unsigned; tag: comes back with the colour
//           ray_*, result_*, surface_*  as scene_executor has them; start is 0, limit the largest
//                     word. surface_word: the word at result_address, from the cycle after
//                     surface_read on until the next ray
//           table_*   likewise, at the surface's material, a cycle later: tint in bits 31..24
//                     (unsigned, in 1/255), base colour below
//           colour_*  red in bits 23..16, green in 15..8, blue in 7..0; which rays were needed but
//                     for the primary
// Flow      pixel and colour, ray and result: valid and ready; one pixel in hand. What is offered
//           stands still until it is taken. A reset drops the pixel
// Source    2 to 4: J. H. Lambert, Photometria, 1760, and the law of reflection

`default_nettype none
`include "assertions.svh"
`include "light_pkg.svh"

module ray_sequencer #(
    parameter int unsigned W         = 32,  // word bits, 10 to 32
    parameter int unsigned F         = 16,  // fraction bits, 0 to W-1
    parameter int unsigned DW        = 18,  // direction bits, 8 to W; DW-DF below W-F
    parameter int unsigned DF        = 16,  // direction fraction bits, 4 to DW-1
    parameter int unsigned M         = 8,   // material bits, 1 to 8
    parameter int unsigned A         = 10,  // address bits of the program, 1 to 12
    parameter int unsigned TAG_W     = 24,  // bits of a pixel's tag, 1 or more
    parameter int unsigned NORMALISE = 1    // 1: directions are normalised, 0: taken as they are
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

    // input stream
    input  logic             pixel_valid,
    output logic             pixel_ready,
    input  logic [     11:0] pixel_x,
    input  logic [     11:0] pixel_y,
    input  logic [TAG_W-1:0] pixel_tag,

    // executor
    output logic              ray_valid,
    input  logic              ray_ready,
    output logic [   3*W-1:0] ray_origin,
    output logic [  3*DW-1:0] ray_direction,
    output logic [   3*W-1:0] ray_inverse,
    output logic [       2:0] ray_parallel,
    output logic [     W-1:0] ray_start,
    output logic [     W-1:0] ray_limit,
    output logic              ray_any_hit,
    input  logic              result_valid,
    output logic              result_ready,
    input  logic              result_hit,
    input  logic [     W-1:0] result_distance,
    input  logic [     A-1:0] result_address,
    input  logic [       2:0] result_face,
    output logic              surface_read,
    output logic [     A-1:0] surface_address,
    input  logic [24+6*W-1:0] surface_word,

    // table of materials
    output logic         table_read,
    output logic [M-1:0] table_address,
    input  logic [ 31:0] table_word,

    // output stream
    output logic             colour_valid,
    input  logic             colour_ready,
    output logic [TAG_W-1:0] colour_tag,
    output logic [     23:0] colour,
    output logic             colour_shadow_ray,
    output logic             colour_mirror_ray,
    output logic             colour_mirror_shadow_ray
);

  if (M < 1 || M > 8) begin : g_material_range
    $error("ray_sequencer: M must be 1 to 8");
  end
  if (A < 1 || A > 12) begin : g_address_range
    $error("ray_sequencer: A must be 1 to 12");
  end
  if (TAG_W < 1) begin : g_tag_range
    $error("ray_sequencer: TAG_W must be at least 1");
  end
  if (NORMALISE > 1) begin : g_normalise_range
    $error("ray_sequencer: NORMALISE must be 0 or 1");
  end

  logic [      4:0] step_q;
  logic [      4:0] step_d;
  logic [TAG_W-1:0] tag_q;
  logic             mirrored_q;  // the ray in hand is the mirror ray or its shadow ray
  logic             shadow_q;    // the ray in hand is a shadow ray
  logic             shadow_ray_q;
  logic             mirror_shadow_ray_q;
  logic             accept;
  logic             take;        // a result
  logic             done;        // what the step computes is there
  logic             lit;
  logic             tinted;
  assign pixel_ready  = step_q == light_pkg::StepIdle;
  assign accept       = pixel_valid && pixel_ready;
  assign result_ready = step_q == light_pkg::StepResult;
  assign take         = result_valid && result_ready;

  // The way of a pixel.
  always_comb begin
    step_d = step_q;
    case (step_q)
      light_pkg::StepIdle:      if (accept) step_d = light_pkg::StepAcross;
      light_pkg::StepAcross:    step_d = light_pkg::StepDown;
      light_pkg::StepDown:
      if (done) step_d = NORMALISE != 0 ? light_pkg::StepSquare : light_pkg::StepDirection;
      light_pkg::StepSquare:    if (done) step_d = light_pkg::StepRoot;
      light_pkg::StepRoot:      if (done) step_d = light_pkg::StepLength;
      light_pkg::StepLength:    if (done) step_d = light_pkg::StepDirection;
      light_pkg::StepDirection: if (done) step_d = light_pkg::StepInverses;
      light_pkg::StepInverses:  if (done) step_d = light_pkg::StepRay;
      light_pkg::StepRay:       if (ray_ready) step_d = light_pkg::StepResult;
      light_pkg::StepResult:
      if (take) begin
        if (shadow_q) step_d = light_pkg::StepLevel;
        else if (result_hit) step_d = light_pkg::StepPoint;
        else step_d = mirrored_q ? light_pkg::StepReflected : light_pkg::StepOffer;
      end
      light_pkg::StepPoint:     if (done) step_d = light_pkg::StepNormal;
      light_pkg::StepNormal:    if (done) step_d = light_pkg::StepFacing;
      light_pkg::StepFacing:    if (done) step_d = light_pkg::StepShare;
      light_pkg::StepShare:     if (done) step_d = light_pkg::StepOffset;
      light_pkg::StepOffset:    if (done) step_d = lit ? light_pkg::StepRay : light_pkg::StepLevel;
      light_pkg::StepLevel:     if (done) step_d = light_pkg::StepOwn;
      light_pkg::StepOwn:
      if (done) begin
        if (mirrored_q) step_d = light_pkg::StepReflected;
        else step_d = tinted ? light_pkg::StepMirror : light_pkg::StepOffer;
      end
      light_pkg::StepMirror:    if (done) step_d = light_pkg::StepReflect;
      light_pkg::StepReflect:   if (done) step_d = light_pkg::StepInverses;
      light_pkg::StepReflected: if (done) step_d = light_pkg::StepKept;
      light_pkg::StepKept:      if (done) step_d = light_pkg::StepOffer;
      light_pkg::StepOffer:     if (colour_ready) step_d = light_pkg::StepIdle;
      default:                  step_d = light_pkg::StepIdle;
    endcase
  end
  always_ff @(posedge clk) begin
    if (rst) step_q <= light_pkg::StepIdle;
    else step_q <= step_d;
  end

  always_ff @(posedge clk) begin
    if (accept) begin
      tag_q               <= pixel_tag;
      mirrored_q          <= 1'b0;
      shadow_q            <= 1'b0;
      shadow_ray_q        <= 1'b0;
      mirror_shadow_ray_q <= 1'b0;
    end else if (step_q == light_pkg::StepOffset && done && lit) begin
      shadow_q <= 1'b1;
      if (mirrored_q) mirror_shadow_ray_q <= 1'b1;
      else shadow_ray_q <= 1'b1;
    end else if (take) begin
      shadow_q <= 1'b0;
    end else if (step_q == light_pkg::StepReflect && done) begin
      mirrored_q <= 1'b1;
    end
  end

  logic [ 3*W-1:0] origin;
  logic [ 3*W-1:0] offset_origin;
  logic [3*DW-1:0] direction;
  logic [ 3*W-1:0] inverse;
  logic [     2:0] parallel;
  ray_datapath #(
      .W        (W),
      .F        (F),
      .DW       (DW),
      .DF       (DF),
      .NORMALISE(NORMALISE)
  ) arithmetic (
      .clk            (clk),
      .rst            (rst),
      .eye            (eye),
      .corner         (corner),
      .step_x         (step_x),
      .step_y         (step_y),
      .lamp           (lamp),
      .epsilon        (epsilon),
      .ambient        (ambient),
      .background     (background),
      .step           (step_q),
      .accept         (accept),
      .pixel_x        (pixel_x),
      .pixel_y        (pixel_y),
      .take           (take),
      .shadow         (shadow_q),
      .mirrored       (mirrored_q),
      .done           (done),
      .lit            (lit),
      .tinted         (tinted),
      .result_hit     (result_hit),
      .result_distance(result_distance),
      .result_face    (result_face),
      .surface_word   (surface_word),
      .table_word     (table_word),
      .origin         (origin),
      .offset_origin  (offset_origin),
      .direction      (direction),
      .inverse        (inverse),
      .parallel       (parallel),
      .colour         (colour)
  );

  // A shadow ray goes from beside the surface towards the lamp.
  assign ray_valid     = step_q == light_pkg::StepRay;
  assign ray_origin    = shadow_q ? offset_origin : origin;
  assign ray_direction = shadow_q ? lamp : direction;
  assign ray_inverse   = shadow_q ? lamp_inverse : inverse;
  assign ray_parallel  = shadow_q ? lamp_parallel : parallel;
  assign ray_start     = '0;
  assign ray_limit     = {1'b0, {(W - 1) {1'b1}}};
  assign ray_any_hit   = shadow_q;

  // The surface's word tells its material, of which the table knows the colour.
  logic read_q;
  always_ff @(posedge clk) read_q <= surface_read && !rst;
  assign surface_read    = take && !shadow_q && result_hit;
  assign surface_address = result_address;
  assign table_read      = read_q;
  assign table_address   = surface_word[4+:M];

  assign colour_valid             = step_q == light_pkg::StepOffer;
  assign colour_tag               = tag_q;
  assign colour_shadow_ray        = shadow_ray_q;
  assign colour_mirror_ray        = mirrored_q;
  assign colour_mirror_shadow_ray = mirror_shadow_ray_q;

  `LOW_AFTER_RESET(nothing_in_hand, {!pixel_ready, ray_valid, result_ready, colour_valid})
  `HOLDS(stalled_ray_stands,
         !$past(ray_valid && !ray_ready && !rst)
         || (ray_valid && $stable({ray_origin, ray_direction, ray_any_hit})))
  `HOLDS(stalled_colour_stands,
         !$past(colour_valid && !colour_ready && !rst)
         || (colour_valid && $stable({colour, colour_tag})))

endmodule

`default_nettype wire
