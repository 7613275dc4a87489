// Interfaces among the ports of the top.
interface beam;
  logic [3:0] level;
  modport far(input level);
endinterface

module interface_port (
    beam.far light,
    beam lamp,
    input logic fine
);
endmodule
