// Table under the orrery: where a sight line comes into it or leaves it, by division, without a
// clock. Points, height and distances s16.16, direction and normal s2.16; cut down, saturated.
module table_top (
    input  wire signed [31:0] orig_x, orig_y, orig_z,
    input  wire signed [17:0] dir_x, dir_y, dir_z,
    input  wire signed [17:0] nrm_x, nrm_y, nrm_z,
    input  wire signed [31:0] offset,
    output wire               hit,
    output wire               is_inside,
    output wire signed [31:0] t_enter,
    output wire signed [31:0] t_leave
);
    localparam signed [71:0] Top = 72'sh7fffffff, Bottom = -72'sh80000000;

    wire signed [71:0] slope  = 72'(nrm_x) * 72'(dir_x) + 72'(nrm_y) * 72'(dir_y)
                              + 72'(nrm_z) * 72'(dir_z);
    wire signed [71:0] height = (72'(offset) <<< 16) - 72'(nrm_x) * 72'(orig_x)
                              - 72'(nrm_y) * 72'(orig_y) - 72'(nrm_z) * 72'(orig_z);
    wire signed [71:0] over     = height <<< 16;
    wire signed [71:0] divisor  = (slope == 0) ? 72'sd1 : slope;
    wire signed [71:0] quotient = over / divisor;
    wire signed [71:0] down     = (over % divisor != 0 && ((over < 0) != (divisor < 0)))
                                ? quotient - 1 : quotient;
    wire signed [71:0] t = (down > Top) ? Top : (down < Bottom) ? Bottom : down;

    assign is_inside = height >= 0;
    wire signed [71:0] enter = (slope == 0) ? (is_inside ? Bottom : Top) : (slope < 0) ? t : Bottom;
    wire signed [71:0] leave = (slope == 0) ? (is_inside ? Top : Bottom) : (slope > 0) ? t : Top;
    assign hit     = enter <= leave && leave >= 0;
    assign t_enter = enter[31:0];
    assign t_leave = leave[31:0];
endmodule
