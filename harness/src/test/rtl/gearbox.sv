// Clocks and asynchronous resets on every way from a port to a sensitivity list.
module tooth (
    input wire c,
    input wire d,
    output reg q
);
  always @(posedge c) q <= d;
endmodule

module pawl (
    input wire clk,
    input wire rst_n,
    input wire [3:0] d,
    output logic [3:0] q
);
  always_ff @(posedge clk or negedge rst_n)
    if (!rst_n) q <= '0;
    else q <= d;
endmodule

// A clock gate with the latch that keeps it free of glitches.
module clutch (
    input wire clk,
    input wire enable,
    input wire test,
    output wire gated
);
  logic held;
  always_latch if (!clk) held = enable | test;
  assign gated = clk & held;
endmodule

// Passes its input on, upside down.
module flip (
    input wire in,
    output wire out
);
  assign out = !in;
endmodule

module gearbox (
    input wire clk,
    input wire falling,
    input wire inverted,
    input wire twice,
    input wire both,
    input wire either,
    input wire pick0,
    input wire pick1,
    input wire row0,
    input wire row1,
    input wire checked,
    input wire enable,
    input wire test,
    input wire spare,
    input wire select,
    input wire [1:0] vector,
    input wire rst_n,
    input wire set,
    input wire wired,
    input wire any_a,
    input wire any_b,
    input wire gentle,
    input wire open,
    input wire data,
    input wire [3:0] nibble,
    output logic [3:0] out[0:3],
    output wire [13:0] q
);
  // An alias, and a register under it with a reset that is only synchronous.
  wire alias_clk;
  assign alias_clk = clk;
  reg slow;
  always @(posedge alias_clk)
    if (gentle) slow <= 1'b0;
    else slow <= !slow;

  // A divided clock is no port.
  tooth divided (.c(slow), .d(data), .q(q[0]));

  reg fell;
  always @(negedge falling) fell <= data;

  // Inversions: in a connection, and through two instances.
  tooth turned (.c(~inverted), .d(data), .q(q[1]));
  wire once, again;
  flip first (.in(twice), .out(once));
  flip second (.in(once), .out(again));
  tooth unturned (.c(again), .d(data), .q(q[2]));

  // Both edges: from two blocks, and from one.
  reg rose, sank, moved;
  always @(posedge both) rose <= data;
  always @(negedge both) sank <= data;
  always @(edge either) moved <= data;

  // Bits of a vector that is made of ports, and an array of instances that takes one apart.
  wire [11:0] picks = {pick1, 10'd0, pick0};
  tooth picked (.c(picks[11]), .d(data), .q(q[3]));
  generate
    if (1) begin : other
      tooth picked (.c(~picks[0]), .d(data), .q(q[4]));
    end
  endgenerate
  wire [2:0] rows = {row1, 1'b0, row0};
  tooth row[2:0] (.c(rows), .d(data), .q(q[7:5]));

  // A bit of a port wider than one is not a clock that can be named.
  tooth ofVector (.c(vector[0]), .d(data), .q(q[8]));

  // Gates and switches: what else goes into them is no clock as long as something known does.
  wire gated;
  clutch clutch (.clk(clk), .enable(enable), .test(test), .gated(gated));
  tooth driven (.c(gated), .d(data), .q(q[9]));
  logic switched;
  always_comb
    case (select)
      1'b0: switched = clk;
      default: switched = spare;
    endcase
  tooth behind (.c(switched), .d(data), .q(q[10]));

  // Resets: direct, through the hierarchy, inverted, the second of a chain, either of two.
  pawl straight (.clk(clk), .rst_n(rst_n), .d(nibble), .q(out[0]));
  pawl crossed (.clk(clk), .rst_n(~wired), .d(nibble), .q(out[1]));
  always @(posedge clk or negedge rst_n or posedge set) begin : chain
    if (!rst_n) out[2] <= 4'd0;
    else if (set) out[2] <= 4'd15;
    else begin
      out[2] <= nibble;
    end
  end
  wire any = any_a | any_b;
  reg one_bit;
  always_ff @(posedge any, posedge clk)
    if (any) one_bit <= 1'b0;
    else one_bit <= data;

  // A latch and plain logic are neither.
  logic through;
  always @(open or data) if (open) through <= data;
  always @* out[3] = {through, fell, rose ^ sank, moved};

  assert property (@(posedge checked) data |-> enable);

  assign q[13:11] = {one_bit, slow, data};
endmodule
