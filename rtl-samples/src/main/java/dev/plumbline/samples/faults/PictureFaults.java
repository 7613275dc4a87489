package dev.plumbline.samples.faults;

import static dev.plumbline.faults.Fault.Kind.COUNTER;
import static dev.plumbline.faults.Fault.Kind.DECISION;
import static dev.plumbline.faults.Fault.Kind.LATENCY;
import static dev.plumbline.faults.Fault.Kind.MEMORY;
import static dev.plumbline.faults.Fault.Kind.OPERAND;
import static dev.plumbline.faults.Fault.Kind.ORDER;
import static dev.plumbline.faults.Fault.Kind.ROUNDING;
import static dev.plumbline.faults.Fault.Kind.SIGN;
import static dev.plumbline.faults.Fault.Kind.STALL;
import static dev.plumbline.faults.Fault.Shows.ANY_STREAM;
import static dev.plumbline.faults.Fault.Shows.BACK_TO_BACK;
import static dev.plumbline.faults.Fault.Shows.STALLS;

import dev.plumbline.faults.Fault;
import java.util.List;
import java.util.stream.Stream;

/** Faults of the picture converter and of the host port, which are driven by hand. */
final class PictureFaults {
  private PictureFaults() {}

  /** Every fault, by unit. */
  static List<Fault> all() {
    return Stream.of(PICTURE_CONVERTER, HOST_PORT).flatMap(List::stream).toList();
  }

  private static final List<Fault> PICTURE_CONVERTER =
      new FaultsOf("picture_converter", "by hand", "colour_quantiser.sv")
          .fault(
              "matrix-transposed",
              OPERAND,
              ANY_STREAM,
              "The dither matrix is read column first.",
              "bayer_cell(in_y, in_x)",
              "bayer_cell(in_x, in_y)")
          .in("picture_pkg.svh")
          .fault(
              "matrix-quadrants-exchanged",
              MEMORY,
              ANY_STREAM,
              "The highest pair of index bits gives the highest bits of the cell.",
              "row[0] ^ column[0], row[0], row[1] ^ column[1], row[1], row[2] ^ column[2], row[2]",
              "row[2] ^ column[2], row[2], row[1] ^ column[1], row[1], row[0] ^ column[0], row[0]")
          .in("colour_quantiser.sv")
          .fault(
              "thresholds-a-quarter-low",
              ROUNDING,
              ANY_STREAM,
              "Thresholds lack half of what centres them.",
              "14'd127;",
              "14'd63;")
          .fault(
              "nearest-a-step-late",
              ROUNDING,
              ANY_STREAM,
              "Without dither a level's half is rounded down.",
              "Nearest = 8'd127",
              "Nearest = 8'd128")
          .in("channel_quantiser.sv")
          .fault(
              "threshold-met-counts",
              DECISION,
              ANY_STREAM,
              "A rest that equals its threshold is raised.",
              "rest_s2_q > in_threshold",
              "rest_s2_q >= in_threshold")
          .fault(
              "level-by-high-bits",
              ROUNDING,
              ANY_STREAM,
              "A level is what 256, not 255, goes into.",
              "assign low_s1    = raised_s1[10:8];",
              "assign low_s1    = scaled_s1_q[10:8];")
          .in("colour_quantiser.sv")
          .fault(
              "cube-of-five",
              OPERAND,
              ANY_STREAM,
              "Green counts five in the code of six levels.",
              "(8'(pair_s3) << 1) + 8'(blue_s3)",
              "8'(pair_s3) + 8'(blue_s3)")
          .fault(
              "blue-lacks-a-level",
              OPERAND,
              ANY_STREAM,
              "Blue has three levels instead of four.",
              "3'd5 : 3'd3;",
              "3'd5 : 3'd2;")
          .in("picture_converter.sv")
          .fault(
              "palette-latch-late",
              LATENCY,
              ANY_STREAM,
              "The palette of the picture before is used.",
              ".in_palette(palette),",
              ".in_palette(palette_q),")
          .and(
              "  assign swap_pending = pending_q;",
              """
                assign swap_pending = pending_q;
                logic palette_q;
                always_ff @(posedge clk) if (turn) palette_q <= palette;\
              """)
          .in("plane_stream.sv")
          .fault(
              "planes-reversed",
              ORDER,
              ANY_STREAM,
              "The highest plane comes first.",
              "code[plane_s2_q] &&",
              "code[3'd7-plane_s2_q] &&")
          .fault(
              "leftmost-lowest",
              ORDER,
              ANY_STREAM,
              "The leftmost pixel is in the lowest bit.",
              "assign bits_s2[15-i] =",
              "assign bits_s2[i] =")
          .fault(
              "last-column-dark",
              DECISION,
              ANY_STREAM,
              "The last column is taken to be beyond the picture.",
              "x <= width_less_1_q && y",
              "x < width_less_1_q && y")
          .in("picture_memory.sv")
          .fault(
              "rows-of-a-lane-collide",
              MEMORY,
              ANY_STREAM,
              "Memories are chosen by x alone, so that rows meet in the wrong one.",
              "write_x[3] ^ write_y[0];",
              "write_x[3];")
          .in("picture_converter.sv")
          .fault(
              "swap-forgets-pixels-on-the-way",
              LATENCY,
              ANY_STREAM,
              "A swap does not wait for pixels on their way to memory.",
              " && on_way_q == '0;",
              ";")
          .fault(
              "pixels-taken-while-pending",
              STALL,
              ANY_STREAM,
              "Pixels of the next picture are taken into the one to be shown.",
              "assign pixel_ready = !swap_pending;",
              "assign pixel_ready = 1'b1;")
          .in("plane_stream.sv")
          .fault(
              "stalled-word-goes-on",
              STALL,
              STALLS,
              "A word that is not taken is followed by the next.",
              "assign moves = !out_valid || out_ready;",
              "assign moves = 1'b1;")
          .fault(
              "settings-of-the-next-picture",
              LATENCY,
              ANY_STREAM,
              "The stream's width is that which stands now.",
              "x <= width_less_1_q && y",
              "x <= in_width_less_1 && y")
          .all();

  private static final List<Fault> HOST_PORT =
      new FaultsOf("host_port", "by hand", "host_port.sv")
          .fault(
              "multiplier-always-signed",
              SIGN,
              ANY_STREAM,
              "The multiplier is taken as signed in every mode.",
              "{multiply_mode_q[1] && multiplier_q[15], multiplier_q}",
              "{multiplier_q[15], multiplier_q}")
          .fault(
              "product-an-access-late",
              LATENCY,
              BACK_TO_BACK,
              "The product is of what stood there a cycle earlier.",
              "    product_q <= 32'(34'(extended_multiplicand)",
              "    product_q <= early_q;\n    early_q <= 32'(34'(extended_multiplicand)")
          .and(
              "  logic        [31:0] product_q;\n",
              "  logic        [31:0] product_q;\n  logic        [31:0] early_q;\n")
          .fault(
              "clear-wins",
              DECISION,
              ANY_STREAM,
              "A flag that is set in the cycle that clears it is lost.",
              "(flags_q & ~cleared) | set;",
              "(flags_q | set) & ~cleared;")
          .fault(
              "irq-of-any-flag",
              OPERAND,
              ANY_STREAM,
              "Flags interrupt that are not enabled.",
              "(flags_q & enabled_q) != 3'd0",
              "(flags_q & {3{enabled_q != '0}}) != 3'd0")
          .fault(
              "write-only-is-read",
              DECISION,
              ANY_STREAM,
              "A read of what can only be written is answered.",
              "(bus_write ? write_only : read_only)",
              "(write_only || (!bus_write && read_only))")
          .fault(
              "settings-move-under-a-swap",
              DECISION,
              ANY_STREAM,
              "Settings are taken while a swap is pending.",
              "&& bus_write && (busy || swap_pending));",
              "&& bus_write && busy);")
          .fault(
              "loads-while-busy",
              DECISION,
              ANY_STREAM,
              "Memories are loaded while the chip works.",
              "(in_memory && (busy || !part_known))",
              "(in_memory && !part_known)")
          .fault(
              "high-half-runs-on",
              LATENCY,
              ANY_STREAM,
              "The high half of a counter is that of its own read.",
              "kept[{bus_address[3:1], 4'd0}+:16]\n",
              "counters[{bus_address[3:1], 5'd16}+:16]\n")
          .fault(
              "counters-everywhere",
              DECISION,
              ANY_STREAM,
              "Every high address answers as a counter.",
              "bus_address[7:4] == bus_pkg::Counters[7:4]\n",
              "bus_address[7] == bus_pkg::Counters[7]\n")
          .fault(
              "lamp-axes-reversed",
              OPERAND,
              ANY_STREAM,
              "The lamp's x and z are exchanged.",
              "16*(bus_pkg::Lamp+2*k)+:DW",
              "16*(bus_pkg::Lamp+4-2*k)+:DW")
          .fault(
              "refused-access-counts-on",
              COUNTER,
              ANY_STREAM,
              "A refused access of a memory's data counts on all the same.",
              "assign counts_on = bus_ready && bus_valid && !error_q;",
              "assign counts_on = bus_ready && bus_valid;")
          .in("memory_window.sv")
          .fault(
              "address-stands-at-the-end",
              COUNTER,
              ANY_STREAM,
              "The address does not go on from the last word to the first.",
              "else if (step && last) address_q",
              "else if (step && last && address_q != '1) address_q")
          .fault(
              "part-lost-at-odd-words",
              MEMORY,
              ANY_STREAM,
              "The second part of an odd word is not stored.",
              "if (data_write && part_q == PartW'(k)) gathered_q",
              "if (data_write && part_q == PartW'(k) && !(k == 1 && address_q[0])) gathered_q")
          .fault(
              "two-words-are-one",
              MEMORY,
              ANY_STREAM,
              "The last two words are stored in one place.",
              "assign load_address = address_q;",
              "assign load_address = address_q & ~A'(&address_q[A-1:1]);")
          .fault(
              "bit-stuck-at-one",
              MEMORY,
              ANY_STREAM,
              "A bit of one word is stuck.",
              "assign load_word    = padded[WIDTH-1:0];",
              "assign load_word    = padded[WIDTH-1:0] | (WIDTH'(address_q == A'(3)) << 9);")
          .all();
}
