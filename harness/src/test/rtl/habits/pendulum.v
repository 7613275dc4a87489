// Pendulum of the orrery: its distance from the middle, the root of x x + y y, cut; beyond where the
// distance is more than the reach; left = reach - distance. x, y s8.8; reach, distance u9.8; left
// s10.8. Three cycles. The root by a function with a loop.
module pendulum (
    input  wire               clk,
    input  wire               rst,
    input  wire               v_i,
    input  wire signed [15:0] x, y,
    input  wire        [16:0] reach,
    output reg                v_o,
    output reg         [16:0] distance,
    output reg                beyond,
    output reg  signed [17:0] left
);
    function [16:0] root(input [32:0] n);
        reg [34:0] square;
        reg [17:0] grown;
        integer    i;
        begin
            root = 0;
            for (i = 16; i >= 0; i = i - 1) begin
                grown  = {1'b0, root} | (18'd1 << i);
                square = 35'(grown) * 35'(grown);
                if (square <= 35'(n)) root = grown[16:0];
            end
        end
    endfunction

    reg        [32:0] sum;
    reg        [16:0] r1, r2, found;
    reg               v1, v2;
    always @(posedge clk) begin
        sum      <= 33'(34'(x) * 34'(x)) + 33'(34'(y) * 34'(y));
        found    <= root(sum);
        distance <= found;
        beyond   <= found > r2;
        left     <= $signed({1'b0, r2}) - $signed({1'b0, found});
        r1       <= reach;
        r2       <= r1;
        v1       <= v_i & ~rst;
        v2       <= v1 & ~rst;
        v_o      <= v2 & ~rst;
    end
endmodule
