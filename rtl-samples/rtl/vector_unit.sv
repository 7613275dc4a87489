// Purpose   sums of products along three axes, rounded once: what shading a pixel is made of
// Equation  along each axis: total = in_init + in_a in_b, summed over the operands from one with
//           in_first to the one with in_last (which may be the same), in_init taken with the first
//           value = total, or with in_sum that of all three axes; rounded = floor(value / 2^d + 1/2)
//           with d by in_drop, exact where d is below 0
// Ports     in_a, in_b, in_init  signed, A_W, W and A_W + W bits for each axis, x in the lowest
//           in_sum, in_drop      those with in_last count
//           out_word, out_unit   rounded, as the nearest of W and of DW bits
//           out_low              the low A_W bits of it: all of a share, a colour, a scalar product
//           out_positive         the value along x, or the sum, is above 0
//           Outputs mean something only while out_valid is high.
// Latency   7 from the operands with in_last, one a cycle; a cycle with reset drops all in flight
//
// A_W bits hold the difference of two words and a scalar product of two directions (light_pkg).

`default_nettype none
`include "assertions.svh"
`include "light_pkg.svh"

module vector_unit #(
    parameter int unsigned W   = 32,  // word bits, 10 to 32
    parameter int unsigned F   = 16,  // fraction bits, 0 to W-1
    parameter int unsigned DW  = 18,  // direction bits, 8 to W
    parameter int unsigned DF  = 16,  // direction fraction bits, 4 to DW-1
    parameter int unsigned A_W = 33   // bits of the first operand, W+1 or more
) (
    input logic clk,
    input logic rst,  // synchronous, active high

    // input stream
    input logic                    in_valid,
    input logic                    in_first,
    input logic                    in_last,
    input logic                    in_sum,
    input logic [             2:0] in_drop,
    input logic [       3*A_W-1:0] in_a,
    input logic [         3*W-1:0] in_b,
    input logic [   3*(A_W+W)-1:0] in_init,

    // output stream
    output logic             out_valid,
    output logic [  3*W-1:0] out_word,
    output logic [ 3*DW-1:0] out_unit,
    output logic [3*A_W-1:0] out_low,
    output logic             out_positive
);

  localparam int unsigned Latency = light_pkg::vector_latency();
  localparam int unsigned ProductW = A_W + W;
  localparam int unsigned TotalW = ProductW + 2;  // three terms, or three axes
  localparam int unsigned ValueW = TotalW + 32;  // and what a drop below 0 adds, at most 31
  localparam int ToUnit = 2 * F - DF;
  localparam int WordToUnit = F - DF;
  localparam int ToShare = 2 * DF - 16;

  if (W < 10 || W > 32) begin : g_word_range
    $error("vector_unit: W must be 10 to 32");
  end
  if (F > W - 1) begin : g_fraction_range
    $error("vector_unit: F must be 0 to W-1");
  end
  if (DW < 8 || DW > W) begin : g_direction_word_range
    $error("vector_unit: DW must be 8 to W");
  end
  if (DF < 4 || DF > DW - 1) begin : g_direction_fraction_range
    $error("vector_unit: DF must be 4 to DW-1");
  end
  if (A_W < W + 1) begin : g_operand_range
    $error("vector_unit: A_W must be at least W+1");
  end

  // Half of what is kept, to be added before; and what is kept.
  function automatic logic [ValueW-1:0] half_of(input int drop);
    half_of = drop > 0 ? ValueW'(1) << (drop - 1) : '0;
  endfunction
  function automatic logic signed [ValueW-1:0] kept_of(input logic signed [ValueW-1:0] value,
                                                       input int drop);
    kept_of = drop > 0 ? value >>> drop : value <<< -drop;
  endfunction

  // valid_q[k]: whether the values after k clocks are the last of a sum.
  logic [Latency:1] valid_q;
  always_ff @(posedge clk) begin
    if (rst) valid_q <= '0;
    else valid_q <= {valid_q[Latency-1:1], in_valid && in_last};
  end

  // Clock 1: operands. How the value is taken waits for it.
  logic       term_s3_q;
  logic       first_s3_q;
  logic       sum_s4_q;
  logic [1:0] term_s1_q;
  logic [1:0] term_s2_q;
  logic [3:0] how_s4_q;
  logic [2:0] drop_s5_q;
  logic [ValueW-1:0] half_s5_q;
  always_ff @(posedge clk) begin
    term_s1_q <= {in_valid, in_first};
    term_s2_q <= term_s1_q;
    {term_s3_q, first_s3_q} <= term_s2_q;
  end
  delay_line #(
      .WIDTH(4),
      .DEPTH(4)
  ) delay_how (
      .clk      (clk),
      .in_value ({in_sum, in_drop}),
      .out_value(how_s4_q)
  );
  assign sum_s4_q = how_s4_q[3];
  always_ff @(posedge clk) begin
    drop_s5_q <= how_s4_q[2:0];
    case (how_s4_q[2:0])
      light_pkg::DropWord:       half_s5_q <= half_of(F);
      light_pkg::DropDirection:  half_s5_q <= half_of(DF);
      light_pkg::DropToUnit:     half_s5_q <= half_of(ToUnit);
      light_pkg::DropWordToUnit: half_s5_q <= half_of(WordToUnit);
      light_pkg::DropToShare:    half_s5_q <= half_of(ToShare);
      light_pkg::DropShare:      half_s5_q <= half_of(16);
      light_pkg::DropColour:     half_s5_q <= half_of(8);
      default:                   half_s5_q <= '0;
    endcase
  end

  // Clocks 2 to 4: products, then totals.
  for (genvar k = 0; k < 3; k++) begin : axis
    logic        [     A_W-1:0] a_s1_q;
    logic        [       W-1:0] b_s1_q;
    logic        [ProductW-1:0] product_s3;
    logic signed [ProductW-1:0] init_s3_q;
    logic signed [  TotalW-1:0] total_s4_q;
    always_ff @(posedge clk) begin
      a_s1_q <= in_a[k*A_W+:A_W];
      b_s1_q <= in_b[k*W+:W];
    end
    split_multiply #(
        .A_W   (A_W),
        .B_W   (W),
        .SIGNED(1)
    ) multiply (
        .clk        (clk),
        .in_a       (a_s1_q),
        .in_b       (b_s1_q),
        .out_product(product_s3)
    );
    delay_line #(
        .WIDTH(ProductW),
        .DEPTH(3)
    ) delay_init (
        .clk      (clk),
        .in_value (in_init[k*ProductW+:ProductW]),
        .out_value(init_s3_q)
    );
    always_ff @(posedge clk) begin
      if (term_s3_q) begin
        total_s4_q <= (first_s3_q ? TotalW'(init_s3_q) : total_s4_q)
            + TotalW'($signed(product_s3));
      end
    end

    // Clock 5: value. It has 18 words and more of room above.
    logic signed [TotalW-1:0] value_s5_q;
    always_ff @(posedge clk) begin
      value_s5_q <= sum_s4_q
          ? axis[0].total_s4_q + axis[1].total_s4_q + axis[2].total_s4_q
          : total_s4_q;
    end

    // Clock 6: rounded.
    logic signed [ValueW-1:0] raised_s5;
    logic signed [ValueW-1:0] rounded_s6_q;
    assign raised_s5 = ValueW'(value_s5_q) + $signed(half_s5_q);
    always_ff @(posedge clk) begin
      case (drop_s5_q)
        light_pkg::DropWord:       rounded_s6_q <= kept_of(raised_s5, F);
        light_pkg::DropDirection:  rounded_s6_q <= kept_of(raised_s5, DF);
        light_pkg::DropToUnit:     rounded_s6_q <= kept_of(raised_s5, ToUnit);
        light_pkg::DropWordToUnit: rounded_s6_q <= kept_of(raised_s5, WordToUnit);
        light_pkg::DropToShare:    rounded_s6_q <= kept_of(raised_s5, ToShare);
        light_pkg::DropShare:      rounded_s6_q <= kept_of(raised_s5, 16);
        light_pkg::DropColour:     rounded_s6_q <= kept_of(raised_s5, 8);
        default:                   rounded_s6_q <= raised_s5;
      endcase
    end

    // Clock 7: within each format. A value fits where all bits above the kept ones are its sign.
    logic           negative;
    logic           word_fits;
    logic           unit_fits;
    logic [  W-1:0] word_s7_q;
    logic [ DW-1:0] unit_s7_q;
    logic [A_W-1:0] low_s7_q;
    assign negative  = rounded_s6_q[ValueW-1];
    assign word_fits = rounded_s6_q[ValueW-1:W-1] == {(ValueW - W + 1) {negative}};
    assign unit_fits = rounded_s6_q[ValueW-1:DW-1] == {(ValueW - DW + 1) {negative}};
    always_ff @(posedge clk) begin
      word_s7_q <= word_fits ? rounded_s6_q[W-1:0] : {negative, {(W - 1) {!negative}}};
      unit_s7_q <= unit_fits ? rounded_s6_q[DW-1:0] : {negative, {(DW - 1) {!negative}}};
      low_s7_q  <= rounded_s6_q[A_W-1:0];
    end
    assign out_word[k*W+:W]     = word_s7_q;
    assign out_unit[k*DW+:DW]   = unit_s7_q;
    assign out_low[k*A_W+:A_W]  = low_s7_q;
  end

  logic positive_s6_q;
  logic positive_s7_q;
  always_ff @(posedge clk) begin
    positive_s6_q <= axis[0].value_s5_q > 0;
    positive_s7_q <= positive_s6_q;
  end

  assign out_valid    = valid_q[Latency];
  assign out_positive = positive_s7_q;

  `LOW_AFTER_RESET(valids_low, valid_q)

endmodule

`default_nettype wire
