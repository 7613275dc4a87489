// A globe under a lamp, a pixel every few cycles, column by column from the right.
// Channels come one beside the other, and the place of a pixel as one number.
module globe_show (
    input clk,
    input nrst,
    input show,
    output reg pix_stb,
    input pix_ack,
    output reg [9:0] pix_number,  // 32 y + x
    output reg [7:0] pix_red,
    output reg [7:0] pix_green,
    output reg [7:0] pix_blue,
    output reg shown
);
  // Lengths have 16 fraction bits. The eye is at (0, -5, 1), the globe in the middle.
  localparam signed [63:0] EYE_X = 0, EYE_Y = -64'sd327680, EYE_Z = 64'sd65536;
  localparam signed [63:0] RADIUS = 64'sd98304;
  localparam signed [63:0] LAMP_X = 64'sd43691, LAMP_Y = -64'sd43691, LAMP_Z = 64'sd21845;

  // The root of a number of 64 bits, rounded down, a bit at a time.
  function [31:0] root(input [63:0] of);
    integer i;
    reg [31:0] r;
    begin
      r = 0;
      for (i = 31; i >= 0; i = i - 1) begin
        r[i] = 1'b1;
        if ({32'd0, r} * {32'd0, r} > of) r[i] = 1'b0;
      end
      root = r;
    end
  endfunction

  // To the nearest whole number, a half away from zero.
  function signed [63:0] ratio(input signed [63:0] a, input signed [63:0] b);
    ratio = ((a < 0) == (b < 0)) ? (a + b / 2) / b : (a - b / 2) / b;
  endfunction

  function [7:0] shade(input [7:0] base, input [8:0] level);
    reg [16:0] full;
    begin
      full = base * level + 17'd128;
      shade = full[15:8];
    end
  endfunction

  reg busy;
  reg [4:0] x, y;
  reg [1:0] step;

  // From the eye through the pixel: the view is 2 wide and 1.5 high, 1.75 away.
  wire signed [63:0] go_x = ($signed({59'd0, x}) - 64'sd16) * 64'sd4096 + 64'sd2048;
  wire signed [63:0] go_y = 64'sd114688;
  wire signed [63:0] go_z = 64'sd49152 - 64'sd22938 - $signed({59'd0, y}) * 64'sd4096 - 64'sd2048;
  wire [31:0] length = root(go_x * go_x + go_y * go_y + go_z * go_z);
  wire signed [63:0] length_s = {32'd0, length};

  reg signed [63:0] way_x, way_y, way_z;
  wire signed [63:0] nearing = -(EYE_X * way_x + EYE_Y * way_y + EYE_Z * way_z) >>> 16;
  // By the square of the closest approach, as the foot of the globe's middle on the ray.
  wire signed [63:0] foot_x = EYE_X + (nearing * way_x >>> 16);
  wire signed [63:0] foot_y = EYE_Y + (nearing * way_y >>> 16);
  wire signed [63:0] foot_z = EYE_Z + (nearing * way_z >>> 16);
  wire signed [63:0] depth = RADIUS * RADIUS - foot_x * foot_x - foot_y * foot_y - foot_z * foot_z;
  wire met = depth >= 0;
  wire signed [63:0] half = {32'd0, root(met ? depth : 64'd0)};
  wire signed [63:0] away = nearing - half;

  reg hit;
  reg signed [63:0] at_x, at_y, at_z;
  wire signed [63:0] facing = ratio(at_x * LAMP_X + at_y * LAMP_Y + at_z * LAMP_Z, RADIUS);
  wire signed [63:0] lit = facing < 0 ? 64'sd0 : facing > 64'sd65536 ? 64'sd65536 : facing;
  wire signed [63:0] share = 64'sd32 + lit * 64'sd224 / 64'sd65536;
  wire [8:0] level = share[8:0];

  always @(posedge clk)
    if (!nrst) begin
      busy <= 0;
      pix_stb <= 0;
      shown <= 0;
    end else begin
      shown <= 0;
      if (pix_stb && pix_ack) begin
        pix_stb <= 0;
        if (!busy) shown <= 1;
      end
      if (show && !busy && !pix_stb) begin
        busy <= 1;
        x <= 5'd31;
        y <= 0;
        step <= 0;
      end else if (busy)
        case (step)
          2'd0: begin
            way_x <= ratio(go_x <<< 16, length_s);
            way_y <= ratio(go_y <<< 16, length_s);
            way_z <= ratio(go_z <<< 16, length_s);
            step <= 2'd1;
          end
          2'd1: begin
            hit <= met && away > 0;
            at_x <= EYE_X + (away * way_x >>> 16);
            at_y <= EYE_Y + (away * way_y >>> 16);
            at_z <= EYE_Z + (away * way_z >>> 16);
            step <= 2'd2;
          end
          default:
          if (!pix_stb) begin
            pix_stb <= 1;
            pix_number <= {y, x};
            pix_red <= hit ? shade(8'd208, level) : 8'd16;
            pix_green <= hit ? shade(8'd154, level) : 8'd24;
            pix_blue <= hit ? shade(8'd59, level) : 8'd48;
            step <= 2'd0;
            y <= y == 5'd23 ? 5'd0 : y + 5'd1;
            if (y == 5'd23) begin
              x <= x - 5'd1;
              if (x == 0) busy <= 0;
            end
          end
        endcase
    end
endmodule

// The same with the ports that a bench of frames takes: nothing but wires.
module globe_bench (
    input clk,
    input nrst,
    input show,
    output stb,
    input ack,
    output [4:0] x,
    output [4:0] y,
    output [23:0] rgb,
    output shown
);
  globe_show dut (
      .clk(clk),
      .nrst(nrst),
      .show(show),
      .pix_stb(stb),
      .pix_ack(ack),
      .pix_number({y, x}),
      .pix_red(rgb[23:16]),
      .pix_green(rgb[15:8]),
      .pix_blue(rgb[7:0]),
      .shown(shown)
  );
endmodule
