// Two reels of 1600 bits, one behind the other; an assertion looks at the ends of each.
module clock_reel (
    input  logic       clk,
    input  logic       rst,
    input  logic [7:0] in_note,
    output logic [7:0] out_note
);
  localparam int unsigned Reels = 2;
  logic [7:0] notes[Reels+1];
  assign notes[0] = in_note;
  assign out_note = notes[Reels];
  for (genvar k = 0; k < Reels; k++) begin : g_reel
    logic [1599:0] tape;
    logic [1599:0] tape_q;
    assign tape = {tape_q[1591:0], notes[k]} & ~1600'({3{rst}});
    always_ff @(posedge clk) tape_q <= tape;
    assign notes[k+1] = tape_q[1599-:8];
    no_alarm : assert property (@(posedge clk) disable iff (rst)
        tape[1599-:8] != 8'hA5 || tape[800+:8] != 8'h5A);
  end
endmodule
