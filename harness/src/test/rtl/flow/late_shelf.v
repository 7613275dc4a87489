// A queue of eight whose words are read from a memory: what is taken stands there a cycle later.
module late_shelf (
    input  wire        mclk,
    input  wire        mclr,
    input  wire        wr_en,
    input  wire [8:0]  wr_data,
    output wire        full,
    input  wire        rd_en,
    output reg  [8:0]  rd_data,
    output wire        empty
);
  reg [8:0] mem [0:7];
  reg [3:0] wp, rp;

  assign full  = wp == {~rp[3], rp[2:0]};
  assign empty = wp == rp;

  always @(posedge mclk) begin
    if (mclr) begin
      wp <= 4'd0;
      rp <= 4'd0;
    end else begin
      if (wr_en & ~full) wp <= wp + 4'd1;
      if (rd_en & ~empty) rp <= rp + 4'd1;
    end
    if (wr_en & ~full) mem[wp[2:0]] <= wr_data;
    if (rd_en & ~empty) rd_data <= mem[rp[2:0]];
  end
endmodule
