// Post of the orrery's frame: a bar whose operands come an axis at a time, x, y, z, on four buses.
// A beat is taken where vld is high; the result is there in the cycle after the third.
module frame_post (
    input  wire               clk,
    input  wire               rst,
    input  wire               vld,
    input  wire signed [31:0] ray_org,
    input  wire signed [17:0] ray_dir,
    input  wire signed [31:0] box_lo,
    input  wire signed [31:0] box_hi,
    output reg                out_vld,
    output reg                o_hit,
    output reg  signed [31:0] o_tnear
);
    reg  [1:0]   axis;
    reg  [113:0] x, y;
    wire [113:0] z = {ray_org, ray_dir, box_lo, box_hi};
    wire         hit;
    wire [31:0]  tnear;

    frame_bar bar (
        .ray_org_x(x[113:82]), .ray_org_y(y[113:82]), .ray_org_z(z[113:82]),
        .ray_dir_x(x[81:64]),  .ray_dir_y(y[81:64]),  .ray_dir_z(z[81:64]),
        .box_lo_x(x[63:32]),   .box_lo_y(y[63:32]),   .box_lo_z(z[63:32]),
        .box_hi_x(x[31:0]),    .box_hi_y(y[31:0]),    .box_hi_z(z[31:0]),
        .o_hit(hit), .o_tnear(tnear));

    always @(posedge clk) begin
        if (rst) axis <= 2'd0;
        else if (vld) axis <= (axis == 2'd2) ? 2'd0 : axis + 2'd1;
        if (vld && axis == 2'd0) x <= z;
        if (vld && axis == 2'd1) y <= z;
        out_vld <= vld && axis == 2'd2 && !rst;
        o_hit   <= hit;
        o_tnear <= tnear;
    end
endmodule
