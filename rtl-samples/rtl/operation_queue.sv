// Purpose   keeps operations in order until they retire
// Ports     in_valid     an entry joins at the end; one must be free
//           out_valid    the oldest entry stands at out_entry
//           out_ready    it leaves at the end of this cycle
// Special   an entry that joins as another leaves needs no free entry. A reset drops all
// Latency   1: an entry that finds the queue empty, or just being emptied, is the oldest in the
//           next cycle

`default_nettype none
`include "assertions.svh"

module operation_queue #(
    parameter int unsigned Q     = 64,  // entries, 2 to 1024
    parameter int unsigned WIDTH = 90   // bits of an entry, 1 or more
) (
    input logic clk,
    input logic rst,  // synchronous, active high

    // input stream
    input logic             in_valid,
    input logic [WIDTH-1:0] in_entry,

    // output stream
    output logic             out_valid,
    input  logic             out_ready,
    output logic [WIDTH-1:0] out_entry
);

  localparam int unsigned IndexW = $clog2(Q);
  localparam int unsigned CountW = $clog2(Q + 1);

  if (Q < 2 || Q > 1024) begin : g_entries_range
    $error("operation_queue: Q must be 2 to 1024");
  end

  function automatic logic [IndexW-1:0] following(input logic [IndexW-1:0] index);
    following = index == IndexW'(Q - 1) ? '0 : index + IndexW'(1);
  endfunction

  // The oldest stands in a register, since what it decides is far away. The next one stands at the
  // memory's registered read or, where none waited, in a register beside it, and all others wait in
  // memory. So the oldest is followed without a gap, and a word is never read as it is written.
  logic [ WIDTH-1:0] entries[Q];
  logic [IndexW-1:0] write_q;
  logic [IndexW-1:0] read_q;
  logic [CountW-1:0] waiting_q;
  logic              oldest_valid_q;
  logic              next_valid_q;
  logic              from_memory_q;
  logic [ WIDTH-1:0] read_entry_q;
  logic [ WIDTH-1:0] direct_entry_q;
  logic [ WIDTH-1:0] oldest_q;
  logic              advance;
  logic              nobody_waits;
  logic              becomes_oldest;
  logic              direct;
  logic              put_away;
  logic              fetch;
  assign advance        = !oldest_valid_q || out_ready;
  assign nobody_waits   = waiting_q == '0;
  assign becomes_oldest = in_valid && advance && !next_valid_q;
  assign direct         = in_valid && nobody_waits && advance == next_valid_q;
  assign put_away       = in_valid && !becomes_oldest && !direct;
  assign fetch          = advance && !nobody_waits;

  always_ff @(posedge clk) begin
    if (put_away) entries[write_q] <= in_entry;
    if (fetch) read_entry_q <= entries[read_q];
  end
  always_ff @(posedge clk) begin
    if (direct) direct_entry_q <= in_entry;
    if (direct || fetch) from_memory_q <= fetch;
    if (advance) begin
      oldest_q <= !next_valid_q ? in_entry : from_memory_q ? read_entry_q : direct_entry_q;
    end
  end
  always_ff @(posedge clk) begin
    if (rst) begin
      write_q        <= '0;
      read_q         <= '0;
      waiting_q      <= '0;
      oldest_valid_q <= 1'b0;
      next_valid_q   <= 1'b0;
    end else begin
      if (put_away) write_q <= following(write_q);
      if (fetch) read_q <= following(read_q);
      waiting_q <= waiting_q + CountW'(put_away) - CountW'(fetch);
      if (advance) oldest_valid_q <= next_valid_q || in_valid;
      if (direct || advance) next_valid_q <= direct || fetch;
    end
  end

  assign out_valid = oldest_valid_q;
  assign out_entry = oldest_q;

  `LOW_AFTER_RESET(empty, {oldest_valid_q, next_valid_q, waiting_q})
  `HOLDS(room_for_what_joins, !put_away || fetch || waiting_q != CountW'(Q))
  `HOLDS(waiting_behind_two, next_valid_q || nobody_waits)
  `HOLDS(next_behind_the_oldest, oldest_valid_q || !next_valid_q)

endmodule

`default_nettype wire
