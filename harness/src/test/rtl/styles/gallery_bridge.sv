// Counts of visitors from the door's clock to the gallery's: a queue of eight places whose
// pointers cross in Gray code through two registers.
module gallery_bridge (
    input  logic        door_clk,
    input  logic        door_rst,
    input  logic        door_valid,
    output logic        door_ready,
    input  logic [11:0] door_count,
    input  logic        gallery_clk,
    input  logic        gallery_rst,
    output logic        gallery_valid,
    input  logic        gallery_ready,
    output logic [11:0] gallery_count
);
  function automatic logic [3:0] gray(input logic [3:0] binary);
    gray = binary ^ (binary >> 1);
  endfunction
  logic [11:0] places[8];
  logic [ 3:0] write_q, write_gray_q, write_seen1_q, write_seen_q;
  logic [ 3:0] read_q, read_gray_q, read_seen1_q, read_seen_q;
  logic        writes, reads;
  assign door_ready    = write_gray_q != (read_seen_q ^ 4'b1100);
  assign writes        = door_valid && door_ready;
  assign gallery_valid = read_gray_q != write_seen_q;
  assign reads         = gallery_valid && gallery_ready;
  assign gallery_count = places[read_q[2:0]];
  always_ff @(posedge door_clk) begin
    {read_seen_q, read_seen1_q} <= {read_seen1_q, read_gray_q};
    if (writes) places[write_q[2:0]] <= door_count;
    if (door_rst) begin
      write_q      <= '0;
      write_gray_q <= '0;
      {read_seen_q, read_seen1_q} <= '0;
    end else if (writes) begin
      write_q      <= write_q + 4'd1;
      write_gray_q <= gray(write_q + 4'd1);
    end
  end
  always_ff @(posedge gallery_clk) begin
    {write_seen_q, write_seen1_q} <= {write_seen1_q, write_gray_q};
    if (gallery_rst) begin
      read_q      <= '0;
      read_gray_q <= '0;
      {write_seen_q, write_seen1_q} <= '0;
    end else if (reads) begin
      read_q      <= read_q + 4'd1;
      read_gray_q <= gray(read_q + 4'd1);
    end
  end
endmodule
