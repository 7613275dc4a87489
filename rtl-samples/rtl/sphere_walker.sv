// Purpose   ray against sphere, one case at a time through one shared multiplier
// Equation  b = (centre - origin) . direction, q = |centre - origin|^2 - radius^2,
//           discriminant = b^2 - q; entry, exit = b -+ sqrt(discriminant)
// Ports     in_origin_*, in_centre_*, in_radius
//                           signed, W bits with F fraction bits; every code is legal
//           in_direction_*  signed, DW bits with DF fraction bits, of length 1: the quadratic's
//                           leading coefficient, its square, is taken as 1 and never computed.
//                           Every code is legal; other lengths get the equation as it stands
//           out_hit         the line meets the sphere, and exit >= 0
//           out_inside      out_hit, and entry < 0: the same as out_entry < 0
//           out_entry, out_exit
//                           signed, W bits with F fraction bits, in units of the direction's
//                           length, saturated; 0 where out_hit is 0
//           Outputs mean something only while out_valid is high.
// Flow      valid and ready: a transfer is a rising edge with both high. out_valid never waits for
//           out_ready, in_ready depends on no input, a stalled result stands still.
// Special   touching is a hit, from an origin on the sphere too (exit may be 0); a negative radius
//           never hits; radius 0 hits where the line goes through the centre
// Rounding  to the working format of F + GUARD fraction bits, and once more at the end:
//             offset            exact, W + 1 bits
//             projection b      floor to the working format: less than 1 of its LSB low
//             squares, their sums, and the discriminant of that b    exact
//             root              floor for the exit, ceiling for the entry: less than 1 LSB
//                               of the working format
//             entry, exit       sum exact in the working format, floor to F fraction bits: less
//                               than 1 LSB of the word low; then saturated
// Error     A b that is low by e lowers the discriminant by 2be - e^2: with b of n units, by less
//           than 2n LSB of the working format. The exit comes e (1 + b / root) lower for
//           it and the entry e (b / root - 1) higher, which is little but where the line nearly
//           touches. There a hit may be missed, while the discriminant is below 2be; no miss ever
//           becomes a hit. The signs of b and q are exact, so ahead and behind, inside and
//           outside are never mistaken. GUARD = DF makes b exact.
// Latency   from accepted to offered, K being the multiplier's digits of 18 bits in a number of
//           n bits, K(n) = ceil(n / 18), and P = W + DW + 1 - DF + GUARD (43):
//             negative radius              1
//             sphere behind the origin     1 + 3 (3 + K(DW)) + 4 (3 + K(W))             (33)
//             line passes the sphere by    3 + K(P) more                                (39)
//             hit                          P + 1 more                                   (83)
//           A further case is accepted a cycle after a result was taken. A cycle with reset drops
//           the case in hand and one that arrives with it.
// Source    the quadratic t^2 - 2bt + q = 0, which |origin + t direction - centre|^2 = radius^2 is
//           for a direction of length 1: its roots are b -+ sqrt(b^2 - q), one after the other their
//           product q and their sum 2b (Euclid III.35-36). The root digit by digit, as with pencil
//           and paper: common practice, no source

`default_nettype none
`include "assertions.svh"
`include "orrery_pkg.svh"

module sphere_walker #(
    parameter int unsigned W     = 32,  // word bits, 8 to 32
    parameter int unsigned F     = 16,  // word fraction bits, 0 to W-1
    parameter int unsigned DW    = 18,  // direction bits, 4 to 32
    parameter int unsigned DF    = 16,  // direction fraction bits, 0 to DW-1
    parameter int unsigned GUARD = 8    // fraction bits of the working format beyond F, 0 to DF
) (
    input logic clk,
    input logic rst,  // synchronous, active high

    // input stream
    input  logic                 in_valid,
    output logic                 in_ready,
    input  logic signed [ W-1:0] in_origin_x,
    input  logic signed [ W-1:0] in_origin_y,
    input  logic signed [ W-1:0] in_origin_z,
    input  logic signed [DW-1:0] in_direction_x,
    input  logic signed [DW-1:0] in_direction_y,
    input  logic signed [DW-1:0] in_direction_z,
    input  logic signed [ W-1:0] in_centre_x,
    input  logic signed [ W-1:0] in_centre_y,
    input  logic signed [ W-1:0] in_centre_z,
    input  logic signed [ W-1:0] in_radius,

    // output stream
    output logic                out_valid,
    input  logic                out_ready,
    output logic                out_hit,
    output logic                out_inside,
    output logic signed [W-1:0] out_entry,
    output logic signed [W-1:0] out_exit
);

  if (W < 8 || W > 32) begin : g_word_range
    $error("sphere_walker: W must be 8 to 32");
  end
  // F only places the point: projections are floored by DF - GUARD places whatever F is.
  if (F > W - 1) begin : g_fraction_range
    $error("sphere_walker: F must be 0 to W-1");
  end
  if (DW < 4 || DW > 32) begin : g_direction_word_range
    $error("sphere_walker: DW must be 4 to 32");
  end
  if (DF > DW - 1) begin : g_direction_fraction_range
    $error("sphere_walker: DF must be 0 to DW-1");
  end
  if (GUARD > DF) begin : g_guard_range
    $error("sphere_walker: GUARD must be 0 to DF");
  end

  localparam int unsigned OffsetW = W + 1;  // a borrow
  localparam int unsigned Drop = DF - GUARD;  // places by which the projection is floored
  // Magnitude of b: W + DW - 1 bits a product, two more for three of them. |b| stays below 3/4 of
  // the range and q above -1/16 of its square, so a root of b^2 - q needs no more.
  localparam int unsigned P = W + DW + 1 - Drop;
  localparam int unsigned DigitW = 18;
  localparam int unsigned WordDigits = orrery_pkg::ceil_div(W, DigitW);
  localparam int unsigned DirectionDigits = orrery_pkg::ceil_div(DW, DigitW);
  localparam int unsigned ProjectionDigits = orrery_pkg::ceil_div(P, DigitW);
  localparam int unsigned Digits =
      ProjectionDigits > DirectionDigits ? ProjectionDigits : DirectionDigits;
  localparam int unsigned MultiplierW = Digits * DigitW;
  localparam int unsigned ProductW = 2 * P > W + DW ? 2 * P : W + DW;
  localparam int unsigned PartialW = P + DigitW < ProductW ? P + DigitW : ProductW;
  localparam int unsigned SumW = ProductW + 2;  // sign, carry
  localparam int unsigned DistanceW = P + 2;  // sign, carry
  localparam int unsigned FlooredW = DistanceW - GUARD;
  localparam int unsigned CountW = $clog2(P);

  // The products in order. Low bits 0 to 2: x, y, z; 3: the square that is of no axis.
  localparam logic [2:0] FirstTerm = 3'd0;  // 0 to 2: offset times direction, summed to b
  localparam logic [2:0] LastOfProjection = 3'd2;
  localparam logic [2:0] LastOfSquares = 3'd6;  // 3: radius^2; 4 to 6: less offset^2, gives -q
  localparam logic [2:0] ProjectionSquare = 3'd7;  // b^2 on top: the discriminant

  typedef enum logic [2:0] {
    StateIdle,
    StateFetch,
    StateMultiply,
    StateAdd,
    StateRoot,
    StateDistance,
    StateAnswer
  } state_e;

  state_e                      state_q;
  state_e                      state_d;
  logic          [        2:0] term_q;
  logic          [ CountW-1:0] steps_left_q;  // clocks of this state after the present one
  logic                        taken;

  // The case in hand.
  logic signed   [OffsetW-1:0] offset_x_q;
  logic signed   [OffsetW-1:0] offset_y_q;
  logic signed   [OffsetW-1:0] offset_z_q;
  logic signed   [     DW-1:0] direction_x_q;
  logic signed   [     DW-1:0] direction_y_q;
  logic signed   [     DW-1:0] direction_z_q;
  logic          [      W-2:0] radius_q;
  logic signed   [        P:0] projection_q;

  assign in_ready = state_q == StateIdle;
  assign taken    = in_valid && in_ready;

  always_ff @(posedge clk) begin
    if (taken) begin
      offset_x_q    <= OffsetW'(in_centre_x) - OffsetW'(in_origin_x);
      offset_y_q    <= OffsetW'(in_centre_y) - OffsetW'(in_origin_y);
      offset_z_q    <= OffsetW'(in_centre_z) - OffsetW'(in_origin_z);
      direction_x_q <= in_direction_x;
      direction_y_q <= in_direction_y;
      direction_z_q <= in_direction_z;
      radius_q      <= in_radius[W-2:0];  // a negative one goes straight to its result
    end
  end

  // Fetch: two factors as magnitudes, and whether their product is taken away from the sum. Digits
  // are used from the top, so a shorter factor stands at the top of its register.
  logic signed [    OffsetW-1:0] axis_offset;
  logic signed [         DW-1:0] axis_direction;
  logic        [          W-1:0] offset_size;
  logic        [         DW-1:0] direction_size;
  logic        [          P-1:0] projection_size;
  logic        [          P-1:0] multiplicand_d;
  logic        [MultiplierW-1:0] multiplier_d;
  logic        [     CountW-1:0] last_digit_d;
  logic                          minus_d;
  always_comb begin
    case (term_q[1:0])
      2'd0: begin
        axis_offset    = offset_x_q;
        axis_direction = direction_x_q;
      end
      2'd1: begin
        axis_offset    = offset_y_q;
        axis_direction = direction_y_q;
      end
      default: begin
        axis_offset    = offset_z_q;
        axis_direction = direction_z_q;
      end
    endcase
    offset_size     = W'(axis_offset < 0 ? -axis_offset : axis_offset);
    direction_size  = axis_direction < 0 ? -axis_direction : axis_direction;
    projection_size = P'(projection_q < 0 ? -projection_q : projection_q);

    multiplicand_d  = P'(offset_size);
    multiplier_d    = MultiplierW'(offset_size) << (Digits - WordDigits) * DigitW;
    last_digit_d    = CountW'(WordDigits);
    minus_d         = 1'b1;
    if (term_q == ProjectionSquare) begin
      multiplicand_d = projection_size;
      multiplier_d   = MultiplierW'(projection_size) << (Digits - ProjectionDigits) * DigitW;
      last_digit_d   = CountW'(ProjectionDigits);
      minus_d        = 1'b0;
    end else if (term_q[1:0] == 2'd3) begin
      multiplicand_d = P'(radius_q);
      multiplier_d   = MultiplierW'(radius_q) << (Digits - WordDigits) * DigitW;
      minus_d        = 1'b0;
    end else if (!term_q[2]) begin
      multiplier_d = MultiplierW'(direction_size) << (Digits - DirectionDigits) * DigitW;
      last_digit_d = CountW'(DirectionDigits);
      minus_d      = (axis_offset < 0) != (axis_direction < 0);
    end
  end

  // Multiply: a digit a clock; each partial product joins the others a clock later.
  logic [          P-1:0] multiplicand_q;
  logic [MultiplierW-1:0] multiplier_q;
  logic                   minus_q;
  logic [   PartialW-1:0] partial_q;
  logic [   ProductW-1:0] product_q;
  always_ff @(posedge clk) begin
    if (state_q == StateFetch) begin
      multiplicand_q <= multiplicand_d;
      multiplier_q   <= multiplier_d;
      minus_q        <= minus_d;
      partial_q      <= '0;
      product_q      <= '0;
    end else if (state_q == StateMultiply) begin
      multiplier_q <= multiplier_q << DigitW;
      partial_q    <= PartialW'(multiplicand_q) * PartialW'(multiplier_q[MultiplierW-1-:DigitW]);
      product_q    <= (product_q << DigitW) + ProductW'(partial_q);
    end
  end

  // Add: b, then -q, then b^2 - q. The sum then serves the root as the digits still to come down.
  logic signed [SumW-1:0] sum_q;
  logic signed [SumW-1:0] sum_d;
  logic                   below;
  logic                   miss;
  assign sum_d = minus_q ? sum_q - $signed(SumW'(product_q)) : sum_q + $signed(SumW'(product_q));
  // Signs are bits: a comparison with 0 would be mapped to a chain of tables behind the sum.
  assign below = sum_d[SumW-1];
  // q > 0 and b < 0: outside and going away. b^2 - q < 0: past it.
  assign miss  = below
      && (term_q == ProjectionSquare || (term_q == LastOfSquares && projection_q[P]));
  always_ff @(posedge clk) begin
    if (taken) begin
      term_q <= FirstTerm;
      sum_q  <= '0;
    end else if (state_q == StateAdd) begin
      term_q <= term_q + 3'd1;
      sum_q  <= sum_d;
      if (term_q == LastOfProjection) begin
        projection_q <= $signed(sum_d[Drop+:P+1]);
        sum_q        <= '0;
      end else if (term_q == LastOfSquares) begin
        sum_q <= sum_d <<< 2 * GUARD;  // from 2 F fraction bits to those of b^2
      end
    end else if (state_q == StateRoot) begin
      sum_q <= sum_q <<< 2;
    end
  end

  // Root: a bit a clock, with root R so far and the radicand's digits so far less R^2 as the
  // remainder: the next bit is 1 where (2R + 1)^2 still fits.
  logic [P-1:0] root_q;
  logic [  P:0] remainder_q;  // at most 2R
  logic [P+1:0] brought_down;
  logic [P+1:0] needed;
  logic [P+2:0] difference;
  logic         fits;
  assign brought_down = {remainder_q[P-1:0], sum_q[2*P-1-:2]};
  assign needed       = {root_q, 2'b01};
  // One subtraction serves both: it borrows where needed does not fit.
  assign difference   = {1'b0, brought_down} - {1'b0, needed};
  assign fits         = !difference[P+2];
  always_ff @(posedge clk) begin
    if (taken) begin
      root_q      <= '0;
      remainder_q <= '0;
    end else if (state_q == StateRoot) begin
      root_q      <= {root_q[P-2:0], fits};
      remainder_q <= (P + 1)'(fits ? difference[P+1:0] : brought_down);
    end
  end

  // Distance: the entry takes the root rounded up, so that it is negative exactly where the
  // origin is inside.
  function automatic logic signed [W-1:0] to_word(input logic signed [DistanceW-1:0] distance);
    logic signed [FlooredW-1:0] floored;
    floored = FlooredW'(distance >>> GUARD);
    // In the word's range where all bits from its sign upwards are alike.
    if (floored[FlooredW-1:W-1] == {(FlooredW - W + 1) {floored[FlooredW-1]}}) begin
      to_word = W'(floored);
    end else if (floored[FlooredW-1]) begin
      to_word = {1'b1, {(W - 1) {1'b0}}};
    end else begin
      to_word = {1'b0, {(W - 1) {1'b1}}};
    end
  endfunction

  logic                        exact;
  logic signed [DistanceW-1:0] root_down;
  logic signed [  DistanceW:0] entry_and_carry;
  logic signed [DistanceW-1:0] entry;
  logic signed [DistanceW-1:0] leave;  // "exit" to the ports
  assign exact           = remainder_q == '0;
  assign root_down       = $signed(DistanceW'(root_q));
  // To take the root rounded up away is to add its complement, and one more where it is exact. That
  // comes as a carry from a bit below: rounded up first, the root would take a second carry chain.
  assign entry_and_carry = $signed({DistanceW'(projection_q), 1'b1}) + $signed({~root_down, exact});
  assign entry           = entry_and_carry[DistanceW:1];
  logic unused_carry;
  assign unused_carry = entry_and_carry[0];
  assign leave           = DistanceW'(projection_q) + root_down;

  logic                hit_q;
  logic                inside_q;
  logic signed [W-1:0] entry_q;
  logic signed [W-1:0] exit_q;
  always_ff @(posedge clk) begin
    if (taken) begin  // a miss has nothing to add
      hit_q    <= 1'b0;
      inside_q <= 1'b0;
      entry_q  <= '0;
      exit_q   <= '0;
    end else if (state_q == StateDistance) begin
      hit_q    <= 1'b1;
      inside_q <= entry[DistanceW-1];
      entry_q  <= to_word(entry);
      exit_q   <= to_word(leave);
    end
  end

  assign out_valid  = state_q == StateAnswer;
  assign out_hit    = hit_q;
  assign out_inside = inside_q;
  assign out_entry  = entry_q;
  assign out_exit   = exit_q;

  // Control.
  always_comb begin
    state_d = state_q;
    case (state_q)
      StateIdle:     if (in_valid) state_d = in_radius < 0 ? StateAnswer : StateFetch;
      StateFetch:    state_d = StateMultiply;
      StateMultiply: if (steps_left_q == '0) state_d = StateAdd;
      StateAdd: begin
        state_d = StateFetch;
        if (term_q == ProjectionSquare) state_d = StateRoot;
        if (miss) state_d = StateAnswer;
      end
      StateRoot:     if (steps_left_q == '0) state_d = StateDistance;
      StateDistance: state_d = StateAnswer;
      StateAnswer:   if (out_ready) state_d = StateIdle;
      default:       state_d = StateIdle;
    endcase
  end
  always_ff @(posedge clk) begin
    if (rst) state_q <= StateIdle;
    else state_q <= state_d;
    case (state_q)
      StateFetch: steps_left_q <= last_digit_d;
      StateAdd:   steps_left_q <= CountW'(P - 1);
      default:    steps_left_q <= steps_left_q - CountW'(1);
    endcase
  end

  `LOW_AFTER_RESET(nothing_in_hand, {out_valid, !in_ready})
  `HOLDS(remainder_at_most_twice_the_root,
         state_q != StateDistance || remainder_q <= {root_q, 1'b0})
  `HOLDS(a_hit_never_lies_behind, state_q != StateDistance || leave >= 0)
  `HOLDS(entered_before_left, !out_valid || out_entry <= out_exit)
  `HOLDS(stalled_answer_stands,
         !$past(out_valid && !out_ready && !rst)
         || (out_valid && $stable({out_hit, out_inside, out_entry, out_exit})))

endmodule

`default_nettype wire
