// Purpose   reads a program's operations ahead, in the order in which they are most likely to go on
// Ports     redirect_*   goes on at that address instead, whatever is in hand
//           stop         fetches nothing more; redirect_valid takes precedence
//           read_*       to the memory, which gives a word a cycle later and holds it meanwhile
//           in_word_*    the operation and target that stand at the memory's output
//           out_valid    an operation stands there; out_address is its address, out_taken whether
//                        it is a skip that is predicted to be taken
//           out_ready    it is dispatched in this cycle
//           update_*     outcome of a skip, for the predictor
// Flow      out_valid and out_ready; nothing follows an end until a redirect. A reset stops
// Latency   redirect to the first operation 2; then one a cycle, but for one cycle without after a
//           skip predicted taken, whose target is read only then

`default_nettype none
`include "assertions.svh"
`include "scene_pkg.svh"

module scene_fetch #(
    parameter int unsigned A = 10,  // address bits, 1 to 12
    parameter int unsigned P = 4    // bits of the predictor's index, 1 to 8 and to A
) (
    input logic clk,
    input logic rst,  // synchronous, active high

    // control
    input logic         redirect_valid,
    input logic [A-1:0] redirect_address,
    input logic         stop,

    // memory
    output logic         read_enable,
    output logic [A-1:0] read_address,
    input  logic [  3:0] in_word_operation,
    input  logic [A-1:0] in_word_target,

    // output stream
    output logic         out_valid,
    input  logic         out_ready,
    output logic [A-1:0] out_address,
    output logic         out_taken,

    // outcome of a skip
    input logic         update_valid,
    input logic [A-1:0] update_address,
    input logic         update_taken
);

  // The next word to read, and the one that stands at the memory's output.
  logic         reading_q;
  logic         reading_d;
  logic [A-1:0] next_q;
  logic [A-1:0] next_d;
  logic         valid_q;
  logic         valid_d;
  logic [A-1:0] address_q;
  logic         leaves;
  logic         predicted;

  skip_predictor #(
      .A(A),
      .P(P)
  ) predictor (
      .clk           (clk),
      .rst           (rst),
      .in_address    (address_q),
      .out_taken     (predicted),
      .update_valid  (update_valid),
      .update_address(update_address),
      .update_taken  (update_taken)
  );

  assign leaves       = valid_q && out_ready;
  assign out_valid    = valid_q;
  assign out_address  = address_q;
  assign out_taken    = in_word_operation == scene_pkg::OpSkip && predicted;
  assign read_enable  = reading_q && (!valid_q || leaves);
  assign read_address = next_q;

  always_comb begin
    reading_d = reading_q;
    next_d    = next_q;
    valid_d   = valid_q && !leaves;
    if (read_enable) begin
      next_d  = next_q + A'(1);
      valid_d = 1'b1;
    end
    if (leaves && in_word_operation == scene_pkg::OpEnd) begin
      reading_d = 1'b0;
      valid_d   = 1'b0;
    end
    if (leaves && out_taken) begin
      next_d  = in_word_target;
      valid_d = 1'b0;
    end
    if (redirect_valid || stop) begin
      reading_d = redirect_valid;
      next_d    = redirect_address;
      valid_d   = 1'b0;
    end
  end
  always_ff @(posedge clk) begin
    if (rst) begin
      reading_q <= 1'b0;
      valid_q   <= 1'b0;
    end else begin
      reading_q <= reading_d;
      valid_q   <= valid_d;
    end
    next_q <= next_d;
    if (read_enable) address_q <= next_q;
  end

  `LOW_AFTER_RESET(nothing_in_hand, {out_valid, read_enable})
  `HOLDS(an_operation_was_read, !out_valid || reading_q)

endmodule

`default_nettype wire
