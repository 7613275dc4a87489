// Purpose   carries out operations in order as their solids' spans are known
// Equation  solid: its span from start on, or the empty list, becomes the top list; combination: of
//           the list below the top (left) with the top (right), in place of both; close: the top
//           list goes, and its nearest surface beyond start and nearer than limit becomes the best
//           hit if it is nearer than the one so far; skip: taken where early says so, or where the
//           box is entered more than MARGIN beyond the best hit
// Ports     in_*          the oldest operation, still until in_ready marks its retirement. entry,
//                         exit, start, limit: signed, W bits; faces as solid_pipelines has them;
//                         a list as span_combiner has it, its surfaces {face, address}
//           clear         a ray begins: no lists, no hit, no overflow
//           early         the outcome of a skip by which fetching went on
//           redirect_*    in the cycle in which a skip retires that is taken against early: where
//                         to go on. All younger operations are void
//           finished      an end retires, or, with in_any_hit, a close that finds such a surface.
//                         All younger operations are void
//           update_*      the outcome of each skip, and whether its prediction was that
//           retire_*      one pulse for each operation, in the cycle in which it retires. Lists,
//                         height, best and overflow as they are after it; taken: a skip that is
//                         taken, else 0. All of it means something only while
//                         retire_valid is high
//           best_*        best hit so far; 0 but for best_hit while there is none
//           overflow      a list of this ray was cut to C spans
// Latency   an operation retires in the cycle in which it comes, a combination of lists with n
//           distinct distances n cycles later, a close one later; the next one may come in the
//           cycle after
// Source    as span_combiner; strictly nearer replaces, so that a tie keeps the earlier: our choice

`default_nettype none
`include "assertions.svh"
`include "scene_pkg.svh"

module scene_retirement #(
    parameter int unsigned W = 32,  // word bits, 8 to 32
    parameter int unsigned C = 4,   // most spans in a list, 1 to 16
    parameter int unsigned S = 4,   // most lists, 1 to 16
    parameter int unsigned A = 10,  // address bits, 1 to 12
    parameter int unsigned MARGIN = 64  // of the slab test, 0 to 255
) (
    input logic clk,
    input logic rst,  // synchronous, active high

    // the ray
    input logic                clear,
    input logic signed [W-1:0] in_start,
    input logic signed [W-1:0] in_limit,
    input logic                in_any_hit,

    // input stream
    input  logic                in_valid,
    output logic                in_ready,
    input  logic        [  3:0] in_operation,
    input  logic        [A-1:0] in_address,
    input  logic        [A-1:0] in_target,
    input  logic                in_predicted,
    input  logic                in_early,
    input  logic                in_empty,
    input  logic signed [W-1:0] in_entry,
    input  logic signed [W-1:0] in_exit,
    input  logic        [  2:0] in_entry_face,
    input  logic        [  2:0] in_exit_face,

    // where to go on
    output logic         redirect_valid,
    output logic [A-1:0] redirect_address,
    output logic         finished,

    // outcome of a skip
    output logic         update_valid,
    output logic [A-1:0] update_address,
    output logic         update_taken,
    output logic         update_right,

    // retirement port
    output logic                             retire_valid,
    output logic        [             A-1:0] retire_address,
    output logic        [               3:0] retire_operation,
    output logic                             retire_taken,
    output logic        [$clog2(S+1)-1:0] retire_height,
    output logic        [$clog2(C+1)-1:0] retire_count,
    output logic        [       2*C*W-1:0] retire_distance,
    output logic        [       2*C*(A+3)-1:0] retire_surface,
    output logic        [         2*C-1:0] retire_reversed,
    output logic                             retire_best_hit,
    output logic signed [             W-1:0] retire_best_distance,
    output logic        [A+2:0] retire_best_surface,
    output logic                             retire_best_reversed,
    output logic                             retire_best_inward,
    output logic                             retire_overflow,

    // status
    output logic                best_hit,
    output logic signed [W-1:0] best_distance,
    output logic        [A+2:0] best_surface,
    output logic                best_reversed,
    output logic                best_inward,
    output logic                overflow
);

  localparam int unsigned Ends = 2 * C;
  localparam int unsigned CountW = $clog2(C + 1);
  localparam int unsigned Surface = A + 3;  // {face, address}
  localparam int unsigned ListW = CountW + Ends * (W + Surface + 1);

  logic retires;
  logic solid;
  logic combination;
  logic skip;
  logic close;
  assign solid       = in_operation == scene_pkg::OpSphere
      || in_operation == scene_pkg::OpHalfSpace || in_operation == scene_pkg::OpBox;
  assign combination = in_operation == scene_pkg::OpUnion
      || in_operation == scene_pkg::OpIntersection || in_operation == scene_pkg::OpDifference;
  assign skip        = in_operation == scene_pkg::OpSkip;
  assign close       = in_operation == scene_pkg::OpClose;

  // Lists, each {reversed, surface, distance, count}.
  logic [     ListW-1:0] new_list;
  logic [     ListW-1:0] solid_list;
  logic [     ListW-1:0] top_list;
  logic [     ListW-1:0] below_list;
  logic [     ListW-1:0] next_list;
  logic [    CountW-1:0] top_count;
  logic [  Ends*W-1:0] top_distance;
  logic [  Ends*Surface-1:0] top_surface;
  logic [    Ends-1:0] top_reversed;
  logic [    CountW-1:0] below_count;
  logic [  Ends*W-1:0] below_distance;
  logic [  Ends*Surface-1:0] below_surface;
  logic [    Ends-1:0] below_reversed;
  list_stack #(
      .S    (S),
      .WIDTH(ListW),
      .COUNT(CountW)
  ) stack (
      .clk        (clk),
      .rst        (rst || clear),
      .push       (retires && solid),
      .pop        (retires && close),
      .replace_two(retires && combination),
      .in_list    (new_list),
      .out_top    (top_list),
      .out_below  (below_list),
      .next_top   (next_list),
      .next_height(retire_height)
  );
  assign {top_reversed, top_surface, top_distance, top_count}         = top_list;
  assign {below_reversed, below_surface, below_distance, below_count} = below_list;

  // Combination. Two empty lists have no distance to walk over.
  logic              both_empty;
  logic              combining_q;
  logic              combine;
  logic              combiner_ready;
  logic              combined_valid;
  logic [CountW-1:0] combined_count;
  logic [Ends*W-1:0] combined_distance;
  logic [Ends*Surface-1:0] combined_surface;
  logic [  Ends-1:0] combined_reversed;
  logic              combined_overflow;
  assign both_empty = top_count == '0 && below_count == '0;
  assign combine    = in_valid && combination && !both_empty && !combining_q;
  span_combiner #(
      .W(W),
      .SURFACE(Surface),
      .C(C)
  ) combiner (
      .clk              (clk),
      .rst              (rst),
      .in_valid         (combine),
      .in_ready         (combiner_ready),
      .in_operator      (in_operation[1:0]),
      .in_left_count    (below_count),
      .in_left_distance (below_distance),
      .in_left_surface (below_surface),
      .in_left_reversed   (below_reversed),
      .in_right_count   (top_count),
      .in_right_distance(top_distance),
      .in_right_surface(top_surface),
      .in_right_reversed  (top_reversed),
      .out_valid        (combined_valid),
      .out_count        (combined_count),
      .out_distance     (combined_distance),
      .out_surface     (combined_surface),
      .out_reversed       (combined_reversed),
      .out_overflow     (combined_overflow)
  );
  always_ff @(posedge clk) begin
    if (rst) combining_q <= 1'b0;
    else combining_q <= (combining_q || combine) && !retires;
  end

  // A close takes a clock to find its surface and one to compare it.
  logic closing_q;
  always_ff @(posedge clk) begin
    if (rst) closing_q <= 1'b0;
    else closing_q <= in_valid && close && !closing_q;
  end

  assign retires  = in_valid
      && (combination ? both_empty || combined_valid : !close || closing_q);
  assign in_ready = retires;

  // A solid's one span, from start on: what lies behind it uses up no place in a list.
  logic                behind;
  logic signed [W-1:0] clipped_entry;
  assign behind        = in_exit <= in_start;
  assign clipped_entry = in_entry < in_start ? in_start : in_entry;
  assign solid_list = {
    Ends'(0),
    (Ends * Surface)'({in_exit_face, in_address, in_entry_face, in_address}),
    (Ends * W)'({in_exit, clipped_entry}),
    CountW'(1)
  };
  always_comb begin
    new_list = '0;
    if (solid) begin
      if (!in_empty && !behind) new_list = solid_list;
    end else if (!both_empty) begin
      new_list = {combined_reversed, combined_surface, combined_distance, combined_count};
    end
  end

  logic overflow_q;
  logic overflow_d;
  assign overflow_d = overflow_q || (retires && combination && !both_empty && combined_overflow);
  always_ff @(posedge clk) begin
    if (rst || clear) overflow_q <= 1'b0;
    else overflow_q <= overflow_d;
  end

  // Best hit. found_*: by the list on top, valid while closing.
  logic                found_d;
  logic signed [W-1:0] found_distance_d;
  logic        [A+2:0] found_surface_d;
  logic                found_reversed_d;
  logic                found_inward_d;
  logic                found_q;
  logic signed [W-1:0] found_distance_q;
  logic        [A+2:0] found_surface_q;
  logic                found_reversed_q;
  logic                found_inward_q;
  span_nearest #(
      .W      (W),
      .SURFACE(Surface),
      .C      (C)
  ) nearest (
      .in_count    (top_count),
      .in_distance (top_distance),
      .in_surface  (top_surface),
      .in_reversed (top_reversed),
      .in_start    (in_start),
      .in_limit    (in_limit),
      .out_found   (found_d),
      .out_distance(found_distance_d),
      .out_surface (found_surface_d),
      .out_reversed(found_reversed_d),
      .out_inward  (found_inward_d)
  );
  always_ff @(posedge clk) begin
    found_q          <= found_d;
    found_distance_q <= found_distance_d;
    found_surface_q  <= found_surface_d;
    found_reversed_q <= found_reversed_d;
    found_inward_q   <= found_inward_d;
  end

  logic                nearer;
  logic                best_hit_q;
  logic signed [W-1:0] best_distance_q;
  logic        [A+2:0] best_surface_q;
  logic                best_reversed_q;
  logic                best_inward_q;
  logic signed [  W:0] best_reach_q;  // with the margin, which grows it by a carry
  assign nearer = retires && close && found_q
      && (!best_hit_q || found_distance_q < best_distance_q);
  assign retire_best_hit      = nearer || best_hit_q;
  assign retire_best_distance = nearer ? found_distance_q : best_distance_q;
  assign retire_best_surface = nearer ? found_surface_q : best_surface_q;
  assign retire_best_reversed = nearer ? found_reversed_q : best_reversed_q;
  assign retire_best_inward = nearer ? found_inward_q : best_inward_q;
  always_ff @(posedge clk) begin
    if (rst || clear) begin
      best_hit_q      <= 1'b0;
      best_distance_q <= '0;
      best_surface_q <= '0;
      best_reversed_q   <= 1'b0;
      best_inward_q   <= 1'b0;
    end else begin
      best_hit_q      <= retire_best_hit;
      best_distance_q <= retire_best_distance;
      best_surface_q <= retire_best_surface;
      best_reversed_q   <= retire_best_reversed;
      best_inward_q   <= retire_best_inward;
    end
    if (nearer) best_reach_q <= (W + 1)'(found_distance_q) + $signed((W + 1)'(MARGIN));
  end

  // Beyond the best hit a box has nothing to show.
  logic beyond;
  logic taken;
  assign beyond = best_hit_q && (W + 1)'(in_entry) > best_reach_q;
  assign taken  = in_early || beyond;

  assign redirect_valid   = retires && skip && taken != in_early;
  assign redirect_address = in_target;
  assign finished = retires && (in_operation == scene_pkg::OpEnd
      || (close && in_any_hit && found_q));

  assign update_valid   = retires && skip;
  assign update_address = in_address;
  assign update_taken   = taken;
  assign update_right   = taken == in_predicted;

  assign retire_valid     = retires;
  assign retire_address   = in_address;
  assign retire_operation = in_operation;
  assign retire_taken     = skip && taken;
  assign retire_overflow  = overflow_d;
  assign {retire_reversed, retire_surface, retire_distance, retire_count} = next_list;

  assign best_hit      = best_hit_q;
  assign best_distance = best_distance_q;
  assign best_surface = best_surface_q;
  assign best_reversed   = best_reversed_q;
  assign best_inward   = best_inward_q;
  assign overflow      = overflow_q;

  // combining_q has the same information.
  logic unused_ready;
  assign unused_ready = combiner_ready;

  `LOW_AFTER_RESET(nothing_in_hand, {combining_q, closing_q, best_hit_q, overflow_q})
  `HOLDS(combiner_is_free, !combine || combiner_ready)
  `HOLDS(combined_while_combining, !combined_valid || combining_q)

endmodule

`default_nettype wire
