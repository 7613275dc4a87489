// Purpose   the arithmetic of ray_sequencer: vectors, shares and colours of the pixel in hand
// Equation  as ray_sequencer; each step of it is computed while step says so
// Ports     settings, pixel_*, result_*, surface_word, table_word  as ray_sequencer has them
//           step      of light_pkg
//           accept    a pixel is taken;  take: a result is taken, of the ray that shadow and
//                     mirrored tell of: a shadow ray; the mirror ray or its shadow ray
//           done      the step's results are there; those below count from the next cycle on
//           lit       the share of light is above 0;  tinted: the primary surface has a mirror
// Timing    a step of vector_unit takes 8 cycles, a root and an inverse as long as these units
//           and one more

`default_nettype none
`include "assertions.svh"
`include "light_pkg.svh"
`include "scene_pkg.svh"

module ray_datapath #(
    parameter int unsigned W         = 32,  // word bits, 10 to 32
    parameter int unsigned F         = 16,  // fraction bits, 0 to W-1
    parameter int unsigned DW        = 18,  // direction bits, 8 to W; DW-DF below W-F
    parameter int unsigned DF        = 16,  // direction fraction bits, 4 to DW-1
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
    input logic [   W-1:0] epsilon,
    input logic [     8:0] ambient,
    input logic [    23:0] background,

    // control
    input  logic [ 4:0] step,
    input  logic        accept,
    input  logic [11:0] pixel_x,
    input  logic [11:0] pixel_y,
    input  logic        take,
    input  logic        shadow,
    input  logic        mirrored,
    output logic        done,
    output logic        lit,
    output logic        tinted,

    // surface
    input logic              result_hit,
    input logic [     W-1:0] result_distance,
    input logic [       2:0] result_face,
    input logic [24+6*W-1:0] surface_word,
    input logic [      31:0] table_word,

    // ray and colour
    output logic [ 3*W-1:0] origin,
    output logic [ 3*W-1:0] offset_origin,
    output logic [3*DW-1:0] direction,
    output logic [ 3*W-1:0] inverse,
    output logic [     2:0] parallel,
    output logic [    23:0] colour
);

  localparam int unsigned A_W = light_pkg::operand_width(W, DW, DF);
  localparam int unsigned I_W = A_W + W;
  localparam logic signed [A_W-1:0] ShareOfOne = $signed(A_W'(65536));

  if (NORMALISE > 1) begin : g_normalise_range
    $error("ray_datapath: NORMALISE must be 0 or 1");
  end

  // The pixel in hand.
  logic        [     11:0] x_q;
  logic        [     11:0] y_q;
  logic        [  3*W-1:0] view_q;       // u
  logic        [    W-1:0] root_q;       // |u|
  logic        [    W-1:0] inverse_length_q;
  logic        [  3*W-1:0] origin_q;
  logic        [ 3*DW-1:0] direction_q;
  logic        [    W-1:0] distance_q;
  logic        [      2:0] face_q;
  logic        [  3*W-1:0] point_q;
  logic        [ 3*DW-1:0] normal_q;
  logic        [  3*W-1:0] offset_q;     // p'
  logic        [     16:0] share_q;      // c, 0 to 65536
  logic        [      8:0] level_q;      // 0 to 256
  logic        [      7:0] tint_q;
  logic        [     23:0] own_q;
  logic        [     23:0] seen_q;       // reflected, then its part of the colour
  logic        [     23:0] colour_q;
  logic signed [  A_W-1:0] product_q;    // m

  logic                    missed;
  assign missed = take && !shadow && !result_hit;

  // The executor's word and the table's belong to the surface met last.
  logic is_sphere;
  logic is_box;
  assign is_sphere = surface_word[3:0] == scene_pkg::OpSphere;
  assign is_box    = surface_word[3:0] == scene_pkg::OpBox;

  // Arithmetic: what each step asks for, and when it is there.
  logic             waiting_q;
  logic             asks_vector;
  logic             vector_in_valid;
  logic             vector_valid;
  logic             vector_sum;
  logic [      2:0] vector_drop;
  logic [3*A_W-1:0] vector_a;
  logic [  3*W-1:0] vector_b;
  logic [3*I_W-1:0] vector_init;
  logic [  3*W-1:0] vector_word;
  logic [ 3*DW-1:0] vector_unit_value;
  logic [3*A_W-1:0] vector_low;
  logic             vector_positive;
  logic             asks_inverses;
  logic             inverses_start;
  logic             inverses_valid;
  logic [  3*W-1:0] inverses;
  logic [      2:0] parallels;
  logic             root_valid;
  logic             root_negative;
  logic [    W-1:0] root;
  always_comb begin
    case (step)
      light_pkg::StepAcross, light_pkg::StepDown, light_pkg::StepSquare, light_pkg::StepDirection, light_pkg::StepPoint, light_pkg::StepFacing, light_pkg::StepShare,
          light_pkg::StepOffset, light_pkg::StepLevel, light_pkg::StepOwn, light_pkg::StepMirror, light_pkg::StepReflect, light_pkg::StepReflected, light_pkg::StepKept:
      asks_vector = 1'b1;
      light_pkg::StepNormal: asks_vector = is_sphere;
      default: asks_vector = 1'b0;
    endcase
  end
  assign asks_inverses   = step == light_pkg::StepLength || step == light_pkg::StepInverses;
  assign vector_in_valid = asks_vector && !waiting_q;
  assign inverses_start  = asks_inverses && !waiting_q;
  assign done = (asks_vector && vector_valid) || (asks_inverses && inverses_valid)
      || (step == light_pkg::StepRoot && root_valid) || (step == light_pkg::StepNormal && !is_sphere);
  always_ff @(posedge clk) begin
    if (rst || done || step == light_pkg::StepAcross) waiting_q <= 1'b0;
    else if (vector_in_valid || inverses_start) waiting_q <= 1'b1;
  end

  // Operands.
  logic [8:0] ambient_within;
  logic [8:0] rest_of_light;
  logic [8:0] mirror_share;
  assign ambient_within = ambient > 9'd256 ? 9'd256 : ambient;
  assign rest_of_light  = 9'd256 - ambient_within;
  assign mirror_share   = 9'(tint_q) + 9'(tint_q[7]);
  always_comb begin
    case (step)
      light_pkg::StepSquare, light_pkg::StepFacing, light_pkg::StepShare, light_pkg::StepMirror: vector_sum = 1'b1;
      default: vector_sum = 1'b0;
    endcase
    case (step)
      light_pkg::StepSquare:                                vector_drop = light_pkg::DropWord;
      light_pkg::StepDirection: vector_drop = NORMALISE != 0 ? light_pkg::DropToUnit
                                                   : light_pkg::DropWordToUnit;
      light_pkg::StepNormal:                                vector_drop = light_pkg::DropToUnit;
      light_pkg::StepPoint, light_pkg::StepOffset, light_pkg::StepMirror, light_pkg::StepReflect: vector_drop = light_pkg::DropDirection;
      light_pkg::StepShare:                                 vector_drop = light_pkg::DropToShare;
      light_pkg::StepLevel:                                 vector_drop = light_pkg::DropShare;
      light_pkg::StepOwn, light_pkg::StepReflected, light_pkg::StepKept:        vector_drop = light_pkg::DropColour;
      default:                                    vector_drop = light_pkg::DropNothing;
    endcase
  end
  for (genvar k = 0; k < 3; k++) begin : axis
    logic signed [   W-1:0] view;
    logic signed [   W-1:0] centre;
    logic signed [   W-1:0] point;
    logic signed [   W-1:0] from;
    logic signed [  DW-1:0] normal;
    logic signed [  DW-1:0] along;
    logic signed [ A_W-1:0] a;
    logic signed [   W-1:0] b;
    logic signed [ I_W-1:0] init;
    assign view      = view_q[k*W+:W];
    assign centre    = surface_word[24+k*W+:W];
    assign point     = point_q[k*W+:W];
    assign from      = origin_q[k*W+:W];
    assign normal    = normal_q[k*DW+:DW];
    assign along     = direction_q[k*DW+:DW];
    always_comb begin
      a    = '0;
      b    = '0;
      init = '0;
      case (step)
        light_pkg::StepAcross: begin
          a    = A_W'(x_q);
          b    = step_x[k*W+:W];
          init = I_W'($signed(corner[k*W+:W]));
        end
        light_pkg::StepDown: begin
          a = A_W'(y_q);
          b = step_y[k*W+:W];
        end
        light_pkg::StepSquare: begin
          a = A_W'(view);
          b = view;
        end
        light_pkg::StepDirection: begin
          a = A_W'(view);
          b = NORMALISE != 0 ? inverse_length_q : W'(1);
        end
        light_pkg::StepPoint: begin
          a    = A_W'($signed(distance_q));
          b    = W'(along);
          init = I_W'(from) <<< DF;
        end
        light_pkg::StepNormal: begin
          a = A_W'(point) - A_W'(centre);
          b = surface_word[24+4*W+:W];
        end
        light_pkg::StepFacing, light_pkg::StepMirror: begin
          a = A_W'(normal);
          b = W'(along);
        end
        light_pkg::StepShare: begin
          a = A_W'(normal);
          b = W'($signed(lamp[k*DW+:DW]));
        end
        light_pkg::StepOffset: begin
          a    = A_W'($signed(epsilon));
          b    = W'(normal);
          init = I_W'(point) <<< DF;
        end
        light_pkg::StepLevel: begin
          // A half less makes a floor of the rounding.
          a    = A_W'(share_q);
          b    = W'(rest_of_light);
          init = (I_W'(ambient_within) << 16) - I_W'(32768);
        end
        light_pkg::StepOwn: begin
          a = A_W'(table_word[8*k+:8]);
          b = W'(level_q);
        end
        light_pkg::StepReflect: begin
          a    = -(product_q <<< 1);
          b    = W'(normal);
          init = I_W'(along) <<< DF;
        end
        light_pkg::StepReflected: begin
          a = A_W'(seen_q[8*k+:8]);
          b = W'(mirror_share);
        end
        light_pkg::StepKept: begin
          a = A_W'(own_q[8*k+:8]);
          b = W'(mirror_share);
        end
        default: ;
      endcase
    end
    assign vector_a[k*A_W+:A_W]    = a;
    assign vector_b[k*W+:W]        = b;
    assign vector_init[k*I_W+:I_W] = init;

    // Normals that need no arithmetic: of a half-space and of a box.
    logic [DW-1:0] own_normal;
    logic [DW-1:0] one;
    assign one = face_q[0] ? DW'(1) << DF : -(DW'(1) << DF);
    assign own_normal = !is_box ? surface_word[24+k*W+:DW] : face_q[2:1] == 2'(k) ? one : '0;

    // The opposite of the most negative code is the largest.
    logic [DW-1:0] turned;
    assign turned = normal == $signed({1'b1, {(DW - 1) {1'b0}}}) ? {1'b0, {(DW - 1) {1'b1}}}
                                                               : -normal;
    always_ff @(posedge clk) begin
      if (step == light_pkg::StepNormal && done) begin
        normal_q[k*DW+:DW] <= is_sphere ? vector_unit_value[k*DW+:DW] : own_normal;
      end else if (step == light_pkg::StepFacing && done && vector_positive) begin
        normal_q[k*DW+:DW] <= turned;
      end
    end

    // Own colour and the reflected part of it; they differ by rounding at most beyond 0 to 255.
    logic signed [9:0] mixed;
    assign mixed = $signed(10'(own_q[8*k+:8])) + $signed(10'(seen_q[8*k+:8]))
        - $signed(vector_low[k*A_W+:10]);
    always_ff @(posedge clk) begin
      if (missed) colour_q[8*k+:8] <= background[8*k+:8];
      else if (step == light_pkg::StepOwn && done) colour_q[8*k+:8] <= vector_low[k*A_W+:8];
      else if (step == light_pkg::StepKept && done) begin
        colour_q[8*k+:8] <= mixed < 0 ? 8'd0 : mixed > 255 ? 8'd255 : mixed[7:0];
      end
      if (step == light_pkg::StepOwn && done && !mirrored) own_q[8*k+:8] <= vector_low[k*A_W+:8];
      if (missed) seen_q[8*k+:8] <= background[8*k+:8];
      else if ((step == light_pkg::StepOwn || step == light_pkg::StepReflected) && done) begin
        seen_q[8*k+:8] <= vector_low[k*A_W+:8];
      end
    end
  end
  vector_unit #(
      .W  (W),
      .F  (F),
      .DW (DW),
      .DF (DF),
      .A_W(A_W)
  ) vectors (
      .clk         (clk),
      .rst         (rst),
      .in_valid    (vector_in_valid),
      .in_first    (step != light_pkg::StepDown),
      .in_last     (step != light_pkg::StepAcross),
      .in_sum      (vector_sum),
      .in_drop     (vector_drop),
      .in_a        (vector_a),
      .in_b        (vector_b),
      .in_init     (vector_init),
      .out_valid   (vector_valid),
      .out_word    (vector_word),
      .out_unit    (vector_unit_value),
      .out_low     (vector_low),
      .out_positive(vector_positive)
  );
  ray_inverses #(
      .W (W),
      .F (F),
      .DW(DW),
      .DF(DF)
  ) reciprocals (
      .clk         (clk),
      .rst         (rst),
      .start       (inverses_start),
      .in_is_length(step == light_pkg::StepLength),
      .in_length   (root_q),
      .in_direction(direction_q),
      .out_valid   (inverses_valid),
      .out_inverse (inverses),
      .out_parallel(parallels)
  );
  square_root #(
      .W(W),
      .F(F)
  ) length (
      .clk         (clk),
      .rst         (rst),
      .in_valid    (step == light_pkg::StepSquare && done),
      .in_x        (vector_word[0+:W]),
      .out_valid   (root_valid),
      .out_root    (root),
      .out_negative(root_negative)
  );

  // Results.
  logic signed [A_W-1:0] low;
  assign low = vector_low[0+:A_W];
  always_ff @(posedge clk) begin
    if (accept) begin
      x_q      <= pixel_x;
      y_q      <= pixel_y;
      origin_q <= eye;
    end
    if (take && !shadow) begin
      distance_q <= result_distance;
      face_q     <= result_face;
    end
    if (done) begin
      case (step)
        light_pkg::StepDown:      view_q <= vector_word;
        light_pkg::StepRoot:      root_q <= root;
        light_pkg::StepLength:    inverse_length_q <= inverses[0+:W];
        light_pkg::StepDirection: direction_q <= vector_unit_value;
        light_pkg::StepPoint: begin
          point_q <= vector_word;
          if (!mirrored) tint_q <= table_word[31:24];
        end
        light_pkg::StepShare:
        share_q <= low < 0 ? 17'd0 : low > ShareOfOne ? 17'd65536 : low[16:0];
        light_pkg::StepOffset:    offset_q <= vector_word;
        light_pkg::StepLevel:     level_q <= low[8:0];
        light_pkg::StepMirror:    product_q <= low;
        light_pkg::StepReflect: begin
          direction_q <= vector_unit_value;
          origin_q    <= offset_q;
        end
        default:                  ;
      endcase
    end
    // What stands in the light's way takes its share.
    if (take && shadow && result_hit) share_q <= 17'd0;
  end

  assign lit           = share_q != 17'd0;
  assign tinted        = tint_q != 8'd0;
  assign origin        = origin_q;
  assign offset_origin = offset_q;
  assign direction     = direction_q;
  assign inverse       = inverses;
  assign parallel      = parallels;
  assign colour        = colour_q;

  // A sum of squares has a root; a surface's radius and far corner, and colours' upper bits, are of
  // no use here.
  logic unused;
  assign unused = ^{root_negative, surface_word, vector_low};

  `HOLDS(squares_are_not_negative, !root_valid || !root_negative)
  `HOLDS(level_is_a_share, step != light_pkg::StepOwn || level_q <= 9'd256)

endmodule

`default_nettype wire
