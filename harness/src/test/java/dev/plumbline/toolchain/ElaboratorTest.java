package dev.plumbline.toolchain;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import dev.plumbline.rtl.RtlException;
import dev.plumbline.rtl.RtlSource;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What Verilator says of a source while it elaborates it, as the user gets to hear it. */
class ElaboratorTest {
  @TempDir private Path folder;

  private RtlSource source(String text) throws IOException {
    return RtlSource.of(Files.writeString(folder.resolve("dial.sv"), text));
  }

  /** IEEE 1800-2017, 20.11: an elaboration error means that nothing is simulated. */
  @ParameterizedTest
  @CsvSource({"'$fatal(1, \"W is too small: %0d\", W)'", "'$error(\"W is too small: %0d\", W)'"})
  void anErrorThatTheSourceItselfRaisesWhenElaboratedIsARefusal(String task) throws IOException {
    RtlSource source =
        source(
            "module dial #(parameter W = 4) (input [W-1:0] a, output [W-1:0] y);\n"
                + "  generate if (W < 8)\n"
                + "    "
                + task
                + ";\n"
                + "  endgenerate\n"
                + "  assign y = a;\n"
                + "endmodule\n");

    for (RtlException refused :
        List.of(
            assertThrows(RtlException.class, () -> Elaborator.elaborate(source)),
            assertThrows(RtlException.class, () -> CompiledDesign.of(source)))) {
      assertEquals(1, refused.messages().size(), refused.getMessage());
      assertEquals(
          folder.resolve("dial.sv") + ":3:5", refused.messages().get(0).location().toString());
      // 5.032 puts the name in quotation marks.
      assertEquals(
          "W is too small: 4; In instance dial", refused.messages().get(0).text().replace("'", ""));
    }
    assertEquals("dial", Elaborator.elaborate(source.withParameter("W", "8")).top());
  }

  /** IEEE 1800-2017, 3.11: a module that no other instantiates is a top of its own. */
  @Test
  void severalTopsAreNamedUntilOneIsChosen() throws IOException {
    RtlSource source =
        source(
            """
            module bell(input [7:0] a, output [7:0] y); clapper inner(.a, .y); endmodule
            module clapper(input [7:0] a, output [7:0] y); assign y = a; endmodule
            module gong(input [7:0] a, output [7:0] y); assign y = ~a; endmodule
            """);
    String file = folder.resolve("dial.sv").toString();

    for (RtlException refused :
        List.of(
            assertThrows(RtlException.class, () -> Elaborator.elaborate(source)),
            assertThrows(RtlException.class, () -> CompiledDesign.of(source)))) {
      assertEquals(
          "The source has 2 modules that no other module instantiates; one top is allowed. Name"
              + " it by --top, RtlSource.withTop or @DesignUnderTest(top = ...)",
          refused.getMessage().lines().findFirst().orElse("").replaceAll("[.:]$", ""));
      assertEquals(
          List.of(file + ":1: module \"bell\"", file + ":3: module \"gong\""),
          refused.messages().stream().map(RtlException.Message::toString).sorted().toList());
    }
    assertEquals("gong", Elaborator.elaborate(source.withTop("gong")).top());
  }

  /** IEEE 1800-2017, 20.11: warnings and notes do not stop an elaboration. */
  @Test
  void aWarningOrNoteThatTheSourceRaisesIsNone() throws IOException {
    RtlSource source =
        source(
            """
            module dial (input a, output y);
              if (1) $warning("old");
              if (1) $info("new");
              assign y = a;
            endmodule
            """);

    assertEquals(2, Elaborator.elaborate(source).ports().size());
  }

  /**
   * IEEE 1800-2017, 11.6.1: N - 1 with an unsigned N of 0 is 2^32 - 1; what Verilator builds then
   * is a range down to -1.
   */
  @ParameterizedTest
  @CsvSource({"int unsigned", "logic [31:0]", "[3:0]", "int"})
  @Tag("thorough")
  void aBoundThatWrapsBelowZeroIsReadAsVerilatorBuildsIt(String type) throws IOException {
    RtlSource source =
        source(
            "module dial #(parameter "
                + type
                + " N = 0) (input logic [N-1:0] a, input logic [N-1:0][3:0] b,\n"
                + "  input logic c [N-1:0], output logic [N-1:0][3:0] y);\n"
                + "  assign y = b;\nendmodule\n");

    Design design = Elaborator.elaborate(source);

    assertEquals(List.of(new Port.Range(-1, 0)), design.findPort("a").orElseThrow().packed());
    assertEquals(
        List.of(new Port.Range(-1, 0), new Port.Range(3, 0)),
        design.findPort("b").orElseThrow().packed());
    assertEquals(List.of(new Port.Range(-1, 0)), design.findPort("c").orElseThrow().unpacked());
    assertEquals(8, design.findPort("y").orElseThrow().width());
    CompiledDesign.of(source).open().close();
  }

  @Test
  void aClockIsSeenThroughConnectionsByPosition() throws IOException {
    RtlSource source =
        source(
            """
            module leaf(q, clk, d);
              output reg [3:0] q; input clk; input [3:0] d;
              always @(posedge clk) q <= d + q;
            endmodule
            module low(input tick, input [3:0] d, output reg [3:0] q);
              always @(negedge tick) q <= d;
            endmodule
            module dial(input clk, input other, input [3:0] d, output [3:0] q, output [3:0] r);
              leaf l(q, clk, d);
              low m(other, d, r);
            endmodule
            """);

    assertEquals(
        List.of("clk RISING", "other FALLING"),
        Elaborator.elaborate(source.withTop("dial")).clocks().stream()
            .map(clock -> clock.port() + " " + clock.edge())
            .toList());
  }

  /** Latin-1 is not UTF-8, and no file system has names with a NUL in them. */
  @ParameterizedTest
  @ValueSource(strings = {"// caf\u00e9\n", "-I inc\0lude\n", "+incdir+caf\u00e9\n"})
  void whateverAFileListHasTheDesignIsBuiltOrRefused(String line) throws IOException {
    RtlSource source = source("module dial (input a, output y); assign y = a; endmodule\n");
    Path list =
        Files.writeString(
            folder.resolve("dial.f"),
            line + source.files().get(0) + "\n",
            StandardCharsets.ISO_8859_1);

    try {
      CompiledDesign.of(RtlSource.of().withFileList(list)).open().close();
    } catch (RtlException e) {
      assertTrue(line.contains("\0"), e.getMessage());
    }
  }

  @Test
  void anElaborationThatIsKilledWithoutAWordIsTold() throws IOException {
    SourceNames names = SourceNames.of(source("module dial; endmodule\n"), folder);

    ToolchainException e =
        assertThrows(
            ToolchainException.class,
            () ->
                Elaborator.check(
                    names, new Command.Outcome(List.of("verilator"), 137, "", 0, 0), folder));

    assertTrue(
        e.getMessage().startsWith("verilator ended with status 137 and said nothing"),
        e.getMessage());
    assertTrue(e.getMessage().contains("dial.sv"), e.getMessage());
  }

  @Test
  void whatAFileListPassesAndCannotBePassedIsRefusedByItsLine() throws IOException {
    RtlSource source = source("module dial (input a, output y); assign y = a; endmodule\n");
    Path list =
        Files.writeString(
            folder.resolve("dial.f"),
            "// --sc\n" + source.files().get(0) + "\n+define+A=1 --trace\n# -Mdir x\n");

    RtlException refused =
        assertThrows(
            RtlException.class, () -> Elaborator.elaborate(RtlSource.of().withFileList(list)));

    assertEquals(1, refused.messages().size(), refused.getMessage());
    assertEquals(list + ":3", refused.messages().get(0).location().toString());
    Files.writeString(list, Files.readString(list).replace("--trace", "-Wall"));
    assertEquals(2, Elaborator.elaborate(RtlSource.of().withFileList(list)).ports().size());
  }
}
