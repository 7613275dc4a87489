// Where a ray enters and leaves a ball: b -+ sqrt(b*b - c), two clocks.
module ball (
    input  wire               clk,
    input  wire               rst,
    input  wire               in_valid,
    input  wire signed [31:0] origin_x, origin_y, origin_z,   // 16 fraction bits
    input  wire signed [17:0] direction_x, direction_y, direction_z, // unit, 16 fraction bits
    input  wire signed [31:0] centre_x, centre_y, centre_z,
    input  wire signed [31:0] radius,
    output reg                out_valid,
    output reg                hit,
    output reg                is_inside,
    output reg  signed [31:0] entry,
    output reg  signed [31:0] leave
);
    wire signed [32:0] mx = centre_x - origin_x;
    wire signed [32:0] my = centre_y - origin_y;
    wire signed [32:0] mz = centre_z - origin_z;
    wire signed [53:0] dot = mx * direction_x + my * direction_y + mz * direction_z;

    reg                going;
    reg                solid;
    reg  signed [39:0] b;   // 16 fraction bits
    reg  signed [69:0] c;   // 32 fraction bits

    wire signed [79:0] d = b * b - c;

    // The integer root, two bits of the radicand a step.
    function [39:0] root(input [79:0] square);
        integer i;
        reg [81:0] rest;
        reg [41:0] r;
        begin
            rest = 0;
            r = 0;
            for (i = 39; i >= 0; i = i - 1) begin
                rest = {rest[79:0], square[2*i +: 2]};
                if (rest >= {38'd0, r, 2'b01}) begin
                    rest = rest - {38'd0, r, 2'b01};
                    r = {r[40:0], 1'b1};
                end else begin
                    r = {r[40:0], 1'b0};
                end
            end
            root = r[39:0];
        end
    endfunction

    function signed [31:0] word(input signed [41:0] t);
        word = t > 42'sd2147483647 ? 32'sh7fffffff : t < -42'sd2147483648 ? 32'sh80000000 : t[31:0];
    endfunction

    wire signed [41:0] half = d < 0 ? 42'sd0 : $signed({2'b00, root(d)});
    wire signed [31:0] t0 = word(b - half);
    wire signed [31:0] t1 = word(b + half);
    wire               met = solid && d >= 0 && t1 >= 0;

    always @(posedge clk) begin
        going     <= in_valid & ~rst;
        b         <= (dot + 54'sd32768) >>> 16;
        c         <= mx * mx + my * my + mz * mz - radius * radius;
        solid     <= radius >= 0;
        out_valid <= going & ~rst;
        hit       <= met;
        is_inside    <= met && t0 < 0;
        entry     <= t0;
        leave     <= t1;
    end
endmodule
