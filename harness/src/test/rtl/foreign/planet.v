// Planet of the orrery: where a sight line enters and leaves a sphere; quadratic formula, integer
// root, two registers. Points, radius and distances s16.16, direction s2.16 of unit length.
module planet (
    input  wire               clock,
    input  wire               rst_n,
    input  wire               vld_i,
    input  wire signed [31:0] ox, oy, oz,
    input  wire signed [17:0] dx, dy, dz,
    input  wire signed [31:0] cx, cy, cz,
    input  wire signed [31:0] r,
    output reg                vld_o,
    output reg                hit,
    output reg  signed [31:0] t0, t1
);
    function [41:0] isqrt(input [83:0] x);
        reg [83:0] rest;
        reg [41:0] root;
        integer    i;
        begin
            root = 0;
            for (i = 41; i >= 0; i = i - 1) begin
                rest = 84'(root) | (84'd1 << i);
                if (rest * rest <= x) root = rest[41:0];
            end
            isqrt = root;
        end
    endfunction

    function signed [31:0] limit(input signed [83:0] t);
        limit = (t > 84'sh7fffffff) ? 32'sh7fffffff : (t < -84'sh80000000) ? 32'sh80000000 : t[31:0];
    endfunction

    wire signed [83:0] mx = 84'(cx) - 84'(ox);
    wire signed [83:0] my = 84'(cy) - 84'(oy);
    wire signed [83:0] mz = 84'(cz) - 84'(oz);
    wire signed [83:0] along = (mx * 84'(dx) + my * 84'(dy) + mz * 84'(dz) + 84'sh8000) >>> 16;
    wire signed [83:0] size  = 84'(r) * 84'(r);

    reg signed [83:0] b, disc;
    reg               real_sphere, vld;

    wire signed [83:0] root  = 84'(isqrt(disc));
    wire signed [83:0] enter = b - root;
    wire signed [83:0] leave = b + root;

    always @(posedge clock) begin
        vld         <= vld_i & rst_n;
        vld_o       <= vld & rst_n;
        b           <= along;
        disc        <= along * along - (mx * mx + my * my + mz * mz - size);
        real_sphere <= r >= 0;
        hit         <= real_sphere && disc >= 0 && leave >= 0;
        t0          <= limit(enter);
        t1          <= limit(leave);
    end
endmodule
