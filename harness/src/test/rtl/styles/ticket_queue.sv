// Visitors' tickets, first in, first out: eight places.
module ticket_queue (
    input  logic        clk,
    input  logic        rst,
    input  logic        in_valid,
    output logic        in_ready,
    input  logic [11:0] in_ticket,
    output logic        out_valid,
    input  logic        out_ready,
    output logic [11:0] out_ticket
);
  logic [11:0] places[8];
  logic [ 3:0] write_q;
  logic [ 3:0] read_q;
  assign in_ready   = (write_q ^ read_q) != 4'b1000;
  assign out_valid  = write_q != read_q;
  assign out_ticket = places[read_q[2:0]];
  always_ff @(posedge clk) begin
    if (rst) begin
      write_q <= '0;
      read_q  <= '0;
    end else begin
      if (in_valid && in_ready) write_q <= write_q + 4'd1;
      if (out_valid && out_ready) read_q <= read_q + 4'd1;
    end
    if (in_valid && in_ready) places[write_q[2:0]] <= in_ticket;
  end
endmodule
