// Turns of a crank: one more where what is left of the limit is worth a tooth.
module crank (
    input  logic               clk,
    input  logic        [11:0] in_turns,
    input  logic        [11:0] in_teeth,
    input  logic        [23:0] in_limit,
    output logic        [12:0] out_count
);
  logic        [23:0] pair_q;
  logic        [23:0] product_q;
  logic        [23:0] limit_q;
  logic        [11:0] turns_q;
  logic        [11:0] teeth_q;
  logic signed [25:0] rest_q;
  logic        [12:0] count_q;
  always_ff @(posedge clk) begin
    pair_q             <= {in_turns, in_teeth};
    product_q          <= 24'(in_turns) * 24'(in_teeth);
    limit_q            <= in_limit;
    rest_q             <= $signed(26'(limit_q)) - $signed(26'(product_q));
    {turns_q, teeth_q} <= pair_q;
    count_q            <= 13'(turns_q) + 13'(rest_q >= $signed(26'(teeth_q)));
  end
  assign out_count = count_q;
endmodule
