// Purpose   addresses of the host port's registers, and its version

`ifndef BUS_PKG_SVH
`define BUS_PKG_SVH

package bus_pkg;

  localparam logic [15:0] VersionValue = 16'h0100;

  localparam logic [7:0] Version = 8'h00;
  localparam logic [7:0] Control = 8'h01;
  localparam logic [7:0] Status = 8'h02;
  localparam logic [7:0] Interrupt = 8'h03;
  localparam logic [7:0] InterruptEnable = 8'h04;
  localparam logic [7:0] Identity = 8'h05;
  localparam logic [7:0] Multiplicand = 8'h08;
  localparam logic [7:0] Multiplier = 8'h09;
  localparam logic [7:0] MultiplyMode = 8'h0A;
  localparam logic [7:0] ProductLow = 8'h0B;
  localparam logic [7:0] ProductHigh = 8'h0C;
  localparam logic [7:0] ProgramAddress = 8'h10;
  localparam logic [7:0] ProgramPart = 8'h11;
  localparam logic [7:0] ProgramData = 8'h12;
  localparam logic [7:0] PaletteAddress = 8'h18;
  localparam logic [7:0] PalettePart = 8'h19;
  localparam logic [7:0] PaletteData = 8'h1A;
  localparam logic [7:0] TableAddress = 8'h20;
  localparam logic [7:0] TablePart = 8'h21;
  localparam logic [7:0] TableData = 8'h22;
  localparam logic [7:0] Settings = 8'h40;  // to 6E, without 65 and 69
  localparam logic [7:0] Counters = 8'h80;  // to 89

  localparam int unsigned SettingsCount = 47;
  localparam int unsigned CountersCount = 10;

  // Offsets of settings, in halves of 32 bits.
  localparam int unsigned Eye = 0;
  localparam int unsigned Corner = 6;
  localparam int unsigned StepX = 12;
  localparam int unsigned StepY = 18;
  localparam int unsigned Lamp = 24;
  localparam int unsigned LampInverse = 30;
  localparam int unsigned LampParallel = 36;
  localparam int unsigned NoSetting0 = 37;
  localparam int unsigned Epsilon = 38;
  localparam int unsigned Ambient = 40;
  localparam int unsigned NoSetting1 = 41;
  localparam int unsigned Background = 42;
  localparam int unsigned WidthLess1 = 44;
  localparam int unsigned HeightLess1 = 45;
  localparam int unsigned Picture = 46;

endpackage

`endif
