// No clock; pads that are driven now and then; declarations in another order than the port list.
module pads (sum, pad, d, one, drive, back);
  input drive;
  inout [7:0] pad;
  output [7:0] back;
  input [7:0] d;
  inout one;
  output [8:0] sum;

  assign pad = drive ? d : 8'bz;
  assign one = d[0] ? 1'b1 : 1'bz;
  assign back = pad;
  assign sum = pad + d;
endmodule
