// Reach of a lever: recip = 1 / divisor, both s8.8, cut towards zero, saturated. No clock. A divisor
// of zero gives the largest code.
module lever (
    input  wire signed [15:0] divisor,
    output reg  signed [15:0] recip
);
    reg signed [17:0] q;

    always @* begin
        q = (divisor == 16'sd0) ? 18'sd32767 : 18'sd65536 / divisor;
        if (q > 18'sd32767) recip = 16'sh7fff;
        else if (q < -18'sd32768) recip = 16'sh8000;
        else recip = q[15:0];
    end
endmodule
