// Purpose   stack of span lists
// Ports     push         in_* becomes the top
//           pop          the top goes
//           replace_two  in_* takes the place of the top and the one below; push and pop are low
//           out_top_*, out_below_*
//                        the top list and the one below; where there are none, their COUNT low
//                        bits are 0 and the others anything
//           next_*       the top list and height after this cycle; where there is none, all is 0
//           A list is as span_combiner has it, its count lowest.
// Flow      at most one of push, pop and replace_two a cycle; push only below S lists, pop only from
//           one on, replace_two from two on: asserted
// Special   without assertions a push on a full stack loses the lowest list, and a pop from an empty
//           one does nothing. Reset empties it

`default_nettype none
`include "assertions.svh"

module list_stack #(
    parameter int unsigned S     = 4,   // lists, 1 to 16
    parameter int unsigned WIDTH = 339,  // bits of a list; an empty one is 0
    parameter int unsigned COUNT = 3    // of them its count's, 1 to WIDTH-1
) (
    input logic clk,
    input logic rst,  // synchronous, active high

    // one action a cycle
    input logic             push,
    input logic             pop,
    input logic             replace_two,
    input logic [WIDTH-1:0] in_list,

    // as it stands, and as it will
    output logic [      WIDTH-1:0] out_top,
    output logic [      WIDTH-1:0] out_below,
    output logic [      WIDTH-1:0] next_top,
    output logic [$clog2(S+1)-1:0] next_height
);

  localparam int unsigned HeightW = $clog2(S + 1);

  if (S < 1 || S > 16) begin : g_lists_range
    $error("list_stack: S must be 1 to 16");
  end

  // The top list in the lowest field. What is left above the height is never put out.
  logic [S*WIDTH-1:0] lists_q;
  logic [S*WIDTH-1:0] lists_d;
  logic [HeightW-1:0] height_q;
  logic [HeightW-1:0] height_d;
  always_comb begin
    lists_d  = lists_q;
    height_d = height_q;
    if (push) begin
      lists_d = (lists_q << WIDTH) | (S * WIDTH)'(in_list);
      if (height_q != HeightW'(S)) height_d = height_q + HeightW'(1);
    end else if (pop || replace_two) begin
      lists_d = lists_q >> WIDTH;
      if (height_q != '0) height_d = height_q - HeightW'(1);
      if (replace_two) lists_d[WIDTH-1:0] = in_list;
    end
  end
  always_ff @(posedge clk) begin
    if (rst) height_q <= '0;
    else height_q <= height_d;
    lists_q <= lists_d;
  end

  // What is beyond a count is ignored, so the count alone hangs on the height: much is done with a
  // list in the same clock.
  logic [WIDTH-1:0] top;
  logic [WIDTH-1:0] below;
  logic             has_top;
  logic             has_below;
  assign top         = lists_q[WIDTH-1:0];
  assign below       = WIDTH'(lists_q >> WIDTH);
  assign has_top     = height_q != '0;
  assign has_below   = has_top && height_q != HeightW'(1);
  assign out_top     = {top[WIDTH-1:COUNT], has_top ? top[COUNT-1:0] : COUNT'(0)};
  assign out_below   = {below[WIDTH-1:COUNT], has_below ? below[COUNT-1:0] : COUNT'(0)};
  assign next_top    = height_d == '0 ? '0 : lists_d[WIDTH-1:0];
  assign next_height = height_d;

  `LOW_AFTER_RESET(empty, height_q)
  `HOLDS(one_action_at_most, !(push && pop) && !(replace_two && (push || pop)))
  `HOLDS(room_for_what_is_pushed, !push || height_q != HeightW'(S))
  `HOLDS(a_list_to_pop, !pop || height_q != '0)
  `HOLDS(two_lists_to_replace,
         !replace_two || (height_q != '0 && height_q != HeightW'(1)))

endmodule

`default_nettype wire
