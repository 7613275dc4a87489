// Counts the edges of two clocks, sun and moon, and hands values from one to the other.
module tides (
    input  logic        sun,
    input  logic        moon,
    input  logic        rst_n,
    input  logic [15:0] in_mark,

    output logic [15:0] sun_rises,
    output logic [15:0] sun_falls,
    output logic [15:0] moon_rises,
    output logic [15:0] moon_falls,
    output logic [15:0] moon_rises_seen,   // by the sun, at its rise
    output logic [15:0] mark_at_moonrise,
    output logic [15:0] mark_at_sunfall,
    output logic [15:0] since_reset
);
  always_ff @(posedge sun) begin
    sun_rises <= sun_rises + 16'd1;
    moon_rises_seen <= moon_rises;
  end

  always_ff @(negedge sun) begin
    sun_falls <= sun_falls + 16'd1;
    mark_at_sunfall <= in_mark;
  end

  always_ff @(posedge moon) begin
    moon_rises <= moon_rises + 16'd1;
    mark_at_moonrise <= in_mark;
  end

  always_ff @(negedge moon) moon_falls <= moon_falls + 16'd1;

  always_ff @(posedge sun or negedge rst_n) begin
    if (!rst_n) since_reset <= 16'd0;
    else since_reset <= since_reset + 16'd1;
  end
endmodule
