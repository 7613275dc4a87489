// Eight labels at most wait here for the display; the oldest one stands on q.
module label_queue (
    input  wire       clk,
    input  wire       rst,
    input  wire       put,
    input  wire [8:0] d,
    output wire       full,
    input  wire       get,
    output wire [8:0] q,
    output wire       empty
);
  reg [8:0] place [0:7];
  reg [3:0] head, tail;

  assign empty = head == tail;
  assign full  = head == {~tail[3], tail[2:0]};
  assign q     = place[tail[2:0]];

  always @(posedge clk) begin
    if (put & ~full) place[head[2:0]] <= d;
    if (rst) begin
      head <= 4'd0;
      tail <= 4'd0;
    end else begin
      if (put & ~full) head <= head + 4'd1;
      if (get & ~empty) tail <= tail + 4'd1;
    end
  end
endmodule
