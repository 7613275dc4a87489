// A cabinet of labels behind a bus: 32 words at addresses of their own, and 16 of another kind at
// one address, of which a register says which. Acknowledged a cycle after the strobe.
module label_cabinet (
    input  wire        clk,
    input  wire        rst,
    input  wire        sel,
    input  wire        we,
    input  wire [7:0]  adr,
    input  wire [15:0] wdat,
    output reg  [15:0] rdat,
    output reg         ack
);
  reg [3:0]  drawer;
  reg [11:0] labels [0:31];
  reg [15:0] notes [0:15];

  wire take = sel & ~ack;
  wire put  = take & we;
  wire [4:0] place = adr[4:0];

  always @(posedge clk) begin
    ack <= take & ~rst;
    if (rst) drawer <= 4'd0;
    else if (put && adr == 8'h04) drawer <= wdat[3:0];
    if (put && adr[7:5] == 3'd2) labels[place] <= wdat[11:0];
    if (put && adr == 8'h08) notes[drawer] <= wdat;
    if (take & ~we) begin
      if (adr == 8'h04) rdat <= {12'd0, drawer};
      else if (adr == 8'h08) rdat <= notes[drawer];
      else if (adr[7:5] == 3'd2) rdat <= {4'd0, labels[place]};
      else rdat <= 16'd0;
    end
  end
endmodule
