// The museum's night watch writes down, reads, draws and forgets: what touches files, text, random
// numbers and the state before any reset. Each order is one of these; the tests give them.
module night_watch (
    input  logic        clk,
    input  logic        rst,
    input  logic [ 3:0] order,
    input  logic [31:0] who,
    input  logic [ 4:0] place,

    output logic [31:0] drawn,
    output logic [39:0] left,    // never reset
    output logic [ 9:0] shown,   // from a memory that is never reset
    output logic [ 7:0] rounds   // reset
);
  logic [9:0] shelf[0:31];
  logic [31:0] number;
  logic [1:0] at_dawn;
  int book;

  assign shown = shelf[place];

  initial at_dawn = 2'd0;

  always_ff @(posedge clk) begin
    rounds <= rst ? 8'd0 : rounds + 8'd1;
    case (order)
      4'd1: begin
        number = $random;
        drawn <= number;
        $display("%0d drew %h", who, number);
      end
      4'd2: $readmemh("src/test/rtl/driven/nobody_wrote_this.hex", shelf);
      4'd3: $readmemh("src/test/rtl/driven/night_watch.hex", shelf);
      4'd4: $readmemh("src/test/rtl/driven/night_watch.sv", shelf);
      4'd5: book = $fopen($sformatf("target/night_watch_%0d.txt", who), "w");
      4'd6: $fdisplay(book, "all is quiet, says %0d", who);
      4'd7: at_dawn = 2'd1;
      4'd8: at_dawn = 2'd2;
      4'd9: $fclose(book);
      4'd10: at_dawn = 2'd3;
      4'd11: left <= {who[7:0], who};
      default: ;
    endcase
  end

  final begin
    if (at_dawn == 2'd1) while (at_dawn != 2'd0) at_dawn = at_dawn | 2'd1;
    if (at_dawn == 2'd2) $finish;
    if (at_dawn == 2'd3) $fatal(1, "the lamp is still on");
  end
endmodule
