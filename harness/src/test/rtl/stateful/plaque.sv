// Spells the plaques beside the orrery: one to four letters for a case, in packets with a number.
//
//   in_letters   four letters of 8 bits, the first lowest
//   in_more      u2.0, letters after the first
//   out_letter   u8.0
//   out_number   u4.0, how many plaques came before this one, modulo 16
//   out_last     1 with the last letter of a plaque
//
// Valid and ready on both sides, one plaque at a time: the first letter is valid a cycle after the
// case was accepted, each further one a cycle after the one before it was taken. Reset synchronous,
// active high: the next plaque has number 0.
module plaque (
    input logic clk,
    input logic rst,

    // plaques
    input  logic        in_valid,
    output logic        in_ready,
    input  logic [31:0] in_letters,
    input  logic [ 1:0] in_more,

    // letters
    output logic       out_valid,
    input  logic       out_ready,
    output logic [7:0] out_letter,
    output logic [3:0] out_number,
    output logic       out_last
);
  logic        busy_q;
  logic [31:0] letters_q;
  logic [ 1:0] more_q;
  logic [ 3:0] number_q;

  assign in_ready   = !busy_q;
  assign out_valid  = busy_q;
  assign out_letter = letters_q[7:0];
  assign out_number = number_q;
  assign out_last   = more_q == 2'd0;

  always_ff @(posedge clk) begin
    if (rst) busy_q <= 1'b0;
    else if (in_valid && in_ready) busy_q <= 1'b1;
    else if (out_ready && out_last) busy_q <= 1'b0;
  end

  always_ff @(posedge clk) begin
    if (rst) number_q <= '0;
    else if (out_valid && out_ready && out_last) number_q <= number_q + 4'd1;
  end

  always_ff @(posedge clk) begin
    if (in_valid && in_ready) begin
      letters_q <= in_letters;
      more_q    <= in_more;
    end else if (out_valid && out_ready) begin
      letters_q <= letters_q >> 8;
      more_q    <= more_q - 2'd1;
    end
  end
endmodule
