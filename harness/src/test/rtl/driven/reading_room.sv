// The museum's reading room, where names and numbers of files, texts and switches are anything at
// all: each order is one that Verilator's run-time library would not survive by itself.
module reading_room (
    input  logic        clk,
    input  logic [ 3:0] order,
    input  logic [31:0] number,
    output logic [31:0] given,
    output logic [31:0] depth
);
  logic [79999:0] name;
  string letter;
  logic [127:0] word;
  logic [7:0] shelf[0:3];
  int opened, descriptor;

  initial begin
    name   = {10000{"n"}};
    letter = "aaaaaaaa";
    for (int i = 0; i < 14; i++) letter = {letter, letter};
  end

  always_ff @(posedge clk) begin
    given <= 32'd0;
    descriptor = number;
    case (order)
      4'd1: $fclose(descriptor);
      4'd2: $fwrite(descriptor, "to nobody");
      4'd3: begin
        opened = $fopen(name, "r");
        given <= opened;
      end
      4'd4: $readmemh(name, shelf);
      4'd5: given <= $sscanf(letter, "%s", word);
      4'd6: begin
        opened = $fopen("target/reading_room.fifo", "w");
        given <= opened;
      end
      4'd7: $readmemh("target/reading_room.fifo", shelf);
      4'd8: given <= $test$plusargs("quiet") ? 32'd1 : 32'd2;
      4'd9: given <= $value$plusargs("depth=%d", depth) ? 32'd1 : 32'd2;
      4'd11: given <= $ftell(descriptor);
      4'd12: given <= $fseek(descriptor, 0, 0);
      4'd13: $fflush(descriptor);
      default: ;
    endcase
  end
endmodule
