// Every kind of parameter, and names that C++ does not take as they are.
module dial #(
    parameter int Teeth = 48,
    parameter Offset = -5,
    parameter signed [7:0] Trim = -8'sd3,
    parameter logic [99:0] Epoch = 100'h8_0000_0000_0000_0000_0000_0001,
    parameter longint Far = -64'sd9_000_000_000,
    parameter Label = "noon",
    parameter string Motto = "say \"tick\"\\ \ttock",
    parameter Empty = "",
    parameter Magic = 32'h41424344,
    parameter real Ratio = 0.1,
    parameter real Distance = 6.02e23,
    parameter bit Lit = 1'b1,
    parameter Mask = 8'b1x0z_1010
) (
    input logic clk,
    input logic \rise+set ,
    input logic [Teeth/4-1:0] hand$angle,
    input logic \int ,
    input logic [1:0] \new ,
    input logic [2:0] sun__moon,
    input logic [3:0] \9th.ring[2] ,
    input logic class_,
    output logic [Teeth-1:0] mark
);
  typedef struct packed {
    logic [3:0] hour;
    logic signed [3:0] drift;
  } time_t;
  typedef enum logic [1:0] {DAWN, DUSK} part_t;

  localparam Twice = 2 * Teeth;
  localparam int Up[0:2] = '{1, 2, 3};
  localparam int Down[2:0] = '{1, 2, 3};
  localparam logic [3:0] Grid[0:1][1:0] = '{'{1, 2}, '{3, 4}};
  localparam logic [3:0] Filled[0:3] = '{1: 5, default: 7};
  localparam string Marks[0:1] = '{"I", "II"};
  localparam Joined = {"sun", 8'h20, "moon"};
  localparam time_t Start = '{hour: 3, drift: -1};
  localparam part_t Part = DUSK;
  localparam logic signed [127:0] Deep = -128'sd5;

  always_ff @(posedge clk)
    mark <= (\rise+set && \int ) ? Teeth'({hand$angle, \new , sun__moon, \9th.ring[2] , class_}) : '0;
endmodule
