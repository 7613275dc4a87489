// Packs the bytes of a label, four to a word; the last word of a label may have fewer, and says
// which of its bytes are there.
module label_packer (
    input  wire        ck,
    input  wire        rn,
    input  wire        i_v,
    output wire        i_r,
    input  wire [7:0]  i_byte,
    input  wire        i_end,
    output reg         o_v,
    input  wire        o_r,
    output reg  [31:0] o_word,
    output reg  [3:0]  o_keep,
    output reg         o_end
);
  reg [1:0]  n;
  reg [23:0] some;

  assign i_r = ~o_v | o_r;
  wire take = i_v & i_r;
  wire last = take & (n == 2'd3 | i_end);

  always @(posedge ck or negedge rn)
    if (!rn) begin
      o_v <= 1'b0;
      n   <= 2'd0;
    end else begin
      if (o_r) o_v <= 1'b0;
      if (take) begin
        n <= last ? 2'd0 : n + 2'd1;
        case (n)
          2'd0: some[7:0] <= i_byte;
          2'd1: some[15:8] <= i_byte;
          2'd2: some[23:16] <= i_byte;
          default: ;
        endcase
      end
      if (last) begin
        o_v   <= 1'b1;
        o_end <= i_end;
        o_keep <= n == 2'd0 ? 4'h1 : n == 2'd1 ? 4'h3 : n == 2'd2 ? 4'h7 : 4'hf;
        o_word <= n == 2'd0 ? {24'h0, i_byte} :
                  n == 2'd1 ? {16'h0, i_byte, some[7:0]} :
                  n == 2'd2 ? {8'h0, i_byte, some[15:0]} : {i_byte, some};
      end
    end
endmodule
