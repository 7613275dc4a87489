// The orrery's alarm panel: each alarm is one way for a model to end, or to try the timeout of
// whoever runs it. The tests of abnormal ends switch them on one by one.
module alarm_panel (
    input  logic        clk,
    input  logic [ 4:0] alarm,
    input  logic [31:0] amount,
    output logic [31:0] rung,
    output logic        flutter_seen
);
  // A combinational loop while alarm 16 is on.
  logic tail;
  assign tail = (alarm == 5'd16) ? !tail : 1'b0;
  assign flutter_seen = tail;

  logic [31:0] turns;

  always_ff @(posedge clk) begin
    rung <= rung + 32'd1;
    case (alarm)
      5'd1: $finish;
      5'd2: $stop;
      5'd3: $error("bell %0d is cracked", amount);
      5'd4: $fatal(1, "bell %0d fell down", amount);
      5'd5: assert (amount == 32'd0);
      5'd6: assert (amount == 32'd0) else $error("bell %0d rings", amount);
      5'd7: begin
        turns = 32'd1;
        while (turns != 32'd0) turns = (turns ^ amount) | 32'd1;
        rung <= turns;
      end
      5'd8: $display("ding %0d", amount);
      5'd9: rung <= $system("echo the museum is open");
      5'd10: for (int i = 0; i < 200000; i++) $display("dong %0d of %0d", i, amount);
      5'd11: begin
        $fdisplay(1, "to the first stream");
        $fdisplay(2, "to the second stream");
        $write("written ");
        $strobe("strobed");
      end
      5'd12: begin
        $display("before");
        $error("bell %0d is cracked", amount);
        $display("after");
      end
      5'd13: begin
        turns = 32'd0;
        while (turns != amount) turns = turns + 32'd1;
        rung <= turns;
      end
      5'd14: $warning("bell %0d is dusty", amount);
      default: ;
    endcase
  end
endmodule
