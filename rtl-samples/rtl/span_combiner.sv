// Purpose   union, intersection or difference of two lists of spans along a ray, one distance a clock
// Equation  A list is a set of half-open spans [entry, exit), entry < exit, ascending, disjoint and
//           not touching; as ends in ascending order, an entry at every even place (0 the first)
//           and an exit at every odd one. Over the distinct distances of both lists, ascending,
//           all ends at one distance at once: inside = L or R, L and R, L and not R. Where inside
//           changes the result has an end
// Ports     in_operator       0 union, 1 intersection, 2 difference left less right (3 likewise)
//           *_count           spans in the list, 0 to C
//           *_distance, *_surface, *_reversed
//                             the ends' surfaces, end k in field k from the low end: distance
//                             signed, W bits; surface: SURFACE bits, whatever names it;
//                             reversed: of a solid cut away. Input fields beyond the count are
//                             ignored, output ones are 0. Counts and order are asserted
//           out_overflow      the result had more than C spans: the nearest C are given
//           Outputs mean something only while out_valid is high.
// Surface   An end is the left list's where left has one at that distance, else the right's;
//           a difference inverts reversed of what it takes from the right
// Special   lowest code as entry, highest as exit: for ever; combined as any other distance.
//           Touching spans merge in a union, equal ends cancel, no span is of zero length
// Flow      in_valid and in_ready accept (in_ready depends on no input); out_valid is one pulse and
//           cannot be held back
// Latency   n, the number of distinct distances in both lists, 1 for two empty lists. in_ready is
//           high again with out_valid. A cycle with reset drops the lists in hand and those that
//           arrive with it
// Source    point rule: S. D. Roth, Ray casting for modeling solids, Computer Graphics and Image
//           Processing 18, 1982; surfaces: J. Buck, The Ray Tracer Challenge, 2019, chapter 16;
//           reversed and the left before the right at equal distances: our choice

`default_nettype none
`include "assertions.svh"

module span_combiner #(
    parameter int unsigned W = 32,  // word bits, 8 to 32
    parameter int unsigned SURFACE = 8,   // bits that name a surface, 1 to 16
    parameter int unsigned C = 4,   // most spans in a list, 1 to 16
    localparam int unsigned CountW = $clog2(C + 1)
) (
    input logic clk,
    input logic rst,  // synchronous, active high

    // input stream
    input  logic              in_valid,
    output logic              in_ready,
    input  logic [       1:0] in_operator,
    input  logic [CountW-1:0] in_left_count,
    input  logic [ 2*C*W-1:0] in_left_distance,
    input  logic [ 2*C*SURFACE-1:0] in_left_surface,
    input  logic [   2*C-1:0] in_left_reversed,
    input  logic [CountW-1:0] in_right_count,
    input  logic [ 2*C*W-1:0] in_right_distance,
    input  logic [ 2*C*SURFACE-1:0] in_right_surface,
    input  logic [   2*C-1:0] in_right_reversed,

    // output stream
    output logic              out_valid,
    output logic [CountW-1:0] out_count,
    output logic [ 2*C*W-1:0] out_distance,
    output logic [ 2*C*SURFACE-1:0] out_surface,
    output logic [   2*C-1:0] out_reversed,
    output logic              out_overflow
);

  localparam int unsigned Ends = 2 * C;
  localparam int unsigned EndCountW = CountW + 1;  // twice the count
  localparam logic [1:0] Union = 2'd0;
  localparam logic [1:0] Intersection = 2'd1;

  if (W < 8 || W > 32) begin : g_word_range
    $error("span_combiner: W must be 8 to 32");
  end
  if (SURFACE < 1 || SURFACE > 16) begin : g_surface_range
    $error("span_combiner: SURFACE must be 1 to 16");
  end
  if (C < 1 || C > 16) begin : g_spans_range
    $error("span_combiner: C must be 1 to 16");
  end

  // The point rule.
  function automatic logic inside_result(input logic [1:0] operation, input logic left,
                                         input logic right);
    case (operation)
      Union:        inside_result = left || right;
      Intersection: inside_result = left && right;
      default:      inside_result = left && !right;
    endcase
  endfunction

  // What is still to come of both lists, the next end in field 0. A whole list has an even number
  // of ends, so an odd number to come means inside.
  logic                 busy_q;
  logic [          1:0] operator_q;
  logic [EndCountW-1:0] left_to_come_q;
  logic [   Ends*W-1:0] left_distance_q;
  logic [   Ends*SURFACE-1:0] left_surface_q;
  logic [     Ends-1:0] left_reversed_q;
  logic [EndCountW-1:0] right_to_come_q;
  logic [   Ends*W-1:0] right_distance_q;
  logic [   Ends*SURFACE-1:0] right_surface_q;
  logic [     Ends-1:0] right_reversed_q;

  // The lists of this clock: the first distance is dealt with as the lists are accepted.
  logic                 accept;
  logic [          1:0] operation;
  logic [EndCountW-1:0] left_to_come;
  logic [   Ends*W-1:0] left_distance;
  logic [   Ends*SURFACE-1:0] left_surface;
  logic [     Ends-1:0] left_reversed;
  logic [EndCountW-1:0] right_to_come;
  logic [   Ends*W-1:0] right_distance;
  logic [   Ends*SURFACE-1:0] right_surface;
  logic [     Ends-1:0] right_reversed;
  assign in_ready       = !busy_q;
  assign accept         = in_valid && in_ready;
  assign operation      = busy_q ? operator_q : in_operator;
  assign left_to_come   = busy_q ? left_to_come_q : {in_left_count, 1'b0};
  assign left_distance  = busy_q ? left_distance_q : in_left_distance;
  assign left_surface  = busy_q ? left_surface_q : in_left_surface;
  assign left_reversed    = busy_q ? left_reversed_q : in_left_reversed;
  assign right_to_come  = busy_q ? right_to_come_q : {in_right_count, 1'b0};
  assign right_distance = busy_q ? right_distance_q : in_right_distance;
  assign right_surface = busy_q ? right_surface_q : in_right_surface;
  assign right_reversed   = busy_q ? right_reversed_q : in_right_reversed;

  // The nearest distance to come, and which lists have an end there.
  logic signed [        W-1:0] left_next;
  logic signed [        W-1:0] right_next;
  logic                        take_left;
  logic                        take_right;
  logic        [EndCountW-1:0] left_after;
  logic        [EndCountW-1:0] right_after;
  logic                        last;
  assign left_next   = $signed(left_distance[W-1:0]);
  assign right_next  = $signed(right_distance[W-1:0]);
  assign take_left   = left_to_come != '0 && (right_to_come == '0 || left_next <= right_next);
  assign take_right  = right_to_come != '0 && (left_to_come == '0 || right_next <= left_next);
  assign left_after  = left_to_come - EndCountW'(take_left);
  assign right_after = right_to_come - EndCountW'(take_right);
  assign last        = left_after == '0 && right_after == '0;

  always_ff @(posedge clk) begin
    if (rst) busy_q <= 1'b0;
    else busy_q <= (accept || busy_q) && !last;
  end
  always_ff @(posedge clk) begin
    operator_q       <= operation;
    left_to_come_q   <= left_after;
    left_distance_q  <= take_left ? left_distance >> W : left_distance;
    left_surface_q  <= take_left ? left_surface >> SURFACE : left_surface;
    left_reversed_q    <= take_left ? left_reversed >> 1 : left_reversed;
    right_to_come_q  <= right_after;
    right_distance_q <= take_right ? right_distance >> W : right_distance;
    right_surface_q <= take_right ? right_surface >> SURFACE : right_surface;
    right_reversed_q   <= take_right ? right_reversed >> 1 : right_reversed;
  end

  // Whether the result has an end there, and its surface.
  logic         changes;
  logic [W-1:0] end_distance;
  logic [SURFACE-1:0] end_surface;
  logic         end_reversed;
  assign changes = inside_result(operation, left_to_come[0], right_to_come[0])
      != inside_result(operation, left_after[0], right_after[0]);
  always_comb begin
    if (take_left) begin
      end_distance = left_distance[W-1:0];
      end_surface = left_surface[SURFACE-1:0];
      end_reversed   = left_reversed[0];
    end else begin
      end_distance = right_distance[W-1:0];
      end_surface = right_surface[SURFACE-1:0];
      end_reversed   = right_reversed[0] != (operation != Union && operation != Intersection);
    end
  end

  // The result so far. Its ends alternate, so it is full after an exit and all beyond is dropped.
  logic                 valid_q;
  logic [EndCountW-1:0] ends_q;
  logic [   Ends*W-1:0] distance_q;
  logic [   Ends*SURFACE-1:0] surface_q;
  logic [     Ends-1:0] reversed_q;
  logic                 overflow_q;
  logic [EndCountW-1:0] ends_before;
  logic                 full;
  assign ends_before = busy_q ? ends_q : '0;
  assign full        = ends_before == EndCountW'(Ends);
  always_ff @(posedge clk) begin
    if (rst) valid_q <= 1'b0;
    else valid_q <= (accept || busy_q) && last;
  end
  always_ff @(posedge clk) begin
    if (accept) begin
      ends_q     <= '0;
      distance_q <= '0;
      surface_q <= '0;
      reversed_q   <= '0;
      overflow_q <= 1'b0;
    end
    if ((accept || busy_q) && changes) begin
      if (full) begin
        overflow_q <= 1'b1;
      end else begin
        ends_q <= ends_before + EndCountW'(1);
        for (int unsigned k = 0; k < Ends; k++) begin
          if (ends_before == EndCountW'(k)) begin
            distance_q[k*W+:W] <= end_distance;
            surface_q[k*SURFACE+:SURFACE] <= end_surface;
            reversed_q[k]        <= end_reversed;
          end
        end
      end
    end
  end

  assign out_valid    = valid_q;
  assign out_count    = ends_q[EndCountW-1:1];
  assign out_distance = distance_q;
  assign out_surface = surface_q;
  assign out_reversed   = reversed_q;
  assign out_overflow = overflow_q;

`ifndef SYNTHESIS
  // Whether a list's ends ascend, each beyond the one before.
  function automatic logic ascends(input logic [CountW-1:0] count, input logic [Ends*W-1:0] ends);
    ascends = 1'b1;
    for (int unsigned k = 1; k < Ends; k++) begin
      if (EndCountW'(k) < {count, 1'b0}
          && $signed(ends[(k-1)*W+:W]) >= $signed(ends[k*W+:W])) begin
        ascends = 1'b0;
      end
    end
  endfunction
`endif

  `LOW_AFTER_RESET(nothing_in_hand, {out_valid, !in_ready})
  `HOLDS(no_more_than_c_spans,
         !accept || (in_left_count <= CountW'(C) && in_right_count <= CountW'(C)))
  `HOLDS(left_ascends, !accept || ascends(in_left_count, in_left_distance))
  `HOLDS(right_ascends, !accept || ascends(in_right_count, in_right_distance))
  `HOLDS(every_entry_has_its_exit, !out_valid || !ends_q[0])
  `HOLDS(never_busy_with_a_result, !out_valid || in_ready)

endmodule

`default_nettype wire
