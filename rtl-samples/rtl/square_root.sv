// Purpose   square root of a fixed-point number, one result a cycle
// Equation  out_root = sqrt(in_x): as codes, floor(sqrt(in_x 2^F)), or with ROUND_NEAREST = 1
//           the nearest integer (a tie cannot occur: the root of an integer is never r + 1/2)
// Ports     in_x      signed, W bits with F fraction bits; every code is legal
//           out_root  the same format, never negative, never overflows
//           out_negative  in_x was below 0
//           Outputs mean something only while out_valid is high.
// Special   0: 0.  Negative: 0, with out_negative
// Latency   N + 2 with N = ceil((W - 1 + F) / 2) result bits, rounded or not (26 for W = 32,
//           F = 16); one input a cycle; a cycle with reset drops all cases in flight
// Source    restoring digit recurrence: M. D. Ercegovac, T. Lang, Division and Square Root:
//           Digit-Recurrence Algorithms and Implementations, Kluwer 1994
//
// Each stage takes the next two bits of the radicand, from the top, and finds one bit of the root:
// with root R so far and remainder P (the radicand's bits so far minus R^2), the next bit is one
// where (2R + 1)^2 still fits, that is 4P + pair >= 4R + 1.

`default_nettype none
`include "assertions.svh"
`include "orrery_pkg.svh"

module square_root #(
    parameter int unsigned W             = 32,  // word bits, 4 to 64
    parameter int unsigned F             = 16,  // fraction bits, 0 to W-1
    parameter int unsigned ROUND_NEAREST = 0    // 0: floor, 1: nearest
) (
    input logic clk,
    input logic rst,  // synchronous, active high

    // input stream
    input logic                in_valid,
    input logic signed [W-1:0] in_x,

    // output stream
    output logic                out_valid,
    output logic signed [W-1:0] out_root,
    output logic                out_negative
);

  localparam int unsigned N = orrery_pkg::ceil_div(W - 1 + F, 2);
  localparam int unsigned Latency = orrery_pkg::square_root_latency(W, F);
  localparam int unsigned RemainderW = N + 1;  // a remainder is at most 2R
  localparam int unsigned TrialW = N + 3;  // two bits more come down

  if (W < 4 || W > 64) begin : g_word_range
    $error("square_root: W must be 4 to 64");
  end
  if (F > W - 1) begin : g_fraction_range
    $error("square_root: F must be 0 to W-1");
  end
  if (ROUND_NEAREST > 1) begin : g_round_range
    $error("square_root: ROUND_NEAREST must be 0 or 1");
  end

  // valid_q[k]: whether the values after k clocks belong to a case.
  logic [Latency:1] valid_q;
  always_ff @(posedge clk) begin
    if (rst) valid_q <= '0;
    else valid_q <= {valid_q[Latency-1:1], in_valid};
  end

  // Clock 1: radicand in_x 2^F, 0 for a negative number.
  logic           negative_s1_q;
  logic [2*N-1:0] radicand_s1_q;
  always_ff @(posedge clk) begin
    negative_s1_q <= in_x[W-1];
    radicand_s1_q <= in_x[W-1] ? '0 : (2 * N)'(in_x[W-2:0]) << F;
  end

  // Clocks 2 to N+1: one bit of the root each. stage[k].*_q are the values after k clocks, with
  // k - 1 bits of the root found; rest.radicand_q holds the bits still to come down.
  for (genvar k = 1; k <= N + 1; k++) begin : stage
    logic [         N-1:0] root_q;
    logic [RemainderW-1:0] remainder_q;

    if (k == 1) begin : g_start
      assign root_q      = '0;
      assign remainder_q = '0;
    end else begin : g_digit
      logic [TrialW-1:0] brought_down;
      logic [TrialW-1:0] needed;
      logic [  TrialW:0] difference;
      logic              fits;
      assign brought_down = {stage[k-1].remainder_q, stage[k-1].rest.radicand_q[2*(N+2-k)-1-:2]};
      assign needed       = {1'b0, stage[k-1].root_q, 2'b01};
      // One subtraction serves both: it borrows where needed does not fit.
      assign difference   = {1'b0, brought_down} - {1'b0, needed};
      assign fits         = !difference[TrialW];
      always_ff @(posedge clk) begin
        root_q      <= {stage[k-1].root_q[N-2:0], fits};
        remainder_q <= RemainderW'(fits ? difference[TrialW-1:0] : brought_down);
      end
    end

    if (k <= N) begin : rest
      localparam int unsigned RestW = 2 * (N + 1 - k);
      logic [RestW-1:0] radicand_q;
      if (k == 1) begin : g_start
        assign radicand_q = radicand_s1_q;
      end else begin : g_shorter
        always_ff @(posedge clk) radicand_q <= stage[k-1].rest.radicand_q[RestW-1:0];
      end
    end
  end

  // Clock N+2: rounding. sqrt(v) > R + 1/2 exactly where v - R^2 > R, both being integers. The
  // largest root is 2^(W-1) - 1 with remainder R (F = W-1), so rounding never leaves the format.
  logic         negative_before_last;
  logic         round_up;
  logic         negative_last_q;
  logic [W-1:0] root_last_q;
  delay_line #(
      .WIDTH(1),
      .DEPTH(N)
  ) delay_negative (
      .clk      (clk),
      .in_value (negative_s1_q),
      .out_value(negative_before_last)
  );
  assign round_up = (ROUND_NEAREST != 0)
      && stage[N+1].remainder_q > RemainderW'(stage[N+1].root_q);
  always_ff @(posedge clk) begin
    root_last_q     <= W'(stage[N+1].root_q) + W'(round_up);
    negative_last_q <= negative_before_last;
  end

  assign out_valid    = valid_q[Latency];
  assign out_root     = $signed(root_last_q);
  assign out_negative = negative_last_q;

  `LOW_AFTER_RESET(valids_low, valid_q)
  `HOLDS(remainder_at_most_twice_the_root,
         !valid_q[N+1] || stage[N+1].remainder_q <= {stage[N+1].root_q, 1'b0})
  `HOLDS(root_not_negative, !out_valid || out_root >= 0)

endmodule

`default_nettype wire
