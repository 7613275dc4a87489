// The museum's visitor book, which each order makes longer without end.
module visitor_book (
    input  logic       clk,
    input  logic [1:0] order,
    output int         length
);
  string line;
  int pages[$];
  int year[int];

  initial line = "a name";

  always_ff @(posedge clk) begin
    case (order)
      2'd1: begin
        line = {line, line};
        length <= line.len();
      end
      2'd2: begin
        while (pages.size() >= 0) pages.push_back(pages.size());
        length <= pages[3];
      end
      2'd3: begin
        for (int i = 0; i >= 0; i++) year[i] = i;
        length <= year[3];
      end
      default: length <= line.len() + pages.size() + year.num();
    endcase
  end
endmodule
