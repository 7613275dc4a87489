// Bar of the orrery's frame: where a sight line enters and leaves it, by division, without a clock.
// Points and distances s16.16, direction s2.16; distances cut towards minus infinity and saturated.
// A line along a face is inside. No output for the far end.
module frame_bar (
    input  wire signed [31:0] ray_org_x, ray_org_y, ray_org_z,
    input  wire signed [17:0] ray_dir_x, ray_dir_y, ray_dir_z,
    input  wire signed [31:0] box_lo_x, box_lo_y, box_lo_z,
    input  wire signed [31:0] box_hi_x, box_hi_y, box_hi_z,
    output wire               o_hit,
    output wire signed [31:0] o_tnear
);
    localparam signed [63:0] Top = 64'sh7fffffff, Bottom = -64'sh80000000;

    function signed [63:0] cut(input signed [31:0] face, input signed [31:0] org,
                               input signed [17:0] dir);
        reg signed [63:0] over, quotient;
        begin
            over     = (64'(face) - 64'(org)) <<< 16;
            quotient = over / 64'(dir);
            if (over % 64'(dir) != 0 && ((over < 0) != (dir < 0))) quotient = quotient - 1;
            cut = (quotient > Top) ? Top : (quotient < Bottom) ? Bottom : quotient;
        end
    endfunction

    function signed [63:0] near(input signed [31:0] lo, input signed [31:0] hi,
                                input signed [31:0] org, input signed [17:0] dir);
        reg signed [63:0] a, b;
        begin
            a = (dir == 0) ? Bottom : cut(lo, org, dir);
            b = (dir == 0) ? Bottom : cut(hi, org, dir);
            near = (dir == 0 && (org < lo || org > hi)) ? Top : (a < b) ? a : b;
        end
    endfunction

    function signed [63:0] far(input signed [31:0] lo, input signed [31:0] hi,
                               input signed [31:0] org, input signed [17:0] dir);
        reg signed [63:0] a, b;
        begin
            a = (dir == 0) ? Top : cut(lo, org, dir);
            b = (dir == 0) ? Top : cut(hi, org, dir);
            far = (dir == 0 && (org < lo || org > hi)) ? Bottom : (a > b) ? a : b;
        end
    endfunction

    wire signed [63:0] nx = near(box_lo_x, box_hi_x, ray_org_x, ray_dir_x);
    wire signed [63:0] ny = near(box_lo_y, box_hi_y, ray_org_y, ray_dir_y);
    wire signed [63:0] nz = near(box_lo_z, box_hi_z, ray_org_z, ray_dir_z);
    wire signed [63:0] fx = far(box_lo_x, box_hi_x, ray_org_x, ray_dir_x);
    wire signed [63:0] fy = far(box_lo_y, box_hi_y, ray_org_y, ray_dir_y);
    wire signed [63:0] fz = far(box_lo_z, box_hi_z, ray_org_z, ray_dir_z);
    wire signed [63:0] nxy = (nx > ny) ? nx : ny;
    wire signed [63:0] fxy = (fx < fy) ? fx : fy;
    wire signed [63:0] tin  = (nxy > nz) ? nxy : nz;
    wire signed [63:0] tout = (fxy < fz) ? fxy : fz;

    assign o_hit   = tin <= tout && tout >= 0;
    assign o_tnear = tin[31:0];
endmodule
