// Ports of every shape that words can carry; each output is a registered mixture of inputs.
package shapes_types;
  typedef enum logic [2:0] {IDLE = 3'd0, MOVE = 3'd3, HALT = 3'd5} state_t;
  typedef struct packed {logic [7:0] x; logic signed [15:0] y; state_t state;} point_t;
endpackage

module shapes (
  input  logic                  clk,
  input  shapes_types::point_t  point,
  input  logic signed [4:0]     narrow,
  input  logic [69:0]           ascending [0:1],
  input  logic [8:0]            descending [3:2],
  input  logic [3:0]            grid [0:1][2:0],
  input  logic [128:0]          wide,
  input  logic [63:0]           \word.64 ,
  input  int                    count,

  output shapes_types::point_t  moved,
  output logic signed [39:0]    extended,
  output logic [69:0]           swapped [1:0],
  output logic [8:0]            shifted [2:3],
  output logic [3:0]            turned [2:0][0:1],
  output logic [199:0]          mixed,
  output logic [63:0]           \sum[64] ,
  output longint                  product
);
  always_ff @(posedge clk) begin
    moved.x <= point.x + 8'd1;
    moved.y <= -point.y;
    moved.state <= point.state == shapes_types::MOVE ? shapes_types::HALT : point.state;
    extended <= 40'(narrow);
    for (int i = 0; i < 2; i++) begin
      swapped[i] <= ascending[1-i] ^ 70'(i * 3);
      shifted[i+2] <= descending[i+2] + 9'(i);
      for (int j = 0; j < 3; j++) turned[j][i] <= grid[i][j] + 4'(i * 3 + j);
    end
    mixed <= {71'd0, wide} * 200'd5;
    \sum[64] <= \word.64 + 64'(count);
    product <= 64'(count) * 64'(narrow);
  end
endmodule
