// Purpose   stands for an executor that shows little: whether a ray hit something, and how far away
// Ports     other names than scene_executor's; no operations, no counters, no start, no limit
// Timing    none promised: a result is a pulse that nobody can hold back, a while after it was found

module ray_caster #(
    parameter int unsigned WORD = 12,
    parameter int unsigned UNIT = 10
) (
    input logic clk,
    input logic clear,

    input logic                 write,
    input logic [          4:0] write_place,
    input logic [24+6*WORD-1:0] write_code,

    input  logic                   go,
    output logic                   free,
    input  logic signed [WORD-1:0] from_x,
    input  logic signed [WORD-1:0] from_y,
    input  logic signed [WORD-1:0] from_z,
    input  logic signed [UNIT-1:0] along_x,
    input  logic signed [UNIT-1:0] along_y,
    input  logic signed [UNIT-1:0] along_z,
    input  logic signed [WORD-1:0] over_x,
    input  logic signed [WORD-1:0] over_y,
    input  logic signed [WORD-1:0] over_z,
    input  logic                   flat_x,
    input  logic                   flat_y,
    input  logic                   flat_z,

    output logic                   done,
    output logic                   struck,
    output logic signed [WORD-1:0] reach
);

  logic                   found;
  logic                   hit;
  logic signed [WORD-1:0] distance;
  scene_executor #(
      .W (WORD),
      .F (6),
      .DW(UNIT),
      .DF(8),
      .C (2),
      .S (2),
      .A (5),
      .P (1),
      .Q (8)
  ) executor (
      .clk            (clk),
      .rst            (clear),
      .load_valid     (write),
      .load_address   (write_place),
      .load_word      (write_code),
      .surface_read   (1'b0),
      .surface_address('0),
      .ray_valid      (go),
      .ray_ready      (free),
      .ray_origin_x   (from_x),
      .ray_origin_y   (from_y),
      .ray_origin_z   (from_z),
      .ray_direction_x(along_x),
      .ray_direction_y(along_y),
      .ray_direction_z(along_z),
      .ray_inverse_x  (over_x),
      .ray_inverse_y  (over_y),
      .ray_inverse_z  (over_z),
      .ray_parallel_x (flat_x),
      .ray_parallel_y (flat_y),
      .ray_parallel_z (flat_z),
      .ray_start      ('0),
      .ray_limit      ({1'b0, {(WORD - 1) {1'b1}}}),
      .ray_any_hit    (1'b0),
      .ray_tag        ('0),
      .ray_abort      (1'b0),
      .result_valid   (found),
      .result_ready   (1'b1),
      .result_hit     (hit),
      .result_distance(distance)
  );

  // A few cycles late, more of them for what is far away.
  logic [3:0] wait_q;
  logic       found_q;
  always_ff @(posedge clk) begin
    done <= 1'b0;
    if (found) begin
      found_q <= 1'b1;
      wait_q  <= distance[3:0];
      struck  <= hit;
      reach   <= distance;
    end else if (found_q && wait_q == '0) begin
      found_q <= 1'b0;
      done    <= 1'b1;
    end else begin
      wait_q <= wait_q - 4'd1;
    end
    if (clear) begin
      found_q <= 1'b0;
      done    <= 1'b0;
    end
  end

endmodule
