// Torque of a crank: res = lhs * rhs, all s16.16, to the nearest, wraps. One register deep;
// waits for the consumer.
module torque (
    input  wire               clk,
    input  wire               rst,
    input  wire               in_vld,
    output wire               in_rdy,
    input  wire signed [31:0] lhs,
    input  wire signed [31:0] rhs,
    output reg                out_vld,
    input  wire               out_rdy,
    output reg  signed [31:0] res
);
    wire signed [63:0] full = lhs * rhs + 64'sh8000;
    assign in_rdy = !out_vld || out_rdy;

    always @(posedge clk) begin
        if (rst) out_vld <= 1'b0;
        else if (in_rdy) out_vld <= in_vld;
        if (in_rdy) res <= full[47:16];
    end
endmodule
