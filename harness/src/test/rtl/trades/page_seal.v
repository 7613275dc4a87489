// Seal of a ledger's page: SHA-256 (FIPS 180-4) of 32 bytes, a round a cycle.
// The page is padded here: a one, zeros, and its length of 256 bits.
module PAGE_SEAL (
  input  wire         CLK_I,
  input  wire         ARST_N_I,
  input  wire         PAGE_STB_I,
  output wire         PAGE_RDY_O,
  input  wire [255:0] PAGE_I,
  output wire         SEAL_STB_O,
  input  wire         SEAL_RDY_I,
  output wire [255:0] SEAL_O
);
  localparam [255:0] FIRST = {
    32'h6a09e667, 32'hbb67ae85, 32'h3c6ef372, 32'ha54ff53a,
    32'h510e527f, 32'h9b05688c, 32'h1f83d9ab, 32'h5be0cd19};

  function [31:0] ROTR(input [31:0] x, input [4:0] n);
    ROTR = (x >> n) | (x << (6'd32 - {1'b0, n}));
  endfunction

  reg          RUN_R, HAVE_R;
  reg  [5:0]   ROUND_R;
  reg  [511:0] W_R;       // the next sixteen words of the schedule, the first highest
  reg  [255:0] S_R;       // a to h
  reg  [31:0]  k;

  wire [31:0] a = S_R[255:224], b = S_R[223:192], c = S_R[191:160], d = S_R[159:128];
  wire [31:0] e = S_R[127:96],  f = S_R[95:64],   g = S_R[63:32],   h = S_R[31:0];

  wire [31:0] w0 = W_R[511:480], w1 = W_R[479:448], w9 = W_R[223:192], w14 = W_R[63:32];

  wire [31:0] BIG_1 = ROTR(e, 5'd6) ^ ROTR(e, 5'd11) ^ ROTR(e, 5'd25);
  wire [31:0] BIG_0 = ROTR(a, 5'd2) ^ ROTR(a, 5'd13) ^ ROTR(a, 5'd22);
  wire [31:0] CH    = (e & f) ^ (~e & g);
  wire [31:0] MAJ   = (a & b) ^ (a & c) ^ (b & c);
  wire [31:0] T1    = h + BIG_1 + CH + k + w0;
  wire [31:0] T2    = BIG_0 + MAJ;

  wire [31:0] SMALL_0 = ROTR(w1, 5'd7) ^ ROTR(w1, 5'd18) ^ (w1 >> 3);
  wire [31:0] SMALL_1 = ROTR(w14, 5'd17) ^ ROTR(w14, 5'd19) ^ (w14 >> 10);
  wire [31:0] W16     = SMALL_1 + w9 + SMALL_0 + w0;

  always @*
    case (ROUND_R)
      6'd0 : k = 32'h428a2f98; 6'd1 : k = 32'h71374491; 6'd2 : k = 32'hb5c0fbcf;
      6'd3 : k = 32'he9b5dba5; 6'd4 : k = 32'h3956c25b; 6'd5 : k = 32'h59f111f1;
      6'd6 : k = 32'h923f82a4; 6'd7 : k = 32'hab1c5ed5; 6'd8 : k = 32'hd807aa98;
      6'd9 : k = 32'h12835b01; 6'd10: k = 32'h243185be; 6'd11: k = 32'h550c7dc3;
      6'd12: k = 32'h72be5d74; 6'd13: k = 32'h80deb1fe; 6'd14: k = 32'h9bdc06a7;
      6'd15: k = 32'hc19bf174; 6'd16: k = 32'he49b69c1; 6'd17: k = 32'hefbe4786;
      6'd18: k = 32'h0fc19dc6; 6'd19: k = 32'h240ca1cc; 6'd20: k = 32'h2de92c6f;
      6'd21: k = 32'h4a7484aa; 6'd22: k = 32'h5cb0a9dc; 6'd23: k = 32'h76f988da;
      6'd24: k = 32'h983e5152; 6'd25: k = 32'ha831c66d; 6'd26: k = 32'hb00327c8;
      6'd27: k = 32'hbf597fc7; 6'd28: k = 32'hc6e00bf3; 6'd29: k = 32'hd5a79147;
      6'd30: k = 32'h06ca6351; 6'd31: k = 32'h14292967; 6'd32: k = 32'h27b70a85;
      6'd33: k = 32'h2e1b2138; 6'd34: k = 32'h4d2c6dfc; 6'd35: k = 32'h53380d13;
      6'd36: k = 32'h650a7354; 6'd37: k = 32'h766a0abb; 6'd38: k = 32'h81c2c92e;
      6'd39: k = 32'h92722c85; 6'd40: k = 32'ha2bfe8a1; 6'd41: k = 32'ha81a664b;
      6'd42: k = 32'hc24b8b70; 6'd43: k = 32'hc76c51a3; 6'd44: k = 32'hd192e819;
      6'd45: k = 32'hd6990624; 6'd46: k = 32'hf40e3585; 6'd47: k = 32'h106aa070;
      6'd48: k = 32'h19a4c116; 6'd49: k = 32'h1e376c08; 6'd50: k = 32'h2748774c;
      6'd51: k = 32'h34b0bcb5; 6'd52: k = 32'h391c0cb3; 6'd53: k = 32'h4ed8aa4a;
      6'd54: k = 32'h5b9cca4f; 6'd55: k = 32'h682e6ff3; 6'd56: k = 32'h748f82ee;
      6'd57: k = 32'h78a5636f; 6'd58: k = 32'h84c87814; 6'd59: k = 32'h8cc70208;
      6'd60: k = 32'h90befffa; 6'd61: k = 32'ha4506ceb; 6'd62: k = 32'hbef9a3f7;
      default: k = 32'hc67178f2;
    endcase

  assign PAGE_RDY_O = ~RUN_R & ~HAVE_R;
  assign SEAL_STB_O = HAVE_R;
  assign SEAL_O = {
    S_R[255:224] + FIRST[255:224], S_R[223:192] + FIRST[223:192],
    S_R[191:160] + FIRST[191:160], S_R[159:128] + FIRST[159:128],
    S_R[127:96] + FIRST[127:96],   S_R[95:64] + FIRST[95:64],
    S_R[63:32] + FIRST[63:32],     S_R[31:0] + FIRST[31:0]};

  always @(posedge CLK_I or negedge ARST_N_I)
    if (ARST_N_I == 1'b0) begin
      RUN_R  <= 1'b0;
      HAVE_R <= 1'b0;
    end else begin
      if (PAGE_STB_I & PAGE_RDY_O) RUN_R <= 1'b1;
      else if (RUN_R & ROUND_R == 6'd63) begin
        RUN_R  <= 1'b0;
        HAVE_R <= 1'b1;
      end
      if (HAVE_R & SEAL_RDY_I) HAVE_R <= 1'b0;
    end

  always @(posedge CLK_I)
    if (PAGE_STB_I & PAGE_RDY_O) begin
      ROUND_R <= 6'd0;
      W_R     <= {PAGE_I, 1'b1, 191'd0, 64'd256};
      S_R     <= FIRST;
    end else if (RUN_R) begin
      ROUND_R <= ROUND_R + 6'd1;
      W_R     <= {W_R[479:0], W16};
      S_R     <= {T1 + T2, a, b, c, d + T1, e, f, g};
    end
endmodule
