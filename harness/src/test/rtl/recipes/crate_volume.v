// Volume of a crate for the museum's store; length, width and height come one after the other.
module crate_volume (
    input  wire        clk,
    input  wire        rst,
    input  wire        v,
    input  wire [ 7:0] side,
    output reg         done,
    output reg  [23:0] volume
);
  reg [ 1:0] n;
  reg [15:0] area;

  always @(posedge clk) begin
    done <= 1'b0;
    if (rst) n <= 2'd0;
    else if (v)
      case (n)
        2'd0: begin
          area <= {8'd0, side};
          n    <= 2'd1;
        end
        2'd1: begin
          area <= area[7:0] * side;
          n    <= 2'd2;
        end
        default: begin
          volume <= area * side;
          done   <= 1'b1;
          n      <= 2'd0;
        end
      endcase
  end
endmodule
