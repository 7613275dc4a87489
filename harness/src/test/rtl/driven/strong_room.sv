// The museum's strong room, whose clock calls C functions and code of its own: each order is one way
// to end or to stop the process that the model lives in. The tests of isolated models give them.
class Chest;
  virtual function int open(int depth);
    return 1;
  endfunction
endclass

class Nested extends Chest;
  Chest next;
  virtual function int open(int depth);
    return next.open(depth + 1) + depth;
  endfunction
endclass

module strong_room (
    input  logic        clk,
    input  logic [ 3:0] order,
    input  logic [31:0] amount,
    output logic [31:0] counted,
    output logic [31:0] weighed
);
  import "DPI-C" function int weigh(input int amount);

  int letters, letter;
  Nested chest;

  always_ff @(posedge clk) begin
    counted <= counted + 32'd1;
    weighed <= weigh(amount);
    case (order)
      4'd1: $c("std::abort();");
      4'd2: $c("for (volatile int i = 0;; i = i + 1) {}");
      4'd3: $c("*(volatile int*)16 = 1;");
      4'd4: $c("std::exit(3);");
      4'd5: begin
        chest = new;
        chest.next = chest;
        counted <= chest.open(0);
      end
      4'd6: begin
        letters = $fopen("target/strong_room.fifo", "r");
        letter = $fgetc(letters);
        counted <= letter;
      end
      4'd7: while (amount != 32'd0) counted <= 32'd7;
      4'd8: $display("the door says %0d", amount);
      default: ;
    endcase
  end
endmodule
