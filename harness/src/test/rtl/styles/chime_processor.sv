// A processor of one register: loads, adds, subtracts, shifts, and skips what follows a negative.
// Operations: 0 load, 1 add, 2 subtract, 3 halve, 4 skip the next one where the sum is negative.
module chime_processor (
    input  logic               clk,
    input  logic               rst,
    input  logic               in_valid,
    input  logic        [ 2:0] in_operation,
    input  logic signed [11:0] in_number,
    output logic               out_valid,
    output logic signed [15:0] out_sum
);
  logic signed [15:0] sum_q;
  logic signed [15:0] sum_d;
  logic               skips_q;
  logic signed [15:0] number;
  assign number = 16'(in_number);
  always_comb begin
    sum_d = sum_q;
    case (in_operation)
      3'd0: sum_d = number;
      3'd1: sum_d = sum_q + number;
      3'd2: sum_d = sum_q - number;
      3'd3: sum_d = sum_q >>> 1;
      default: ;
    endcase
  end
  always_ff @(posedge clk) begin
    out_valid <= in_valid && !rst;
    if (rst) begin
      sum_q   <= '0;
      skips_q <= 1'b0;
    end else if (in_valid) begin
      skips_q <= in_operation == 3'd4 && !skips_q && sum_q < 16'sd0;
      if (!skips_q) sum_q <= sum_d;
    end
  end
  assign out_sum = sum_q;
endmodule
