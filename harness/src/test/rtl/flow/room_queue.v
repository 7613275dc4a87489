// Carries words from the clock of the gallery to that of the tower. Pointers cross in Gray code
// through two registers each; both resets are asynchronous and low.
`default_nettype none
module room_queue #(
    parameter W = 12,
    parameter A = 3
) (
    input  wire         pclk,
    input  wire         prst_n,
    input  wire         put,
    input  wire [W-1:0] pdat,
    output reg          pfull,
    input  wire         gclk,
    input  wire         grst_n,
    input  wire         get,
    output wire [W-1:0] gdat,
    output reg          gempty
);
  reg [W-1:0] shelf [0:(1<<A)-1];

  reg [A:0] pbin, pgray, pg1, pg2;
  reg [A:0] gbin, ggray, gp1, gp2;

  wire           pgo     = put & ~pfull;
  wire [A:0]     pbin_n  = pbin + {{A{1'b0}}, pgo};
  wire [A:0]     pgray_n = (pbin_n >> 1) ^ pbin_n;

  always @(posedge pclk)
    if (pgo) shelf[pbin[A-1:0]] <= pdat;

  always @(posedge pclk or negedge prst_n)
    if (!prst_n) begin
      pbin  <= 0;
      pgray <= 0;
      pfull <= 1'b0;
    end else begin
      pbin  <= pbin_n;
      pgray <= pgray_n;
      pfull <= pgray_n == {~pg2[A:A-1], pg2[A-2:0]};
    end

  always @(posedge pclk or negedge prst_n)
    if (!prst_n) begin
      pg1 <= 0;
      pg2 <= 0;
    end else begin
      pg1 <= ggray;
      pg2 <= pg1;
    end

  wire           ggo     = get & ~gempty;
  wire [A:0]     gbin_n  = gbin + {{A{1'b0}}, ggo};
  wire [A:0]     ggray_n = (gbin_n >> 1) ^ gbin_n;

  assign gdat = shelf[gbin[A-1:0]];

  always @(posedge gclk or negedge grst_n)
    if (!grst_n) begin
      gbin   <= 0;
      ggray  <= 0;
      gempty <= 1'b1;
    end else begin
      gbin   <= gbin_n;
      ggray  <= ggray_n;
      gempty <= ggray_n == gp2;
    end

  always @(posedge gclk or negedge grst_n)
    if (!grst_n) begin
      gp1 <= 0;
      gp2 <= 0;
    end else begin
      gp1 <= pgray;
      gp2 <= gp1;
    end
endmodule
`default_nettype wire
