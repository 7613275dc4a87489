// What keeps a value from one cycle to the next, and what only looks as if it did.
module shelf #(
    parameter int Depth = 4
) (
    input wire clk,
    input wire [7:0] d,
    output logic [7:0] q
);
  logic signed [7:0] slot[0:Depth-1];
  always_ff @(posedge clk) begin
    slot[d[1:0]] <= d;
    q <= slot[d[3:2]];
  end
endmodule

module archive (
    input wire clk,
    input wire [7:0] d,
    output reg [7:0] total,
    output logic [7:0] q[0:3]
);
  // Under an edge: by both kinds of assignment, through a task and a function, in part.
  logic [3:0] count;
  integer steps;
  logic [7:0] logged;
  logic [7:0] spent;
  logic [15:0] halves;
  struct packed {logic seen; logic [2:0] age;} entry;

  task automatic write(input logic [7:0] value, output logic [7:0] copy);
    logged <= value;
    copy = value;
  endtask

  function automatic logic [7:0] spend(input logic [7:0] value);
    logic [7:0] scratch;
    scratch = value + 8'd1;
    spent = scratch;
    return scratch;
  endfunction

  logic [7:0] copied;
  always @(posedge clk) begin : work
    logic [7:0] local_only;
    local_only = d;
    count <= count + 4'd1;
    steps = steps + 1;
    write(local_only, copied);
    total <= spend(d);
    {halves[15:8], entry.age} <= {d, 3'd1};
    entry.seen <= 1'b1;
  end

  // Memories: of two dimensions, filled from a file, filled by a loop.
  logic [15:0] sky[0:2][3:0];
  always @(posedge clk) sky[d[1:0]][d[3:2]] <= {d, d};
  logic [7:0] names[0:255];
  initial $readmemh("names.hex", names);
  logic [9:0] table_of_sines[0:15];
  integer i;
  initial for (i = 0; i < 16; i = i + 1) table_of_sines[i] = 10'(i * 3);

  // An array of wires is none, nor is an array of constants.
  logic [7:0] taps[0:1];
  assign taps[0] = d;
  assign taps[1] = names[d];
  localparam logic [7:0] Fixed[0:1] = '{8'd1, 8'd2};

  // Generate scopes, with and without a name, and an array of instances.
  for (genvar k = 0; k < 2; k++) begin : lane
    logic [7:0] stage;
    always_ff @(posedge clk) stage <= taps[k] + Fixed[k];
    if (k == 1) begin : deep
      shelf #(.Depth(8)) shelf (.clk(clk), .d(stage), .q(q[k]));
    end
  end
  if (1) begin
    shelf shelf (.clk(clk), .d(d), .q(q[0]));
  end
  wire [15:0] both;
  shelf pair[1:0] (.clk(clk), .d(d), .q(both));
  assign q[2] = both[7:0];
  assign q[3] = both[15:8];
endmodule
