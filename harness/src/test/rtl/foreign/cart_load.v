// Load of a cart: product of two unsigned numbers of 12 bits, all 24 bits of it, a bit of the
// multiplier a cycle. Takes a case while idle; done for one cycle.
module cart_load (
    input  wire        clk,
    input  wire        rst,
    input  wire        start,
    input  wire [11:0] multiplicand,
    input  wire [11:0] multiplier,
    output reg         done,
    output reg  [23:0] product
);
    reg        busy;
    reg [ 3:0] left;
    reg [23:0] a;
    reg [11:0] b;

    always @(posedge clk) begin
        done <= 1'b0;
        if (rst) busy <= 1'b0;
        else if (!busy) begin
            busy    <= start;
            left    <= 4'd12;
            a       <= {12'd0, multiplicand};
            b       <= multiplier;
            product <= 24'd0;
        end else begin
            if (b[0]) product <= product + a;
            a    <= a << 1;
            b    <= b >> 1;
            left <= left - 4'd1;
            if (left == 4'd1) begin
                busy <= 1'b0;
                done <= 1'b1;
            end
        end
    end
endmodule
