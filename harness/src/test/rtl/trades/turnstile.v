// Lets one of five gates at a time pass, in turn: the first that asks behind the one that passed
// last. Decided where tick is high, told one cycle later.
module turnstile (
    input            ck,
    input            clr_n,   // asynchronous, low
    input            tick,
    input      [4:0] ask,
    output reg       told,
    output reg [4:0] pass,    // one bit at most
    output reg [2:0] gate     // its number; that of the one before where none asks
);
  // Gates behind the last one come first, then all.
  reg  [4:0] behind;
  wire [4:0] soon  = ask & behind;
  wire [4:0] among = (soon != 5'd0) ? soon : ask;
  wire [4:0] one   = among & (~among + 5'd1);

  always @(posedge ck or negedge clr_n)
    if (!clr_n) begin
      told   <= 1'b0;
      behind <= 5'b11111;
      pass   <= 5'd0;
      gate   <= 3'd0;
    end else begin
      told <= tick;
      if (tick) begin
        pass <= one;
        if (one != 5'd0) begin
          behind <= ~((one << 1) - 5'd1);
          gate   <= {one[4], one[3] | one[2], one[3] | one[1]};
        end
      end
    end
endmodule
