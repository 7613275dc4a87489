// Radius of a gong from its square, in whole millimetres, the fraction dropped: eight registers in a
// row, a bit of the root in each. All stand still while the consumer is not ready.
module gong_radius (
    input  wire        clk,
    input  wire        aresetn,
    input  wire        s_valid,
    output wire        s_ready,
    input  wire [15:0] s_radicand,
    output wire        m_valid,
    input  wire        m_ready,
    output wire [ 7:0] m_root
);
    reg  [15:0] square [1:8];
    reg  [ 7:0] root [1:8];
    reg  [ 8:1] full;
    integer     i;
    reg  [ 7:0] try_root;

    assign s_ready = m_ready | ~full[8];
    assign m_valid = full[8];
    assign m_root  = root[8];

    always @(posedge clk)
        if (!aresetn) full <= 8'd0;
        else if (s_ready) begin
            full <= {full[7:1], s_valid};
            for (i = 1; i <= 8; i = i + 1) begin
                try_root = (i == 1 ? 8'd0 : root[i-1]) | (8'd128 >> (i - 1));
                square[i] <= i == 1 ? s_radicand : square[i-1];
                root[i] <= {8'd0, try_root} * {8'd0, try_root}
                           <= (i == 1 ? s_radicand : square[i-1]) ? try_root
                           : i == 1 ? 8'd0 : root[i-1];
            end
        end
endmodule
