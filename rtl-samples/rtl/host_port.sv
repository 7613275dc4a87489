// Purpose   registers by which a host loads, starts and watches the chip, and a multiplier for it
// Registers of 16 bits at word addresses (hexadecimal); wide values have their low half at the lower
//           address. Access: RO read only, WO write only, RW read and write, W1C read and write one
//           to clear. Reset value 0 unless given
//   00  version           RO 0100  major in the high byte, minor in the low one
//   01  control           WO       pulses: 0 start, 1 abort, 2 swap
//   02  status            RO 0004  0 busy, 1 swap pending, 2 loading allowed (not busy)
//   03  interrupt         W1C      0 frame done, 1 picture given out, 2 start ignored; what is set
//                                  and cleared in the same cycle is set
//   04  interrupt_enable  RW       2..0; irq is high while a flag is set that is enabled
//   05  identity          RW       for the host's own use
//   08, 09  multiplicand, multiplier  RW
//   0A  multiply_mode     RW       0 multiplicand is signed, 1 multiplier is signed
//   0B, 0C  product       RO       of what stands there, 32 bits, right from the next access on
//   10  program_address   RW       11  program_part  RW 3..0  12  program_data  RW
//   18  palette_address   RW 7..0  19  palette_part  RW 0     1A  palette_data  RW
//                                  24 bits: part 0 green and blue, part 1 red
//   20  table_address     RW       21  table_part    RW 0     22  table_data    RW
//                                  32 bits: colour in 23..0, share of the mirror in 31..24
//                                  Data as memory_window has it; both read and write count on
//   40  eye x, y, z       RW       42, 44; words of W bits with F fraction bits
//   46  corner x, y, z    RW       48, 4A; likewise, as step_x 4C, 4E, 50 and step_y 52, 54, 56
//   58  lamp x, y, z      RW       5A, 5C; DW bits with DF fraction bits
//   5E  lamp_inverse x, y, z  RW   60, 62; words         64  lamp_parallel  RW  2..0: z, y, x
//   66  epsilon           RW       word                  68  ambient        RW  8..0, in 1/256
//   6A  background        RW       24 bits               6C  width less 1, 6D height less 1  RW 11..0
//   6E  picture           RW       0 palette kind, 1 dither, 2 layout
//                                  All 16 bits of a half are kept; settings take the lower ones
//   80  frame_cycles 82 primary_rays 84 shadow_rays 86 mirror_rays 88 mirror_shadow_rays  RO
//                                  A read of a low half keeps the high half for the read of that
// Ports     bus_*     an access is held until it ends, in the cycle with bus_valid and bus_ready;
//                     bus_rdata and bus_error belong to that cycle. bus_error: an address without a
//                     register; a write to RO; a read of WO; data of a part that the word does not
//                     have; any access to data of a memory while busy; a write to a setting while
//                     busy or while a swap is pending. Such an access has no effect and reads 0
//           start_frame, abort_frame, swap  pulses, in the cycle in which the write ends
//           program_*, palette_*, table_*  ports of memories, as memory_window has them
//           others    settings, still but for a write; busy, swap_pending: levels; set_*: pulses
// Timing    2 cycles an access, 3 for a read of a memory's data
// Source    access kinds: IEEE 1685-2009, 6.10.9.2

`default_nettype none
`include "assertions.svh"
`include "bus_pkg.svh"

module host_port #(
    parameter int unsigned W  = 32,  // word bits, 10 to 32
    parameter int unsigned DW = 18,  // direction bits, 8 to W
    parameter int unsigned M  = 8,   // material bits, 1 to 8
    parameter int unsigned A  = 10   // address bits of the program, 1 to 12
) (
    input logic clk,
    input logic rst,  // synchronous, active high

    // bus
    input  logic        bus_valid,
    output logic        bus_ready,
    input  logic        bus_write,
    input  logic [ 7:0] bus_address,
    input  logic [15:0] bus_wdata,
    output logic [15:0] bus_rdata,
    output logic        bus_error,
    output logic        irq,

    // control
    output logic        start_frame,
    output logic        abort_frame,
    output logic        swap,
    input  logic        busy,
    input  logic        swap_pending,
    input  logic        set_frame_done,
    input  logic        set_streamed,
    input  logic        set_start_ignored,
    input  logic [31:0] frame_cycles,
    input  logic [31:0] primary_rays,
    input  logic [31:0] shadow_rays,
    input  logic [31:0] mirror_rays,
    input  logic [31:0] mirror_shadow_rays,

    // memories
    output logic              program_load_valid,
    output logic [     A-1:0] program_load_address,
    output logic [24+6*W-1:0] program_load_word,
    output logic              program_read,
    output logic [     A-1:0] program_read_address,
    input  logic [24+6*W-1:0] program_word,
    output logic              palette_load_valid,
    output logic [       7:0] palette_load_address,
    output logic [      23:0] palette_load_word,
    output logic              palette_read,
    output logic [       7:0] palette_read_address,
    input  logic [      23:0] palette_word,
    output logic              table_load_valid,
    output logic [     M-1:0] table_load_address,
    output logic [      31:0] table_load_word,
    output logic              table_read,
    output logic [     M-1:0] table_read_address,
    input  logic [      31:0] table_word,

    // settings: vectors have x in the lowest bits
    output logic [ 3*W-1:0] eye,
    output logic [ 3*W-1:0] corner,
    output logic [ 3*W-1:0] step_x,
    output logic [ 3*W-1:0] step_y,
    output logic [3*DW-1:0] lamp,
    output logic [ 3*W-1:0] lamp_inverse,
    output logic [     2:0] lamp_parallel,
    output logic [   W-1:0] epsilon,
    output logic [     8:0] ambient,
    output logic [    23:0] background,
    output logic [    11:0] width_less_1,
    output logic [    11:0] height_less_1,
    output logic            palette_kind,
    output logic            dither,
    output logic            layout
);

  localparam int unsigned SettingsCount = bus_pkg::SettingsCount;

  if (W < 10 || W > 32) begin : g_word_range
    $error("host_port: W must be 10 to 32");
  end
  if (DW < 8 || DW > W) begin : g_direction_word_range
    $error("host_port: DW must be 8 to W");
  end
  if (M < 1 || M > 8) begin : g_material_range
    $error("host_port: M must be 1 to 8");
  end
  if (A < 1 || A > 12) begin : g_address_range
    $error("host_port: A must be 1 to 12");
  end

  typedef enum logic [1:0] {
    StateIdle,
    StateFetch,
    StateEnd
  } state_e;

  // What the address means, in the access's first cycle.
  logic       in_settings;
  logic       in_counters;
  logic       in_program;
  logic       in_palette;
  logic       in_table;
  logic       in_memory;
  logic       read_only;
  logic       write_only;
  logic       read_write;
  logic       refused;
  logic [5:0] setting;
  logic       program_part_known;
  logic       palette_part_known;
  logic       table_part_known;
  logic       part_known;
  assign setting = bus_address[5:0];
  assign in_settings = bus_address[7:6] == bus_pkg::Settings[7:6]
      && setting < 6'(SettingsCount)
      && setting != 6'(bus_pkg::NoSetting0)
      && setting != 6'(bus_pkg::NoSetting1);
  assign in_counters = bus_address[7:4] == bus_pkg::Counters[7:4]
      && bus_address[3:0] < 4'(bus_pkg::CountersCount);
  assign in_program = bus_address == bus_pkg::ProgramData;
  assign in_palette = bus_address == bus_pkg::PaletteData;
  assign in_table = bus_address == bus_pkg::TableData;
  assign in_memory = in_program || in_palette || in_table;
  assign part_known = (!in_program || program_part_known) && (!in_palette || palette_part_known)
      && (!in_table || table_part_known);
  assign write_only = bus_address == bus_pkg::Control;
  assign read_only = in_counters || bus_address == bus_pkg::Version
      || bus_address == bus_pkg::Status || bus_address == bus_pkg::ProductLow
      || bus_address == bus_pkg::ProductHigh;
  always_comb begin
    case (bus_address)
      bus_pkg::Interrupt, bus_pkg::InterruptEnable, bus_pkg::Identity, bus_pkg::Multiplicand,
          bus_pkg::Multiplier, bus_pkg::MultiplyMode, bus_pkg::ProgramAddress,
          bus_pkg::ProgramPart, bus_pkg::PaletteAddress, bus_pkg::PalettePart,
          bus_pkg::TableAddress, bus_pkg::TablePart:
      read_write = 1'b1;
      default: read_write = in_settings || in_memory;
    endcase
  end
  assign refused = !(read_write || (bus_write ? write_only : read_only))
      || (in_memory && (busy || !part_known))
      || (in_settings && bus_write && (busy || swap_pending));

  // An access.
  state_e state_q;
  state_e state_d;
  logic   first;
  logic   error_q;
  logic   writes;
  logic   reads_memory;
  assign first        = state_q == StateIdle && bus_valid;
  assign reads_memory = first && in_memory && !bus_write && !refused;
  assign bus_ready    = state_q == StateEnd;
  assign bus_error    = error_q;
  assign writes       = bus_ready && bus_valid && bus_write && !error_q;
  always_comb begin
    state_d = state_q;
    case (state_q)
      StateIdle:  if (bus_valid) state_d = reads_memory ? StateFetch : StateEnd;
      StateFetch: state_d = StateEnd;
      StateEnd:   state_d = StateIdle;
      default:    state_d = StateIdle;
    endcase
  end
  always_ff @(posedge clk) begin
    if (rst) state_q <= StateIdle;
    else state_q <= state_d;
    if (first) error_q <= refused;
  end

  // Control and interrupts.
  logic [2:0] flags_q;
  logic [2:0] enabled_q;
  logic [2:0] set;
  logic [2:0] cleared;
  assign start_frame = writes && bus_address == bus_pkg::Control && bus_wdata[0];
  assign abort_frame = writes && bus_address == bus_pkg::Control && bus_wdata[1];
  assign swap = writes && bus_address == bus_pkg::Control && bus_wdata[2];
  assign set = {set_start_ignored, set_streamed, set_frame_done};
  assign cleared = writes && bus_address == bus_pkg::Interrupt ? bus_wdata[2:0] : 3'd0;
  assign irq = (flags_q & enabled_q) != 3'd0;
  always_ff @(posedge clk) begin
    if (rst) flags_q <= '0;
    else flags_q <= (flags_q & ~cleared) | set;
  end

  // Registers of the host's own, and the multiplier.
  logic        [15:0] identity_q;
  logic        [15:0] multiplicand_q;
  logic        [15:0] multiplier_q;
  logic        [ 1:0] multiply_mode_q;
  logic signed [16:0] extended_multiplicand;
  logic signed [16:0] extended_multiplier;
  logic        [31:0] product_q;
  always_ff @(posedge clk) begin
    if (rst) begin
      enabled_q       <= '0;
      identity_q      <= '0;
      multiplicand_q  <= '0;
      multiplier_q    <= '0;
      multiply_mode_q <= '0;
    end else if (writes) begin
      case (bus_address)
        bus_pkg::InterruptEnable: enabled_q <= bus_wdata[2:0];
        bus_pkg::Identity:        identity_q <= bus_wdata;
        bus_pkg::Multiplicand:    multiplicand_q <= bus_wdata;
        bus_pkg::Multiplier:      multiplier_q <= bus_wdata;
        bus_pkg::MultiplyMode:    multiply_mode_q <= bus_wdata[1:0];
        default:                  ;
      endcase
    end
  end
  // A sign bit more holds either kind; the product of two such has 34 bits, of which 32 tell all.
  assign extended_multiplicand = {multiply_mode_q[0] && multiplicand_q[15], multiplicand_q};
  assign extended_multiplier   = {multiply_mode_q[1] && multiplier_q[15], multiplier_q};
  always_ff @(posedge clk) begin
    product_q <= 32'(34'(extended_multiplicand) * 34'(extended_multiplier));
  end

  // Memories.
  logic        counts_on;
  logic [15:0] program_address;
  logic [15:0] program_part;
  logic [15:0] program_value;
  logic [15:0] palette_address;
  logic [15:0] palette_part;
  logic [15:0] palette_value;
  logic [15:0] table_address;
  logic [15:0] table_part;
  logic [15:0] table_value;
  assign counts_on = bus_ready && bus_valid && !error_q;
  memory_window #(
      .A    (A),
      .WIDTH(24 + 6 * W)
  ) program_window (
      .clk          (clk),
      .rst          (rst),
      .address_write(writes && bus_address == bus_pkg::ProgramAddress),
      .part_write   (writes && bus_address == bus_pkg::ProgramPart),
      .data_write   (writes && in_program),
      .data_read    (reads_memory && in_program),
      .step         (counts_on && in_program),
      .write_value  (bus_wdata),
      .address      (program_address),
      .part         (program_part),
      .part_known   (program_part_known),
      .out_value    (program_value),
      .load_valid   (program_load_valid),
      .load_address (program_load_address),
      .load_word    (program_load_word),
      .read_enable  (program_read),
      .read_address (program_read_address),
      .in_word      (program_word)
  );
  memory_window #(
      .A    (8),
      .WIDTH(24)
  ) palette_window (
      .clk          (clk),
      .rst          (rst),
      .address_write(writes && bus_address == bus_pkg::PaletteAddress),
      .part_write   (writes && bus_address == bus_pkg::PalettePart),
      .data_write   (writes && in_palette),
      .data_read    (reads_memory && in_palette),
      .step         (counts_on && in_palette),
      .write_value  (bus_wdata),
      .address      (palette_address),
      .part         (palette_part),
      .part_known   (palette_part_known),
      .out_value    (palette_value),
      .load_valid   (palette_load_valid),
      .load_address (palette_load_address),
      .load_word    (palette_load_word),
      .read_enable  (palette_read),
      .read_address (palette_read_address),
      .in_word      (palette_word)
  );
  memory_window #(
      .A    (M),
      .WIDTH(32)
  ) table_window (
      .clk          (clk),
      .rst          (rst),
      .address_write(writes && bus_address == bus_pkg::TableAddress),
      .part_write   (writes && bus_address == bus_pkg::TablePart),
      .data_write   (writes && in_table),
      .data_read    (reads_memory && in_table),
      .step         (counts_on && in_table),
      .write_value  (bus_wdata),
      .address      (table_address),
      .part         (table_part),
      .part_known   (table_part_known),
      .out_value    (table_value),
      .load_valid   (table_load_valid),
      .load_address (table_load_address),
      .load_word    (table_load_word),
      .read_enable  (table_read),
      .read_address (table_read_address),
      .in_word      (table_word)
  );

  // Settings, in halves.
  logic [1023:0] settings;
  for (genvar k = 0; k < SettingsCount; k++) begin : half
    logic [15:0] value_q;
    always_ff @(posedge clk) begin
      if (rst) value_q <= '0;
      else if (writes && in_settings && setting == 6'(k)) value_q <= bus_wdata;
    end
    assign settings[16*k+:16] = value_q;
  end
  assign settings[1023:16*SettingsCount] = '0;
  for (genvar k = 0; k < 3; k++) begin : axis
    assign eye[k*W+:W]          = settings[16*(bus_pkg::Eye+2*k)+:W];
    assign corner[k*W+:W]       = settings[16*(bus_pkg::Corner+2*k)+:W];
    assign step_x[k*W+:W]       = settings[16*(bus_pkg::StepX+2*k)+:W];
    assign step_y[k*W+:W]       = settings[16*(bus_pkg::StepY+2*k)+:W];
    assign lamp[k*DW+:DW]       = settings[16*(bus_pkg::Lamp+2*k)+:DW];
    assign lamp_inverse[k*W+:W] = settings[16*(bus_pkg::LampInverse+2*k)+:W];
  end
  assign lamp_parallel = settings[16*bus_pkg::LampParallel+:3];
  assign epsilon       = settings[16*bus_pkg::Epsilon+:W];
  assign ambient       = settings[16*bus_pkg::Ambient+:9];
  assign background    = settings[16*bus_pkg::Background+:24];
  assign width_less_1  = settings[16*bus_pkg::WidthLess1+:12];
  assign height_less_1 = settings[16*bus_pkg::HeightLess1+:12];
  assign {layout, dither, palette_kind} = settings[16*bus_pkg::Picture+:3];

  // Counters; a read of a low half keeps the high one.
  logic [255:0] counters;
  logic [127:0] kept;
  assign counters = {
    96'd0, mirror_shadow_rays, mirror_rays, shadow_rays, primary_rays, frame_cycles
  };
  for (genvar k = 0; k < 5; k++) begin : counter
    logic [15:0] high_q;
    always_ff @(posedge clk) begin
      if (rst) high_q <= '0;
      else if (first && !bus_write && in_counters && bus_address[3:0] == 4'(2 * k)) begin
        high_q <= counters[32*k+16+:16];
      end
    end
    assign kept[16*k+:16] = high_q;
  end
  assign kept[127:80] = '0;
  logic [15:0] counter_half;
  assign counter_half = bus_address[0] ? kept[{bus_address[3:1], 4'd0}+:16]
                                       : counters[{bus_address[3:1], 5'd0}+:16];

  // What is read: registers as they were in the first cycle, the rest as it is in the last.
  logic [15:0] register_q;
  always_ff @(posedge clk) begin
    case (bus_address)
      bus_pkg::Version:         register_q <= bus_pkg::VersionValue;
      bus_pkg::Status:          register_q <= {13'd0, !busy, swap_pending, busy};
      bus_pkg::Interrupt:       register_q <= {13'd0, flags_q};
      bus_pkg::InterruptEnable: register_q <= {13'd0, enabled_q};
      bus_pkg::Identity:        register_q <= identity_q;
      bus_pkg::Multiplicand:    register_q <= multiplicand_q;
      bus_pkg::Multiplier:      register_q <= multiplier_q;
      bus_pkg::MultiplyMode:    register_q <= {14'd0, multiply_mode_q};
      bus_pkg::ProgramAddress:  register_q <= program_address;
      bus_pkg::ProgramPart:     register_q <= program_part;
      bus_pkg::PaletteAddress:  register_q <= palette_address;
      bus_pkg::PalettePart:     register_q <= palette_part;
      bus_pkg::TableAddress:    register_q <= table_address;
      bus_pkg::TablePart:       register_q <= table_part;
      default: register_q <= in_settings ? settings[{setting, 4'd0}+:16] : counter_half;
    endcase
  end
  always_comb begin
    case (bus_address)
      bus_pkg::ProductLow:  bus_rdata = product_q[15:0];
      bus_pkg::ProductHigh: bus_rdata = product_q[31:16];
      bus_pkg::ProgramData: bus_rdata = program_value;
      bus_pkg::PaletteData: bus_rdata = palette_value;
      bus_pkg::TableData:   bus_rdata = table_value;
      default:              bus_rdata = register_q;
    endcase
    if (error_q || bus_write) bus_rdata = '0;
  end

  `LOW_AFTER_RESET(nothing_in_hand, {bus_ready, irq})
  `HOLDS(access_is_held,
         !$past(bus_valid && !bus_ready && !rst)
         || (bus_valid && $stable({bus_write, bus_address, bus_wdata})))
  `HOLDS(loads_while_idle,
         !(program_load_valid || palette_load_valid || table_load_valid) || !busy)

endmodule

`default_nettype wire
