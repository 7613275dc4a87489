// Purpose   the ray sequencer with an executor that answers what the case says, after as long as the
//           case says, so that a pixel is a case like any other
// Ports     settings   as ray_sequencer has them, a port for each number
//           pixel_*    a pixel, and for each kind of ray what it meets: hit, and of primary and
//                      mirror ray distance, solid and face too; wait_*: cycles until the ray is
//                      taken, and until its result comes
//           colour_*   the colour, and of each kind of ray what the sequencer asked: origin,
//                      direction and inverse (0 where parallel). They mean something where there is
//                      such a ray
//           asked_well every ray had start 0, the largest limit, and was looked up as it met
// Scene     solid k stands at address 3 k + 1, with material k, as surface_of and table_of have it

`default_nettype none

module sequencer_with_rays (
    input logic clk,
    input logic rst,

    input logic signed [31:0] eye_x,
    input logic signed [31:0] eye_y,
    input logic signed [31:0] eye_z,
    input logic signed [31:0] corner_x,
    input logic signed [31:0] corner_y,
    input logic signed [31:0] corner_z,
    input logic signed [31:0] step_x_x,
    input logic signed [31:0] step_x_y,
    input logic signed [31:0] step_x_z,
    input logic signed [31:0] step_y_x,
    input logic signed [31:0] step_y_y,
    input logic signed [31:0] step_y_z,
    input logic signed [17:0] lamp_x,
    input logic signed [17:0] lamp_y,
    input logic signed [17:0] lamp_z,
    input logic signed [31:0] epsilon,
    input logic        [ 8:0] ambient,
    input logic        [23:0] background,

    input  logic        pixel_valid,
    output logic        pixel_ready,
    input  logic [11:0] pixel_x,
    input  logic [11:0] pixel_y,
    input  logic [23:0] pixel_tag,
    input  logic [ 3:0] wait_ray,
    input  logic [ 3:0] wait_result,
    input  logic        primary_hit,
    input  logic [31:0] primary_distance,
    input  logic [ 2:0] primary_solid,
    input  logic [ 2:0] primary_face,
    input  logic        shadow_hit,
    input  logic        mirror_hit,
    input  logic [31:0] mirror_distance,
    input  logic [ 2:0] mirror_solid,
    input  logic [ 2:0] mirror_face,
    input  logic        mirror_shadow_hit,

    output logic               colour_valid,
    input  logic               colour_ready,
    output logic        [23:0] colour,
    output logic        [23:0] colour_tag,
    output logic               shadow_ray,
    output logic               mirror_ray,
    output logic               mirror_shadow_ray,
    output logic               asked_well,
    output logic signed [31:0] primary_origin_x,
    output logic signed [31:0] primary_origin_y,
    output logic signed [31:0] primary_origin_z,
    output logic signed [17:0] primary_direction_x,
    output logic signed [17:0] primary_direction_y,
    output logic signed [17:0] primary_direction_z,
    output logic signed [31:0] primary_inverse_x,
    output logic signed [31:0] primary_inverse_y,
    output logic signed [31:0] primary_inverse_z,
    output logic signed [31:0] shadow_origin_x,
    output logic signed [31:0] shadow_origin_y,
    output logic signed [31:0] shadow_origin_z,
    output logic signed [17:0] shadow_direction_x,
    output logic signed [17:0] shadow_direction_y,
    output logic signed [17:0] shadow_direction_z,
    output logic signed [31:0] mirror_origin_x,
    output logic signed [31:0] mirror_origin_y,
    output logic signed [31:0] mirror_origin_z,
    output logic signed [17:0] mirror_direction_x,
    output logic signed [17:0] mirror_direction_y,
    output logic signed [17:0] mirror_direction_z,
    output logic signed [31:0] mirror_inverse_x,
    output logic signed [31:0] mirror_inverse_y,
    output logic signed [31:0] mirror_inverse_z,
    output logic signed [31:0] mirror_shadow_origin_x,
    output logic signed [31:0] mirror_shadow_origin_y,
    output logic signed [31:0] mirror_shadow_origin_z,
    output logic signed [17:0] mirror_shadow_direction_x,
    output logic signed [17:0] mirror_shadow_direction_y,
    output logic signed [17:0] mirror_shadow_direction_z
);

  localparam int unsigned RayW = 3 * 32 + 3 * 18 + 3 * 32;

  typedef enum logic [1:0] {
    KindPrimary      = 2'd0,
    KindShadow       = 2'd1,
    KindMirror       = 2'd2,
    KindMirrorShadow = 2'd3
  } kind_e;

  // Spheres of radius 8, 5 and 16 around places near the middle, half-spaces, and boxes, of which a
  // shading unit needs no more than that they are boxes. {radius's inverse, radius, z, y, x}
  function automatic logic [215:0] surface_of(input logic [9:0] address);
    logic [191:0] slots;
    logic   [3:0] operation;
    operation = 4'd4;
    case (address)
      10'd1:  slots = {32'd0, 32'd8192, 32'd524288, 32'd65536, -32'd32768, 32'd16384};
      10'd4:  slots = {32'd0, 32'd13107, 32'd327680, 32'd8192, 32'd163840, -32'd114688};
      10'd19: slots = {32'd0, 32'd4096, 32'd1048576, 32'd0, 32'd0, 32'd0};
      10'd7:  begin
        operation = 4'd5;
        slots = {96'd0, 32'd52429, 32'd0, 32'd39322};
      end
      10'd10: begin
        operation = 4'd5;
        slots = {96'd0, 32'd0, 32'h0003_0000, 32'd0};
      end
      10'd22: begin
        operation = 4'd5;
        slots = {96'd0, 32'd21845, 32'd43691, 32'h0003_5555};
      end
      default: begin
        operation = 4'd6;
        slots = {3{32'd65536, -32'd65536}};
      end
    endcase
    surface_of = {slots, 12'd0, 8'(address / 10'd3), operation};
  endfunction

  // {tint, base colour}
  function automatic logic [31:0] table_of(input logic [2:0] material);
    case (material)
      3'd0: table_of = 32'h00FF_FFFF;
      3'd1: table_of = 32'h80C0_8040;
      3'd2: table_of = 32'hFF10_2030;
      3'd3: table_of = 32'h01FE_DCBA;
      3'd4: table_of = 32'h4000_FF7F;
      3'd5: table_of = 32'h7F80_8080;
      3'd6: table_of = 32'hFEFF_0001;
      default: table_of = 32'h0012_3456;
    endcase
  endfunction

  logic         ray_valid;
  logic         ray_ready;
  logic [ 95:0] ray_origin;
  logic [ 53:0] ray_direction;
  logic [ 95:0] ray_inverse;
  logic [  2:0] ray_parallel;
  logic [ 31:0] ray_start;
  logic [ 31:0] ray_limit;
  logic         ray_any_hit;
  logic         result_valid;
  logic         result_ready;
  logic         result_hit;
  logic [ 31:0] result_distance;
  logic [  9:0] result_address;
  logic [  2:0] result_face;
  logic         surface_read;
  logic [  9:0] surface_address;
  logic [215:0] surface_word;
  logic         table_read;
  logic [  7:0] table_address;
  logic [ 31:0] table_word;
  ray_sequencer sequencer (
      .clk                     (clk),
      .rst                     (rst),
      .eye                     ({eye_z, eye_y, eye_x}),
      .corner                  ({corner_z, corner_y, corner_x}),
      .step_x                  ({step_x_z, step_x_y, step_x_x}),
      .step_y                  ({step_y_z, step_y_y, step_y_x}),
      .lamp                    ({lamp_z, lamp_y, lamp_x}),
      .lamp_inverse            (96'd0),
      .lamp_parallel           (3'd7),
      .epsilon                 (epsilon),
      .ambient                 (ambient),
      .background              (background),
      .pixel_valid             (pixel_valid),
      .pixel_ready             (pixel_ready),
      .pixel_x                 (pixel_x),
      .pixel_y                 (pixel_y),
      .pixel_tag               (pixel_tag),
      .ray_valid               (ray_valid),
      .ray_ready               (ray_ready),
      .ray_origin              (ray_origin),
      .ray_direction           (ray_direction),
      .ray_inverse             (ray_inverse),
      .ray_parallel            (ray_parallel),
      .ray_start               (ray_start),
      .ray_limit               (ray_limit),
      .ray_any_hit             (ray_any_hit),
      .result_valid            (result_valid),
      .result_ready            (result_ready),
      .result_hit              (result_hit),
      .result_distance         (result_distance),
      .result_address          (result_address),
      .result_face             (result_face),
      .surface_read            (surface_read),
      .surface_address         (surface_address),
      .surface_word            (surface_word),
      .table_read              (table_read),
      .table_address           (table_address),
      .table_word              (table_word),
      .colour_valid            (colour_valid),
      .colour_ready            (colour_ready),
      .colour_tag              (colour_tag),
      .colour                  (colour),
      .colour_shadow_ray       (shadow_ray),
      .colour_mirror_ray       (mirror_ray),
      .colour_mirror_shadow_ray(mirror_shadow_ray)
  );

  // The case in hand.
  logic [3:0] wait_ray_q;
  logic [3:0] wait_result_q;
  logic [3:0] hits_q;  // by kind
  logic [31:0] primary_distance_q;
  logic [31:0] mirror_distance_q;
  logic [2:0] primary_solid_q;
  logic [2:0] mirror_solid_q;
  logic [2:0] primary_face_q;
  logic [2:0] mirror_face_q;
  logic       begins;
  assign begins = pixel_valid && pixel_ready;
  always_ff @(posedge clk) begin
    if (begins) begin
      wait_ray_q         <= wait_ray;
      wait_result_q      <= wait_result;
      hits_q             <= {mirror_shadow_hit, mirror_hit, shadow_hit, primary_hit};
      primary_distance_q <= primary_distance;
      mirror_distance_q  <= mirror_distance;
      primary_solid_q    <= primary_solid;
      mirror_solid_q     <= mirror_solid;
      primary_face_q     <= primary_face;
      mirror_face_q      <= mirror_face;
    end
  end

  // One ray at a time; the second that asks for the nearest surface is the mirrored one.
  logic       traced_q;
  logic       mirrored_q;
  logic       busy_q;
  logic [3:0] count_q;
  kind_e      kind;
  kind_e      kind_q;
  logic       takes;
  logic       hit;
  always_comb begin
    if (ray_any_hit) kind = mirrored_q ? KindMirrorShadow : KindShadow;
    else kind = traced_q ? KindMirror : KindPrimary;
  end
  assign ray_ready = ray_valid && !busy_q && count_q == wait_ray_q;
  assign takes     = ray_valid && ray_ready;
  always_ff @(posedge clk) begin
    if (rst || begins) begin
      traced_q   <= 1'b0;
      mirrored_q <= 1'b0;
      busy_q     <= 1'b0;
      count_q    <= '0;
    end else if (takes) begin
      traced_q   <= 1'b1;
      mirrored_q <= mirrored_q || kind == KindMirror;
      busy_q     <= 1'b1;
      count_q    <= '0;
    end else if (result_valid) begin
      if (result_ready) begin
        busy_q  <= 1'b0;
        count_q <= '0;
      end
    end else if (busy_q || ray_valid) count_q <= count_q + 4'd1;
    if (takes) kind_q <= kind;
  end

  logic [2:0] solid;
  logic       is_box;
  logic       tells;
  assign hit             = hits_q[kind_q];
  assign tells           = hit && !kind_q[0];
  assign solid           = kind_q[1] ? mirror_solid_q : primary_solid_q;
  assign is_box          = solid == 3'd4 || solid == 3'd5;
  assign result_valid    = busy_q && count_q == wait_result_q;
  assign result_hit      = hit;
  assign result_distance = !tells ? '0 : kind_q[1] ? mirror_distance_q : primary_distance_q;
  assign result_address  = tells ? 10'(solid) * 10'd3 + 10'd1 : '0;
  assign result_face     = !tells || !is_box ? '0 : kind_q[1] ? mirror_face_q : primary_face_q;

  // Memories.
  always_ff @(posedge clk) begin
    if (surface_read) surface_word <= surface_of(surface_address);
    if (table_read) table_word <= table_of(table_address[2:0]);
  end

  // What was asked.
  logic [4*RayW-1:0] asked_q;
  logic              unused;  // inverses of shadow rays are the lamp's
  logic        [2:0] not_parallel;
  assign not_parallel = ~ray_parallel;
  always_ff @(posedge clk) begin
    if (takes) begin
      asked_q[kind*RayW+:RayW] <= {
        ray_inverse & {{32{not_parallel[2]}}, {32{not_parallel[1]}}, {32{not_parallel[0]}}},
        ray_direction,
        ray_origin
      };
    end
    if (begins) asked_well <= 1'b1;
    else if (takes && (ray_start != '0 || ray_limit != 32'h7FFF_FFFF)) asked_well <= 1'b0;
    else if (result_valid && result_ready && surface_read != tells) asked_well <= 1'b0;
    else if (surface_read && surface_address != result_address) asked_well <= 1'b0;
    else if (table_read && table_address[7:3] != '0) asked_well <= 1'b0;
  end
  assign unused = ^{asked_q[2*RayW-1-:96], asked_q[4*RayW-1-:96]};
  assign {primary_inverse_z, primary_inverse_y, primary_inverse_x, primary_direction_z,
          primary_direction_y, primary_direction_x, primary_origin_z, primary_origin_y,
          primary_origin_x} = asked_q[0*RayW+:RayW];
  assign {shadow_direction_z, shadow_direction_y, shadow_direction_x, shadow_origin_z,
          shadow_origin_y, shadow_origin_x} = asked_q[1*RayW+:RayW-96];
  assign {mirror_inverse_z, mirror_inverse_y, mirror_inverse_x, mirror_direction_z,
          mirror_direction_y, mirror_direction_x, mirror_origin_z, mirror_origin_y,
          mirror_origin_x} = asked_q[2*RayW+:RayW];
  assign {mirror_shadow_direction_z, mirror_shadow_direction_y, mirror_shadow_direction_x,
          mirror_shadow_origin_z, mirror_shadow_origin_y,
          mirror_shadow_origin_x} = asked_q[3*RayW+:RayW-96];

endmodule

`default_nettype wire
