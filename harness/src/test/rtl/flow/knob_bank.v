// The registers behind the knobs of a display. Each transfer is acknowledged a cycle after its
// strobe; reads come from a register.
module knob_bank (
    input  wire        hclk,
    input  wire        hrst_n,
    input  wire        sel,
    input  wire        we,
    input  wire [7:0]  adr,
    input  wire [15:0] wdat,
    output reg  [15:0] rdat,
    output reg         ack,
    input  wire        overheat
);
  reg [2:0]  speed;
  reg        lamp;
  reg [15:0] limit;
  reg        hot;
  reg [7:0]  gain;

  wire take = sel & ~ack;
  wire put  = take & we;

  always @(posedge hclk or negedge hrst_n)
    if (!hrst_n) begin
      ack   <= 1'b0;
      speed <= 3'd5;
      lamp  <= 1'b0;
      limit <= 16'h1234;
      hot   <= 1'b0;
      gain  <= 8'h40;
    end else begin
      ack <= take;
      if (put && adr == 8'h04) begin
        speed <= wdat[2:0];
        lamp  <= wdat[8];
      end
      if (put && adr == 8'h08) limit <= wdat;
      if (put && adr == 8'h0c && wdat[0]) hot <= 1'b0;
      if (overheat) hot <= 1'b1;
      if (put && (adr == 8'h10 || adr == 8'h50)) gain <= wdat[7:0];
    end

  always @(posedge hclk)
    if (take & ~we)
      case (adr)
        8'h00: rdat <= 16'h0a51;
        8'h04: rdat <= {7'd0, lamp, 5'd0, speed};
        8'h08: rdat <= limit;
        8'h0c: rdat <= {15'd0, hot};
        8'h10, 8'h50: rdat <= {8'd0, gain};
        default: rdat <= 16'd0;
      endcase
endmodule
