`include "nowhere.svh"
module lost_include (
    input wire x
);
endmodule
