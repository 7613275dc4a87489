// Ratio of the orrery's idler wheel: quot = 1 / den, both s16.16, cut towards zero, saturated.
// One case a cycle, done three cycles after start. A den of zero gives the largest code.
module ratio (
    input  wire        clk_i,
    input  wire        rst_ni,
    input  wire        start,
    input  wire [31:0] den,
    output reg         done,
    output reg  [31:0] quot
);
    wire signed [63:0] wide = {{32{den[31]}}, den};
    reg  signed [63:0] divided;
    reg         [31:0] limited;
    reg                start_1, start_2;

    always @(posedge clk_i) begin
        divided <= (den == 0) ? 64'sh7fffffff : 64'sh100000000 / wide;
        limited <= (divided > 64'sh7fffffff) ? 32'h7fffffff
                 : (divided < -64'sh80000000) ? 32'h80000000 : divided[31:0];
        quot    <= limited;
        start_1 <= start & rst_ni;
        start_2 <= start_1 & rst_ni;
        done    <= start_2 & rst_ni;
    end
endmodule
