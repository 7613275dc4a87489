// Weighs one case after the other: takes one when it is idle and the door is open, then is busy for
// as many cycles as the lowest two bits of the weight give.
module weigh_house (
    input  logic               clk,
    input  logic               rst,
    input  logic               in_valid,
    output logic               in_ready,
    input  logic signed [71:0] in_weight,
    input  logic               shut,

    output logic signed [79:0] total,
    output logic        [15:0] taken
);
  logic [1:0] busy_q;

  assign in_ready = (busy_q == 2'd0) && !shut;

  always_ff @(posedge clk) begin
    if (rst) begin
      busy_q <= 2'd0;
      total  <= 80'd0;
      taken  <= 16'd0;
    end else if (in_valid && in_ready) begin
      busy_q <= in_weight[1:0];
      total  <= total + 80'(in_weight);
      taken  <= taken + 16'd1;
    end else if (busy_q != 2'd0) begin
      busy_q <= busy_q - 2'd1;
    end
  end
endmodule
