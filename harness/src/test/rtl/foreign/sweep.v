// Area that an arm sweeps: p = x * y, u12.4 times s4.12, every bit kept; four cycles, no valid.
module sweep (
    input  wire               clk,
    input  wire        [15:0] x,
    input  wire signed [15:0] y,
    output reg  signed [31:0] p
);
    reg        [15:0] x_1;
    reg signed [15:0] y_1;
    reg signed [31:0] p_2, p_3;

    always @(posedge clk) begin
        x_1 <= x;
        y_1 <= y;
        p_2 <= $signed({1'b0, x_1}) * y_1;
        p_3 <= p_2;
        p   <= p_3;
    end
endmodule
