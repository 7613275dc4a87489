// Load on a lever with three arms: total = the sum of arm times force; down where that is below 0;
// size = its magnitude, cut to 8 fraction bits and saturated; heavy where size is the limit or more.
// Arms s6.10, forces s10.6, size and limit u10.8. Three cycles. Lanes by a generate loop.
module lever (
    input  wire               clk,
    input  wire               rst,
    input  wire               v_i,
    input  wire signed [15:0] arm_a, arm_b, arm_c,
    input  wire signed [15:0] force_a, force_b, force_c,
    input  wire        [17:0] limit,
    output wire               v_o,
    output wire               down,
    output wire               heavy,
    output wire        [17:0] size
);
    wire [47:0] arms   = {arm_c, arm_b, arm_a};
    wire [47:0] forces = {force_c, force_b, force_a};
    wire [95:0] loads;
    genvar i;
    generate
        for (i = 0; i < 3; i = i + 1) begin : lane
            reg signed [31:0] load;
            always @(posedge clk)
                load <= $signed(arms[16*i +: 16]) * $signed(forces[16*i +: 16]);
            assign loads[32*i +: 32] = load;
        end
    endgenerate

    function [33:0] magnitude(input signed [33:0] t);
        magnitude = t[33] ? -t : t;
    endfunction

    function [17:0] clip(input [33:0] m);
        clip = (m[33:8] > 26'h3ffff) ? 18'h3ffff : m[25:8];
    endfunction

    reg signed [33:0] total;
    reg               d;
    reg        [17:0] c, l1, l2, l3;
    reg        [ 2:0] v;
    always @(posedge clk) begin
        total <= 34'($signed(loads[31:0])) + 34'($signed(loads[63:32]))
               + 34'($signed(loads[95:64]));
        c  <= clip(magnitude(total));
        d  <= total < 0;
        l1 <= limit;
        l2 <= l1;
        l3 <= l2;
        v  <= rst ? 3'd0 : {v[1:0], v_i};
    end
    assign v_o   = v[2];
    assign down  = d;
    assign size  = c;
    assign heavy = c >= l3;
endmodule
