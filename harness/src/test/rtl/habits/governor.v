// Governor of the orrery's drive: y = x k + bias to the nearest, halves up, saturated; slow where
// that is below the limit. x, bias, limit, y s8.8; k s4.12. Two cycles. Everything in one block, by
// temporaries.
module governor (
    input  wire               clk,
    input  wire               rst,
    input  wire               v_i,
    input  wire signed [15:0] x, k, bias, limit,
    output reg                v_o,
    output reg  signed [15:0] y,
    output reg                slow
);
    reg signed [15:0] xr, kr, br, lr;
    reg               v;
    reg signed [33:0] s;
    reg signed [21:0] r;

    always @(posedge clk) begin
        s = 34'(xr) * 34'(kr);
        s = s + (34'(br) <<< 12);
        r = 22'((s + 34'sd2048) >>> 12);
        if (r > 22'sd32767) r = 22'sd32767;
        else if (r < -22'sd32768) r = -22'sd32768;
        y    <= r[15:0];
        slow <= r < 22'(lr);
        v_o  <= v && !rst;
        xr   <= x;
        kr   <= k;
        br   <= bias;
        lr   <= limit;
        v    <= v_i && !rst;
    end
endmodule
