// The product of two numbers of IEEE 754-2019 binary16, rounded to nearest even, with subnormals,
// infinities and signed zeros. What is no number gives 7E00.
//
// Both significands are normalised to 11 bits; their product of 22 bits has its first one at bit 21
// or 20. Below the least exponent it is shifted to the right, lost bits kept in one sticky bit. The
// exponent and the kept 11 bits are added as one word, so that a carry out of rounding moves on into
// the exponent, up to infinity.
//
// Valid only, a result 2 cycles after its case. Reset synchronous, active high.
module half_product (
    input logic clk,
    input logic rst,

    // cases
    input logic        in_valid,
    input logic [15:0] in_a,
    input logic [15:0] in_b,

    // results
    output logic        out_valid,
    output logic [15:0] out_product
);
  // This copy is right.
  logic valid_s1_q;
  logic [15:0] a, b;

  function automatic logic [3:0] zeros(input logic [10:0] word);
    zeros = 4'd11;
    for (int i = 0; i < 11; i++) begin
      if (word[i]) zeros = 4'd10 - 4'(i);
    end
  endfunction

  logic [10:0] a_word, b_word, a_top, b_top;
  logic signed [7:0] a_exponent, b_exponent, sum, exponent;
  logic [21:0] product, normal;
  logic [7:0] below;
  logic [4:0] places;
  logic [45:0] shifted;
  logic [10:0] kept;
  logic half, sticky, up;
  logic [16:0] packed_sum;
  logic a_special, b_special, a_zero, b_zero, a_nan, b_nan, sign;
  logic [15:0] result;

  always_comb begin
    a_special  = a[14:10] == 5'd31;
    b_special  = b[14:10] == 5'd31;
    a_zero     = a[14:0] == '0;
    b_zero     = b[14:0] == '0;
    a_nan      = a_special && a[9:0] != '0;
    b_nan      = b_special && b[9:0] != '0;
    sign       = a[15] ^ b[15];

    a_word     = {a[14:10] != '0, a[9:0]};
    b_word     = {b[14:10] != '0, b[9:0]};
    a_top      = a_word << zeros(a_word);
    b_top      = b_word << zeros(b_word);
    a_exponent = (a[14:10] == '0 ? 8'sd1 : {3'b000, a[14:10]}) - {4'b0000, zeros(a_word)};
    b_exponent = (b[14:10] == '0 ? 8'sd1 : {3'b000, b[14:10]}) - {4'b0000, zeros(b_word)};

    product    = 22'(a_top) * 22'(b_top);
    sum        = a_exponent + b_exponent - 8'sd15;
    normal     = product[21] ? product : product << 1;
    exponent   = product[21] ? sum + 8'sd1 : sum;

    below      = exponent < 8'sd1 ? 8'(8'sd1 - exponent) : '0;
    places     = below > 8'd24 ? 5'd24 : below[4:0];
    shifted    = {normal, 24'd0} >> places;
    kept       = shifted[45:35];
    half       = shifted[34];
    sticky     = shifted[33:0] != '0;
    up         = half && (sticky || kept[0]);
    packed_sum = (exponent < 8'sd1 ? 17'd0 : {17'(exponent - 8'sd1)} << 10)
               + 17'(kept) + 17'(up);

    if (a_nan || b_nan || (a_special && b_zero) || (a_zero && b_special)) result = 16'h7e00;
    else if (a_special || b_special) result = {sign, 15'h7c00};
    else if (a_zero || b_zero) result = {sign, 15'h0000};
    else if (packed_sum >= 17'h07c00) result = {sign, 15'h7c00};
    else result = {sign, packed_sum[14:0]};
  end

  always_ff @(posedge clk) begin
    valid_s1_q  <= in_valid && !rst;
    out_valid   <= valid_s1_q && !rst;
    a           <= in_a;
    b           <= in_b;
    out_product <= result;
  end
endmodule
