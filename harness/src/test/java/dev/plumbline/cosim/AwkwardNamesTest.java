package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.RtlException;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.toolchain.Elaborator;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Names of ports and of files that mean something to Verilator, to C++ or to a shell. */
@Tag("thorough")
class AwkwardNamesTest {
  private static final BuildOptions QUICK = BuildOptions.defaults().withOptimisation(false);

  /** Words of C, C++ and its library, macros of systems, names of our own C++. */
  private static final List<String> PORTS =
      List.of(
          "vlSelf",
          "at",
          "root",
          "plumb",
          "Root",
          "Model",
          "NULL",
          "EOF",
          "errno",
          "stdin",
          "unix",
          "linux",
          "size_t",
          "uint8_t",
          "int64_t",
          "column",
          "memset",
          "printf",
          "isspace",
          "drive",
          "sample_outputs",
          "TOP",
          "top",
          "handle",
          "nullptr",
          "template",
          "delete",
          "major",
          "assertOn");

  @TempDir private Path folder;

  @Test
  void portsMayBeCalledLikeWordsOfCAndOfItsLibrary() throws IOException {
    String inputs = String.join(", ", PORTS.stream().map(name -> "input [3:0] " + name).toList());
    String sum = String.join(" ^ ", PORTS);
    Path file =
        Files.writeString(
            folder.resolve("roll.v"),
            "module roll(" + inputs + ", output [3:0] y); assign y = " + sum + "; endmodule\n");
    try (Dut dut = CompiledDesign.of(RtlSource.of(file), QUICK).open()) {
      for (int i = 0; i < PORTS.size(); i++) {
        dut.set(PORTS.get(i), i % 16);
        dut.cycle();
        int wanted = IntStream.rangeClosed(0, i).map(k -> k % 16).reduce(0, (a, b) -> a ^ b);
        assertEquals(wanted, dut.get("y"), PORTS.get(i));
      }
    }
  }

  /** 5.032 and later have a package and functions of these names in every design. */
  @ParameterizedTest
  @ValueSource(strings = {"std", "trace"})
  void aPortCalledLikeWhatLaterVersionsHaveIsDrivenOrRefusedByName(String name) throws IOException {
    Path file =
        Files.writeString(
            folder.resolve("roll.v"),
            "module roll(input [3:0] "
                + name
                + ", output [3:0] y); assign y = "
                + name
                + "; endmodule\n");
    try (Dut dut = CompiledDesign.of(RtlSource.of(file), QUICK).open()) {
      dut.set(name, 9);
      dut.cycle();
      assertEquals(9, dut.get("y"));
    } catch (RtlException refused) {
      assertTrue(
          refused.getMessage().contains("port \"" + name + "\"")
              || refused.getMessage().contains("port: '" + name + "'"),
          refused.getMessage());
    }
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "eval",
        "eval_step",
        "name",
        "hierName",
        "contextp",
        "rootp",
        "vlSymsp",
        "IData",
        "Vdut",
        "VL_IN8",
        "VlWide",
        "VerilatedContext"
      })
  void aPortCalledLikeAPartOfTheGeneratedClassIsRefusedByName(String name) throws IOException {
    Path file =
        Files.writeString(
            folder.resolve("roll.v"),
            "module roll(\n  input "
                + name
                + ",\n  output y);\n  assign y = "
                + name
                + ";\nendmodule\n");

    RtlException refused =
        assertThrows(RtlException.class, () -> CompiledDesign.of(RtlSource.of(file), QUICK));

    assertTrue(refused.getMessage().contains("rename"), refused.getMessage());
    assertEquals(
        List.of(file + ":2: port \"" + name + "\""),
        refused.messages().stream().map(RtlException.Message::toString).toList());
    assertEquals(2, Elaborator.elaborate(RtlSource.of(file)).ports().size());
  }

  private RtlSource roll(String name) throws IOException {
    Path rtl = Files.createDirectory(folder.resolve(name));
    Files.writeString(rtl.resolve("width.vh"), "`define TOP 3\n");
    Files.writeString(
        rtl.resolve("cog.v"),
        """
        module cog(input clk, input [3:0] d, output reg [3:0] q);
          always @(posedge clk) begin
            q <= d;
            if (d == 5)
              $error("five");
          end
        endmodule
        """);
    Path file =
        Files.writeString(
            rtl.resolve("roll.v"),
            """
            `include "width.vh"
            module roll(input clk, input [`TOP:0] d, output [`TOP:0] q);
              cog cog(clk, d, q);
            endmodule
            """);
    return RtlSource.of(file).withLibraryFolder(rtl).withIncludeFolder(rtl);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "a&b", "a<b", "a>b", "a$b", "a b", "a\"b", "%s", "a\tb", "$HOME", "${HOME}", "é'-"
      })
  void aFolderMayBeCalledAnything(String name) throws IOException {
    RtlSource source = roll(name);
    Path cog = folder.resolve(name).resolve("cog.v");

    Design design = Elaborator.elaborate(source);
    assertEquals(source.files().get(0) + ":2", design.ports().get(1).location().toString());
    assertTrue(design.files().contains(source.files().get(0)), design.toString());
    assertTrue(design.files().contains(cog), design.toString());

    Files.writeString(cog, "module cog(input clk);\n  assign ;\nendmodule\n");
    RtlException refused = assertThrows(RtlException.class, () -> Elaborator.elaborate(source));
    assertEquals(cog + ":2:10", refused.messages().get(0).location().toString());
  }

  @Test
  void aModelTellsItsPlacesByTheUsersNames() throws IOException {
    RtlSource source = roll("a&b <\"%s\"> $HOME\t${HOME}");
    Path cog = source.files().get(0).resolveSibling("cog.v");
    Design design = Elaborator.elaborate(source);
    for (int time = 0; time < 2; time++) { // the second time from the cache
      CompiledDesign model = CompiledDesign.of(source, QUICK);
      assertEquals(design, model.design());
      try (Dut dut = model.open()) {
        dut.set("d", 5);
        DutEndedException end = assertThrows(DutEndedException.class, dut::cycle);
        assertEquals(DutEndedException.Kind.ERROR, end.kind());
        assertEquals(cog + ":5", end.location().toString());
        assertTrue(end.reason().startsWith("five"), end.reason());
      }
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"a b.v", "-x.v", "+x.v", "a\"b.sv", "a>b.v"})
  void aFileMayBeCalledAnything(String name) throws IOException {
    Files.writeString(folder.resolve("width.vh"), "`define TOP 3\n");
    Path file =
        Files.writeString(
            folder.resolve(name),
            """
            `include "width.vh"
            module roll(input [`TOP:0] d, output [`TOP:0] q);
              assign q = d;
            endmodule
            """);

    Design design = Elaborator.elaborate(RtlSource.of(file));

    assertEquals(file + ":2", design.ports().get(0).location().toString());
    assertFalse(design.files().isEmpty());
  }

  @Test
  void whatIsMadePublicToCDoesNoHarm() throws IOException {
    Path file =
        Files.writeString(
            folder.resolve("roll.v"),
            """
            module roll(input clk, input d, output reg q);
              reg r /*verilator public*/;
              always @(posedge clk) begin r <= d; q <= r; end
            endmodule
            """);
    try (Dut dut = CompiledDesign.of(RtlSource.of(file), QUICK).open()) {
      dut.set("d", 1);
      dut.cycles(3);
      assertEquals(1, dut.get("q"));
    }
  }
}
