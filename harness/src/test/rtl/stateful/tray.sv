// A tray of up to four tokens, first in, first out, each with its distance from the one before.
//
//   in_token     u8.0
//   out_token    u8.0, as it came
//   out_change   s9.0, token - the token accepted before it; the one before the first is 0
//
// Valid and ready on both sides. A token is on offer a cycle after it was accepted, behind up to
// three others that leave one a cycle. Reset synchronous, active high, empties the tray.
module tray (
    input logic clk,
    input logic rst,

    // tokens in
    input  logic       in_valid,
    output logic       in_ready,
    input  logic [7:0] in_token,

    // tokens out
    output logic              out_valid,
    input  logic              out_ready,
    output logic        [7:0] out_token,
    output logic signed [8:0] out_change
);
  logic [16:0] places[4];
  logic [ 1:0] read_q, write_q;
  logic [ 2:0] count_q;
  logic [ 7:0] before_q;
  logic        put, take;
  logic signed [8:0] change;

  assign in_ready  = count_q != 3'd4;
  assign out_valid = count_q != 3'd0;
  assign put       = in_valid && in_ready;
  assign take      = out_valid && out_ready;
  assign change    = $signed({1'b0, in_token}) - $signed({1'b0, before_q});
  assign out_token = places[read_q][7:0];
  assign out_change = $signed(places[read_q][16:8]);

  always_ff @(posedge clk) begin
    if (put) places[write_q] <= {change, in_token};
  end

  always_ff @(posedge clk) begin
    if (rst) before_q <= '0;
    else if (put) before_q <= in_token;
  end

  always_ff @(posedge clk) begin
    if (rst) begin
      read_q  <= '0;
      write_q <= '0;
      count_q <= '0;
    end else begin
      if (put) write_q <= write_q + 2'd1;
      if (take) read_q <= read_q + 2'd1;
      count_q <= count_q + 3'(put) - 3'(take);
    end
  end
endmodule
