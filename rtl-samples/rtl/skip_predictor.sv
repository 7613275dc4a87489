// Purpose   predicts whether a skip is taken, by a table of two-bit counters
// Equation  taken is predicted where the counter at address mod 2^P is 2 or 3; a skip that was
//           taken counts up, one that was not counts down, between 0 and 3
// Ports     in_address     of the skip to predict; out_taken is valid in the same cycle
//           update_*       a skip whose outcome is known, one a cycle; predictions know of it from
//                          the second cycle after
// Special   all counters are 0 after reset, which takes precedence over an update
// Source    J. E. Smith, A study of branch prediction strategies, ISCA 1981

`default_nettype none
`include "assertions.svh"

module skip_predictor #(
    parameter int unsigned A = 10,  // address bits, 1 to 12
    parameter int unsigned P = 4    // bits of the table's index, 1 to 8 and to A
) (
    input logic clk,
    input logic rst,  // synchronous, active high

    // question
    input  logic [A-1:0] in_address,
    output logic         out_taken,

    // outcome
    input logic         update_valid,
    input logic [A-1:0] update_address,
    input logic         update_taken
);

  if (P < 1 || P > 8 || P > A) begin : g_index_range
    $error("skip_predictor: P must be 1 to 8 and at most A");
  end

  // The outcome waits a clock, so that whoever finds it out does not reach into the table.
  logic              update_valid_q;
  logic [     P-1:0] update_index_q;
  logic              update_taken_q;
  always_ff @(posedge clk) begin
    if (rst) update_valid_q <= 1'b0;
    else update_valid_q <= update_valid;
    update_index_q <= update_address[P-1:0];
    update_taken_q <= update_taken;
  end

  logic [2*2**P-1:0] counters_q;
  logic [       1:0] counter;
  logic [       1:0] counter_d;
  assign counter = counters_q[2*update_index_q+:2];
  always_comb begin
    counter_d = counter;
    if (update_taken_q && counter != 2'd3) counter_d = counter + 2'd1;
    if (!update_taken_q && counter != 2'd0) counter_d = counter - 2'd1;
  end
  always_ff @(posedge clk) begin
    if (rst) counters_q <= '0;
    else if (update_valid_q) counters_q[2*update_index_q+:2] <= counter_d;
  end

  assign out_taken = counters_q[2*in_address[P-1:0]+1];

  if (P < A) begin : g_unused
    logic unused_address;
    assign unused_address = ^{in_address[A-1:P], update_address[A-1:P]};
  end

  `LOW_AFTER_RESET(none_taken, counters_q)

endmodule

`default_nettype wire
