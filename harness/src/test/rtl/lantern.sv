// Interfaces that are made in arrays and generate scopes, and that hold registers themselves.
interface wick #(
    parameter int Width = 4
) (
    input logic tick
);
  logic [Width-1:0] level;
endinterface

module flame (
    wick w
);
  always_ff @(posedge w.tick) w.level <= w.level + 1'b1;
endmodule

module lantern (
    input logic left,
    input logic right,
    input logic [1:0] unused,
    input logic alone
);
  // Of the row, the element 5 takes the left clock, the element 4 the right one, upside down.
  wick #(.Width(6)) row[5:4] (.tick({left, ~right}));
  flame high (.w(row[5]));
  flame low (.w(row[4]));

  for (genvar k = 0; k < 2; k++) begin : post
    wick single (.tick(alone));
    flame flame (.w(single));
  end
endmodule
