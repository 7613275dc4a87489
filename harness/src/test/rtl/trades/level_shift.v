// Levels the beam of a balance, without a clock: a word turned to the left by some places, and the
// same word shifted up until its first one stands highest.
module level_shift
#( parameter width_g = 24 )
(
  input  wire [width_g-1:0] word_i,
  input  wire [4:0]         turn_i,     // 0 to width_g - 1
  output wire [width_g-1:0] turned_o,
  output wire [width_g-1:0] level_o,
  output wire [4:0]         places_o,   // how far it was shifted; width_g where there is no one
  output wire               empty_o
);
  // Five stages of the barrel: 16, 8, 4, 2, 1; the word comes round at its width.
  wire [2*width_g-1:0] ring_s  = {word_i, word_i};
  wire [2*width_g-1:0] ring4_s = turn_i[4] ? ring_s << 16 : ring_s;
  wire [2*width_g-1:0] ring3_s = turn_i[3] ? ring4_s << 8 : ring4_s;
  wire [2*width_g-1:0] ring2_s = turn_i[2] ? ring3_s << 4 : ring3_s;
  wire [2*width_g-1:0] ring1_s = turn_i[1] ? ring2_s << 2 : ring2_s;
  wire [2*width_g-1:0] ring0_s = turn_i[0] ? ring1_s << 1 : ring1_s;
  assign turned_o = ring0_s[2*width_g-1:width_g];

  // The same stages for the level, each taken where all bits that leave are zero.
  wire                 n4_s     = word_i[width_g-1:width_g-16] == 16'd0;
  wire [width_g-1:0]   level4_s = n4_s ? word_i << 16 : word_i;
  wire                 n3_s     = level4_s[width_g-1:width_g-8] == 8'd0;
  wire [width_g-1:0]   level3_s = n3_s ? level4_s << 8 : level4_s;
  wire                 n2_s     = level3_s[width_g-1:width_g-4] == 4'd0;
  wire [width_g-1:0]   level2_s = n2_s ? level3_s << 4 : level3_s;
  wire                 n1_s     = level2_s[width_g-1:width_g-2] == 2'd0;
  wire [width_g-1:0]   level1_s = n1_s ? level2_s << 2 : level2_s;
  wire                 n0_s     = level1_s[width_g-1] == 1'b0;
  wire [4:0]           count_s  = {n4_s, n3_s, n2_s, n1_s, n0_s};

  assign empty_o  = word_i == {width_g{1'b0}};
  assign level_o  = n0_s ? level1_s << 1 : level1_s;
  assign places_o = empty_o ? width_g[4:0] : count_s;
endmodule
