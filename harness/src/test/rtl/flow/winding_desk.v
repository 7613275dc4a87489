// The desk from which the orrery is wound: a strobe for reads and one for writes, nothing that
// acknowledges, what is read a cycle later. A write of spring or torque while it winds is bad.
module winding_desk (
    input             ck,
    input             clear,      // synchronous, active high
    input             rd,
    input             wr,
    input      [4:0]  place,
    input      [23:0] put,
    output reg [23:0] got,
    output            bad,
    input             winding,
    input      [11:0] turns,
    input             bell,       // rings
    input             slip,       // the spring slipped
    output            release_now
);
  localparam [4:0] MAKER = 5'd0, STATE = 5'd1, RINGS = 5'd2, LEVER = 5'd3, SPRING = 5'd8,
                   TORQUE = 5'd9, NOTE = 5'd31;

  reg [23:0] bank [0:2];  // spring, torque, note
  reg        rung, slipped;

  function [1:0] drawer(input [4:0] of);
    drawer = of == SPRING ? 2'd0 : of == TORQUE ? 2'd1 : of == NOTE ? 2'd2 : 2'd3;
  endfunction

  wire       locked = winding && (place == SPRING || place == TORQUE);
  wire       may_rd = place == MAKER || place == STATE || place == RINGS || drawer(place) != 2'd3;
  wire       may_wr = place == LEVER || place == RINGS || (drawer(place) != 2'd3 && !locked);
  wire       write  = wr && may_wr;
  assign bad         = (rd && !may_rd) || (wr && !may_wr);
  assign release_now = write && place == LEVER && put[4];

  always @(posedge ck) begin
    if (write && drawer(place) != 2'd3) bank[drawer(place)] <= put;
    if (bell) rung <= 1'b1;
    else if (write && place == RINGS && put[0]) rung <= 1'b0;
    if (slip) slipped <= 1'b1;
    else if (write && place == RINGS && put[7]) slipped <= 1'b0;
    if (clear) begin
      rung    <= 1'b0;
      slipped <= 1'b0;
      bank[0] <= 24'd0;
      bank[1] <= 24'h0A0000;
      bank[2] <= 24'd0;
    end
    case (place)
      MAKER:   got <= 24'h4F5259;
      STATE:   got <= {turns, 11'd0, ~winding};
      RINGS:   got <= {16'd0, slipped, 6'd0, rung};
      SPRING:  got <= bank[0];
      TORQUE:  got <= {4'd0, bank[1][19:16], 16'd0};
      default: got <= bank[2];
    endcase
  end
endmodule
