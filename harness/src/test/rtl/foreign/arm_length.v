// Length of an arm from its square: floor of the root of 32 bits, two bits of the radicand a cycle.
// Takes a case while idle; finished for one cycle, 17 cycles after go.
module arm_length (
    input  wire        clock,
    input  wire        reset,
    input  wire        go,
    input  wire [31:0] radicand,
    output reg         finished,
    output reg  [15:0] sqrt
);
    reg  [31:0] rest;
    reg  [17:0] remainder;
    reg  [ 4:0] step;
    reg         busy;
    wire [17:0] grown = {remainder[15:0], rest[31:30]};
    wire [17:0] trial = {sqrt, 2'b01};

    always @(posedge clock) begin
        finished <= 1'b0;
        if (reset) busy <= 1'b0;
        else if (!busy) begin
            busy      <= go;
            rest      <= radicand;
            remainder <= 0;
            sqrt      <= 0;
            step      <= 0;
        end else begin
            rest      <= {rest[29:0], 2'b00};
            step      <= step + 1;
            remainder <= (grown >= trial) ? grown - trial : grown;
            sqrt      <= {sqrt[14:0], grown >= trial};
            if (step == 15) begin
                busy     <= 1'b0;
                finished <= 1'b1;
            end
        end
    end
endmodule
