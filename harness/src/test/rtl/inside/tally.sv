// Two products of numbers with signs, one after the other through one multiplier of sizes; 0 at
// once where the first number is the lowest.
module tally (
    input  logic               clk,
    input  logic               rst,
    input  logic               start,
    output logic               idle,
    input  logic signed [ 7:0] a0,
    input  logic signed [ 7:0] b0,
    input  logic signed [ 7:0] a1,
    input  logic signed [ 7:0] b1,
    output logic               done,
    output logic signed [16:0] total
);
  typedef enum logic [1:0] {
    StateIdle,
    StateFirst,
    StateSecond
  } state_e;
  state_e             state_q;
  logic signed [ 7:0] a0_q;
  logic signed [ 7:0] b0_q;
  logic signed [ 7:0] a1_q;
  logic signed [ 7:0] b1_q;
  logic signed [ 7:0] a;
  logic signed [ 7:0] b;
  logic               same;
  logic        [16:0] product;
  logic signed [16:0] sum_q;
  logic signed [16:0] total_q;
  logic               taken;
  assign idle    = state_q == StateIdle;
  assign taken   = start && idle;
  assign a       = state_q == StateFirst ? a0_q : a1_q;
  assign b       = state_q == StateFirst ? b0_q : b1_q;
  assign same    = (a >= 0) == (b >= 0);
  assign product = (a >= 0 ? 17'(a) : -17'(a)) * (b >= 0 ? 17'(b) : -17'(b));
  assign total   = total_q;
  always_ff @(posedge clk) begin
    done <= 1'b0;
    if (rst) begin
      state_q <= StateIdle;
    end else begin
      case (state_q)
        StateIdle: begin
          if (start) begin
            state_q <= a0 == -8'sd128 ? StateIdle : StateFirst;
            done    <= a0 == -8'sd128;
          end
        end
        StateFirst: state_q <= StateSecond;
        default: begin
          state_q <= StateIdle;
          done    <= 1'b1;
        end
      endcase
    end
    if (taken) begin
      {a0_q, b0_q, a1_q, b1_q} <= {a0, b0, a1, b1};
      sum_q                    <= '0;
    end else if (!idle) begin
      sum_q <= same ? sum_q + $signed(product) : sum_q - $signed(product);
    end
    if (taken) total_q <= '0;
    else if (state_q == StateSecond) begin
      total_q <= same ? sum_q + $signed(product) : sum_q - $signed(product);
    end
  end
endmodule
