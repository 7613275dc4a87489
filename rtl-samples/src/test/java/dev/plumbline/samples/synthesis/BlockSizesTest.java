package dev.plumbline.samples.synthesis;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import dev.plumbline.samples.Command;
import dev.plumbline.samples.SampleRtl;
import dev.plumbline.samples.synthesis.MappedNetlist.LongestPath;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Sizes and longest paths of the README, measured anew from what Yosys makes of each block. */
class BlockSizesTest {
  /** Another one maps otherwise, by some in a hundred. */
  private static final String MEASURED_WITH = "Yosys 0.23";

  private static final Pattern ROW =
      Pattern.compile(
          "\\| `(\\w+)` \\| ([\\d,]+) \\| (\\d+) \\| (\\d+) \\| ([\\d,]+) \\| ([\\d,]+) \\|"
              + " ([\\d.]+) \\|.*");

  @TempDir Path folder;

  /** A row of the README. */
  record Row(
      String block,
      int tables,
      int multipliers,
      int memories,
      int carries,
      int registers,
      String ns) {
    @Override
    public String toString() {
      return block;
    }

    String all() {
      return String.join(
          " ",
          List.of(
              block,
              "tables " + tables,
              "multipliers " + multipliers,
              "memories " + memories,
              "carries " + carries,
              "registers " + registers,
              "ns " + ns));
    }
  }

  static List<Row> rows() throws IOException {
    List<Row> rows =
        Files.readAllLines(SampleRtl.FOLDER.resolveSibling("README.md")).stream()
            .map(ROW::matcher)
            .filter(Matcher::matches)
            .map(
                m ->
                    new Row(
                        m.group(1), of(m, 2), of(m, 3), of(m, 4), of(m, 5), of(m, 6), m.group(7)))
            .toList();
    assertTrue(rows.size() >= 15, rows.toString());
    return rows;
  }

  private static int of(Matcher row, int group) {
    return Integer.parseInt(row.group(group).replace(",", ""));
  }

  @ParameterizedTest
  @MethodSource("rows")
  @EnabledIfSystemProperty(named = "plumbline.long", matches = "true")
  void theReadmeHasWhatIsMeasured(Row row) throws IOException {
    requireAlike(row, measured(row.block()));
  }

  @ParameterizedTest
  @ValueSource(strings = {"frame_controller", "skip_predictor"})
  @Tag("thorough")
  void soItHasOfSmallBlocks(String block) throws IOException {
    Row row = rows().stream().filter(any -> any.block().equals(block)).findFirst().orElseThrow();

    requireAlike(row, measured(block));
  }

  /** How tables are shared hangs on what else is in the folder; a multiplier does not. */
  private static void requireAlike(Row said, Row measured) {
    String both = "README: " + said.all() + ", measured: " + measured.all();
    assertEquals(said.multipliers(), measured.multipliers(), both);
    assertEquals(said.memories(), measured.memories(), both);
    assertEquals(said.tables(), measured.tables(), 0.05 * said.tables(), both);
    assertEquals(said.carries(), measured.carries(), 0.02 * said.carries(), both);
    assertEquals(said.registers(), measured.registers(), 0.02 * said.registers(), both);
    assertEquals(Double.parseDouble(said.ns()), Double.parseDouble(measured.ns()), 0.5, both);
  }

  private Row measured(String block) throws IOException {
    MappedNetlist netlist = mapped(SampleRtl.FOLDER, block);
    Map<String, Integer> counts = netlist.counts();
    LongestPath path = netlist.longestPath();
    Row row =
        new Row(
            block,
            counts.getOrDefault("LUT4", 0),
            counts.getOrDefault("MULT18X18D", 0),
            counts.getOrDefault("DP16KD", 0),
            counts.getOrDefault("CCU2C", 0),
            counts.getOrDefault("TRELLIS_FF", 0),
            String.format(Locale.ROOT, "%.1f", path.nanoseconds()));
    System.out.printf(
        Locale.ROOT,
        "| `%s` | %,d | %d | %d | %,d | %,d | %s | %s to %s%n",
        block,
        row.tables(),
        row.multipliers(),
        row.memories(),
        row.carries(),
        row.registers(),
        row.ns(),
        path.signals().get(0),
        path.signals().get(path.signals().size() - 1));
    return row;
  }

  private MappedNetlist mapped(Path rtl, String top) throws IOException {
    assumeTrue(Command.find("yosys").isPresent(), "yosys is not on PATH (apt-get install yosys)");
    String version = Command.run(rtl, List.of("yosys", "-V")).output();
    assumeTrue(
        version.startsWith(MEASURED_WITH + " "), "the README's figures are not of " + version);
    Path file = folder.resolve(top + ".blif");
    String script = "read_verilog -sv -I. *.sv; synth_ecp5 -top " + top + " -blif " + file;
    Command.Outcome outcome = Command.run(rtl, List.of("yosys", "-q", "-p", script));
    assertEquals(0, outcome.status(), outcome.output());
    return MappedNetlist.read(file);
  }

  /**
   * Worked out by hand from the delays of {@link CellDelays}: from a register through a wire into
   * the lowest carry cell, along three more, out at the top and by a wire to the sum's register:
   * 0.52 + 0.6 + 0.45 + 2 * 0.07 + 0.44 + 0.6.
   */
  @Test
  @Tag("thorough")
  void anAdderOfEightBitsTakesFourCarryCells() throws IOException {
    Files.writeString(
        folder.resolve("adder.sv"),
        """
        module adder (input logic clk, input logic [7:0] x, input logic [7:0] y,
                      output logic [7:0] sum);
          logic [7:0] x_q;
          logic [7:0] y_q;
          always_ff @(posedge clk) begin
            x_q <= x;
            y_q <= y;
            sum <= x_q + y_q;
          end
        endmodule
        """);

    MappedNetlist netlist = mapped(folder, "adder");

    assertEquals(Map.of("CCU2C", 4, "TRELLIS_FF", 24), netlist.counts());
    assertEquals(2.75, netlist.longestPath().nanoseconds(), 1e-9);
  }

  /** By hand: a memory 5.7, a wire 0.6, a table 0.24, a wire 0.6. */
  @Test
  void aTableBehindAMemory() throws IOException {
    Path file = folder.resolve("table.blif");
    Files.writeString(
        file,
        """
        .model table
        .inputs clk a
        .outputs far
        .names $false
        .gate DP16KD CLKB=clk ADB0=a DOB0=word
        .names word alias
        1 1
        .gate LUT4 A=alias B=a C=$false D=$false Z=decided
        .gate TRELLIS_FF CLK=clk DI=decided Q=far
        .end
        """);

    LongestPath path = MappedNetlist.read(file).longestPath();

    assertEquals(5.7 + 0.6 + 0.24 + 0.6, path.nanoseconds(), 1e-9);
    assertEquals(List.of("word", "decided"), path.signals());
  }

  @Test
  void aCellWithoutDelaysIsRefused() throws IOException {
    Path file = folder.resolve("other.blif");
    Files.writeString(file, ".model other\n.gate MYSTERY A=a Z=z\n.end\n");

    assertThrows(IllegalArgumentException.class, () -> MappedNetlist.read(file));
  }
}
