package dev.plumbline.wiring;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.blocks.Foreign;
import dev.plumbline.blocks.MultiplierBench;
import dev.plumbline.blocks.Printed;
import dev.plumbline.contract.ContractException;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.unit.Multiplier;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.Elaborator;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What names mean, and the message where they mean nothing or several things. */
class PortGuessTest {
  private static final Format BYTE = Format.signed(4, 4);

  @TempDir private Path folder;
  private final Printed printed = new Printed();

  @ParameterizedTest
  @CsvSource({
    "ox, origin_x",
    "o_x, origin_x",
    "i_rayOrigX, origin_x",
    "ray_org_y, origin_y",
    "in_dir_z, direction_z",
    "dy_i, direction_y",
    "box_min_x, min_x",
    "BMAX_Z, max_z",
    "xmin, min_x",
    "sphere_cx, centre_x",
    "center_y, centre_y",
    "rad, radius",
    "ray.dx, direction_x"
  })
  void inputsAreKnownByTheWordsOfTheTrade(String port, String operand) {
    assertTrue(
        Vocabulary.namesOf(operand).stream().anyMatch(Vocabulary.formsOf(port, true)::contains));
  }

  @ParameterizedTest
  @CsvSource({"t_near, entry", "tmin_o, entry", "o_t1, exit", "out_hit, hit", "isInside, inside"})
  void outputsAreKnownByTheWordsOfTheTrade(String port, String operand) {
    assertTrue(
        Vocabulary.namesOf(operand).stream().anyMatch(Vocabulary.formsOf(port, false)::contains));
  }

  @Test
  void anInputIsNotTakenForWhatPointsTheOtherWay() {
    assertEquals(Set.of("outx"), Vocabulary.formsOf("out_x", true));
  }

  @Test
  void twoPortsForOneOperandAreRefusedWithTheLinesToWrite() throws IOException {
    ContractException wrong =
        refused(
            "module m(input [7:0] lhs, input [7:0] left, input [7:0] rhs, output [15:0] p);"
                + " assign p = lhs * rhs + {8'd0, left}; endmodule");
    assertTrue(
        wrong
            .getMessage()
            .endsWith(
                "carries operand \"a\" (s4.4, 8 bits): several may. Write one of:\n"
                    + "  .port(\"a\", \"lhs\")\n  .port(\"a\", \"left\")"),
        wrong::getMessage);
  }

  @Test
  void operandsWithoutAPortAreRefusedWithTheLinesToWrite() throws IOException {
    ContractException wrong =
        refused(
            "module m(input [7:0] crank, input [7:0] wheel, output [15:0] p);"
                + " assign p = crank * wheel; endmodule");
    assertTrue(
        wrong
            .getMessage()
            .endsWith(
                "called as operand \"a\" (s4.4, 8 bits) may be. Ports left, with their bits: crank"
                    + " (8), wheel (8). Write:\n"
                    + "  .port(\"a\", \"crank\")\n  or .port(\"a\", \"wheel\")"),
        wrong::getMessage);
  }

  @Test
  void aValidWithoutAnOutputValidIsRefused() throws IOException {
    ContractException wrong =
        refused(
            "module m(input clk, input go, input [7:0] a, input [7:0] b, output reg [15:0] p);"
                + " always @(posedge clk) if (go) p <= a * b; endmodule");
    assertTrue(wrong.getMessage().contains(".valid(\"go\", \"...\")"), wrong::getMessage);
    assertTrue(wrong.getMessage().contains(".hold(\"go\", 1)"), wrong::getMessage);
  }

  @Test
  @Tag("thorough")
  void theLastPortLeftCarriesTheLastOperand() throws IOException {
    multiplier(
            "module m(input signed [7:0] wheel, input signed [7:0] b, output signed [15:0] area);"
                + " assign area = wheel * b; endmodule")
        .check();
    assertTrue(printed.text().contains("\n a wheel s4.4\n b b s4.4\n product area s8.8\n"));
  }

  @Test
  void packedPortsAreCutFromTheLowestBit() throws IOException {
    multiplier(
            "module m(input [15:0] pair, output signed [15:0] p);"
                + " assign p = $signed(pair[7:0]) * $signed(pair[15:8]); endmodule")
        .packed("pair", "b", "a")
        .check();
    assertTrue(printed.text().contains("\n a pair[15:8] s4.4\n b pair[7:0] s4.4\n"));
  }

  @Test
  @Tag("thorough")
  void packedPortsOfAnotherWidthAreRefused() throws IOException {
    MultiplierBench bench =
        multiplier(
                "module m(input [16:0] pair, output signed [15:0] p);"
                    + " assign p = {15'd0, ^pair}; endmodule")
            .packed("pair", "b", "a");
    ContractException wrong = assertThrows(ContractException.class, bench::check);
    assertTrue(wrong.getMessage().contains("have 16 bits together, but port pair"));
  }

  @Test
  @Tag("thorough")
  void aWidthThatIsNotItsFormatsIsRefused() throws IOException {
    MultiplierBench bench =
        multiplier(
            "module m(input [8:0] a, input [7:0] b, output [15:0] p);"
                + " assign p = a[7:0] * b + {15'd0, a[8]}; endmodule");
    ContractException wrong = assertThrows(ContractException.class, bench::check);
    assertTrue(wrong.getMessage().contains("has 9 bits; operand \"a\" has 8"), wrong::getMessage);
  }

  @Test
  void noFormatIsRefusedWithTheLineToWrite() throws IOException {
    MultiplierBench bench =
        MultiplierBench.of(
            Foreign.module(
                folder, "module m(input a, input b, output p); assign p = a & b; endmodule"));
    ContractException wrong = assertThrows(ContractException.class, bench::check);
    assertTrue(wrong.getMessage().contains("set .word(Format.signed("), wrong::getMessage);
  }

  private ContractException refused(String verilog) throws IOException {
    Path file = Files.writeString(folder.resolve("dut.v"), verilog);
    Design design = Elaborator.elaborate(RtlSource.of(file));
    Datapath datapath = Multiplier.of(BYTE, BYTE).exact();
    return assertThrows(
        ContractException.class,
        () ->
            PortGuess.complete(
                "MultiplierBench", design, new Wiring(), datapath.inputs(), datapath.outputs()));
  }

  private MultiplierBench multiplier(String verilog) throws IOException {
    return MultiplierBench.of(Foreign.module(folder, verilog))
        .operands(BYTE, BYTE)
        .cases(2000)
        .printTo(printed.stream());
  }

  @Test
  void everyNameOfAVectorHasItsAxis() {
    assertEquals(List.of("minx", "xmin"), Vocabulary.namesOf("min_x").subList(0, 2));
  }
}
