// Divides beads among trays, one quotient bit a cycle (restoring division).
module bead_divider #(
    parameter int unsigned W = 12
) (
    input  logic         clk,
    input  logic         rst,
    input  logic         start,
    output logic         idle,
    input  logic [W-1:0] beads,
    input  logic [W-1:0] trays,
    output logic         done,
    output logic [W-1:0] each,
    output logic [W-1:0] left
);
  logic         busy_q;
  logic [3:0]   step_q;
  logic [W-1:0] trays_q;
  logic [W-1:0] rest_q;
  logic [W-1:0] quotient_q;
  logic [W:0]   shifted;
  logic         fits;
  assign idle    = !busy_q;
  assign shifted = {rest_q, quotient_q[W-1]};
  assign fits    = shifted >= {1'b0, trays_q};
  assign each    = quotient_q;
  assign left    = rest_q;
  always_ff @(posedge clk) begin
    done <= 1'b0;
    if (rst) begin
      busy_q <= 1'b0;
    end else if (!busy_q) begin
      if (start) begin
        busy_q     <= 1'b1;
        step_q     <= '0;
        trays_q    <= trays;
        rest_q     <= '0;
        quotient_q <= beads;
      end
    end else begin
      rest_q     <= W'(fits ? shifted - {1'b0, trays_q} : shifted);
      quotient_q <= {quotient_q[W-2:0], fits};
      step_q     <= step_q + 4'd1;
      if (step_q == 4'(W - 1)) begin
        busy_q <= 1'b0;
        done   <= 1'b1;
      end
    end
  end
endmodule
