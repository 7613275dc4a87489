// Works out when to chime: eight registers of eight bits, an instruction a cycle while rst is low.
//
//   1rvv  r = vv                     4r0s  flag = r < s
//   2r0s  r = r - s                  50aa  to aa if flag
//   3raa  to aa if r is 0            60aa  to aa
//   0000  halt
module chime_cpu (
    input  wire        clk,
    input  wire        rst,
    input  wire        load,
    input  wire [ 4:0] load_at,
    input  wire [15:0] load_word,
    output reg         halted
);
  reg [15:0] code [0:31];
  reg [ 7:0] r [0:7];
  reg [ 4:0] pc;
  reg        flag;

  wire [15:0] word = code[pc];
  wire [ 7:0] a    = r[word[10:8]];
  wire [ 7:0] b    = r[word[2:0]];

  always @(posedge clk) if (load) code[load_at] <= load_word;

  always @(posedge clk)
    if (rst) begin
      pc     <= 5'd0;
      halted <= 1'b0;
    end else if (!halted) begin
      pc <= pc + 5'd1;
      case (word[15:12])
        4'd0: halted <= 1'b1;
        4'd1: r[word[10:8]] <= word[7:0];
        4'd2: r[word[10:8]] <= a - b;
        4'd3: if (a == 8'd0) pc <= word[4:0];
        4'd4: flag <= a < b;
        4'd5: if (flag) pc <= word[4:0];
        4'd6: pc <= word[4:0];
        default: ;
      endcase
    end
endmodule
