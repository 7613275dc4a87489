// Odd tickets go the long way, even ones the short way: answers come as they are ready, each with
// its ticket. Who is taken depends on the ticket on offer.
module two_lanes (
    input  wire       clock,
    input  wire       areset_n,
    input  wire       rq,
    output wire       rq_ok,
    input  wire [2:0] rq_ticket,
    input  wire [7:0] rq_x,
    output wire       an,
    input  wire       an_ok,
    output wire [2:0] an_ticket,
    output wire [8:0] an_y
);
  reg       slow_on, fast_on;
  reg [2:0] slow_left;
  reg [2:0] slow_t, fast_t;
  reg [7:0] slow_x, fast_x;
  reg       held, held_fast;

  wire slow_done = slow_on & (slow_left == 3'd0);
  wire pick_fast = held ? held_fast : ~slow_done;

  assign rq_ok     = rq_ticket[0] ? ~slow_on : ~fast_on;
  assign an        = slow_done | fast_on;
  assign an_ticket = pick_fast ? fast_t : slow_t;
  assign an_y      = pick_fast ? {1'b0, fast_x} + 9'd7 : {1'b0, slow_x} + 9'd7;

  always @(posedge clock or negedge areset_n)
    if (!areset_n) begin
      slow_on <= 1'b0;
      fast_on <= 1'b0;
      held    <= 1'b0;
    end else begin
      held      <= an & ~an_ok;
      held_fast <= pick_fast;
      if (an & an_ok) begin
        if (pick_fast) fast_on <= 1'b0;
        else slow_on <= 1'b0;
      end
      if (slow_on & (slow_left != 3'd0)) slow_left <= slow_left - 3'd1;
      if (rq & rq_ok) begin
        if (rq_ticket[0]) begin
          slow_on   <= 1'b1;
          slow_left <= 3'd5;
          slow_t    <= rq_ticket;
          slow_x    <= rq_x;
        end else begin
          fast_on <= 1'b1;
          fast_t  <= rq_ticket;
          fast_x  <= rq_x;
        end
      end
    end
endmodule
