// Dial of the orrery: adds a move to a long count and packs two short ones, without a clock.
//
//   in_count    s100.0  a count of more than one word
//   in_raw      u64.0   a count that fills its word
//   in_bus      bits 63:40 a signed move s24.0, bits 39:0 an unsigned fraction u0.40
//   out_count   s101.0  in_count + the move
//   out_raw     u64.0   in_raw + 1, wraps
//   out_bus     bits 23:0 the move again, bits 63:24 the fraction inverted
module dial (
    input logic signed [99:0] in_count,
    input logic        [63:0] in_raw,
    input logic        [63:0] in_bus,

    output logic signed [100:0] out_count,
    output logic        [ 63:0] out_raw,
    output logic        [ 63:0] out_bus
);
  logic signed [23:0] step;

  assign step      = $signed(in_bus[63:40]);
  assign out_count = 101'(in_count) + 101'(step);
  assign out_raw   = in_raw + 64'd1;
  assign out_bus   = {~in_bus[39:0], in_bus[63:40]};
endmodule
