// Sum of two weights in half precision (IEEE 754 binary16): to nearest even, with subnormals,
// infinities and NaN (which is 7e00). Two registers, always running; nothing is ever reset.
module half_sum (
    input  wire        clock,
    input  wire [15:0] left_in,
    input  wire [15:0] right_in,
    output reg  [15:0] sum_out
);
  // The one with the larger magnitude comes first.
  wire        swap = right_in[14:0] > left_in[14:0];
  wire [15:0] big  = swap ? right_in : left_in;
  wire [15:0] less = swap ? left_in : right_in;

  wire [4:0]  big_e  = (big[14:10] == 5'd0) ? 5'd1 : big[14:10];
  wire [4:0]  less_e = (less[14:10] == 5'd0) ? 5'd1 : less[14:10];
  wire [13:0] big_m  = {big[14:10] != 5'd0, big[9:0], 3'b000};
  wire [13:0] less_m = {less[14:10] != 5'd0, less[9:0], 3'b000};

  // Bits that are shifted out leave a mark in the lowest place.
  wire [4:0]  away    = big_e - less_e;
  wire [13:0] shifted = less_m >> away;
  wire        lost    = (shifted << away) != less_m;
  wire [13:0] aligned = {shifted[13:1], shifted[0] | lost};

  wire        minus = big[15] ^ less[15];
  wire        nan   = big[14:0] > 15'h7c00 || less[14:0] > 15'h7c00
                    || (minus && big[14:0] == 15'h7c00 && less[14:0] == 15'h7c00);

  reg         nan_q, inf_q, sign_q;
  reg  [4:0]  e_q;
  reg  [14:0] m_q;

  always @(posedge clock) begin
    nan_q  <= nan;
    inf_q  <= big[14:0] == 15'h7c00;
    e_q    <= big_e;
    m_q    <= minus ? {1'b0, big_m} - {1'b0, aligned} : {1'b0, big_m} + {1'b0, aligned};
    sign_q <= (minus && big[14:0] == less[14:0]) ? 1'b0 : big[15];
  end

  // To the left until the first one is in place 13, or as far as the exponent allows.
  function [3:0] places(input [13:0] m);
    integer i;
    begin
      places = 4'd14;
      for (i = 0; i < 14; i = i + 1) if (m[i]) places = 4'd13 - i[3:0];
    end
  endfunction

  wire [3:0]  zeros = places(m_q[13:0]);
  wire [3:0]  left  = ({1'b0, zeros} < e_q) ? zeros : e_q[3:0] - 4'd1;
  wire [13:0] m     = m_q[14] ? {m_q[14:2], m_q[1] | m_q[0]} : m_q[13:0] << left;
  wire [5:0]  e     = m_q[14] ? {1'b0, e_q} + 6'd1 : {1'b0, e_q} - {2'b00, left};

  // A carry of the fraction counts the exponent up.
  wire        up     = m[2] && (m[3] || m[1:0] != 2'd0);
  wire [15:0] packed_sum = {m[13] ? e : 6'd0, m[12:3]} + {15'd0, up};

  always @(posedge clock)
    if (nan_q) sum_out <= 16'h7e00;
    else if (inf_q || packed_sum >= 16'h7c00) sum_out <= {sign_q, 15'h7c00};
    else sum_out <= {sign_q, packed_sum[14:0]};
endmodule
