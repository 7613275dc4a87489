package dev.plumbline.rtl;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The installed Verilator describes designs as the recorded one does, and takes what we pass. */
class InstalledVerilatorTest {
  @TempDir static Path work;

  private static InstalledVerilator verilator;

  @BeforeAll
  static void verilatorIsInstalled() {
    verilator = new InstalledVerilator(work);
  }

  private static String value(Design design, String parameter) {
    return design.parameters().stream()
        .filter(it -> it.name().equals(parameter))
        .findFirst()
        .orElseThrow()
        .value();
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "gallery", "plate", "dial", "gearbox", "winding", "ratchet", "lens", "shutter", "lantern",
        "archive"
      })
  void theInstalledVersionAndTheRecordedOneDescribeTheSameDesign(String name) {
    Design installed = verilator.read(name);
    Design recorded = Recorded.xml("5.006", name);

    assertEquals(recorded.ports(), installed.ports());
    assertEquals(recorded.parameters(), installed.parameters());
    assertEquals(recorded.clocks(), installed.clocks());
    assertEquals(recorded.asyncResets(), installed.asyncResets());
    assertEquals(recorded.state(), installed.state());
    assertEquals(recorded.instances(), installed.instances());
  }

  @Test
  void aSourceWithoutANamedTopIsReadByItsOnlyModule() {
    assertEquals(
        "lens", verilator.read(RtlSource.of(InstalledVerilator.RTL.resolve("lens.sv"))).top());
  }

  @Test
  void overriddenParametersArriveWithTheirValueAndChangeWidths() {
    Design design =
        verilator.read(
            InstalledVerilator.source("dial")
                .withParameter("Teeth", "60")
                .withParameter("Trim", "-8'sd100")
                .withParameter("Offset", "-1")
                .withParameter("Label", "\"mid\\tday $x \\\\ end\"")
                .withParameter("Motto", "\"a\\\\b c\"")
                .withParameter("Empty", "\"\"")
                .withParameter("Magic", "32'h45464748")
                .withParameter("Ratio", "2.5"));

    assertEquals("60", value(design, "Teeth"));
    assertEquals("120", value(design, "Twice"));
    assertEquals("-100", value(design, "Trim"));
    assertEquals("-1", value(design, "Offset"));
    assertEquals("mid\tday $x \\ end", value(design, "Label"));
    assertEquals("a\\b c", value(design, "Motto"));
    assertEquals("", value(design, "Empty"));
    assertEquals("1162233672", value(design, "Magic"));
    assertEquals("2.5", value(design, "Ratio"));
    assertEquals(15, design.findPort("hand$angle").orElseThrow().width());
  }

  @Test
  void sourcesFromAFileListWithALibraryFolderAndDefinesAreRead() throws IOException {
    Path library = Files.createDirectory(work.resolve("cells"));
    Files.writeString(
        library.resolve("cog.sv"),
        "module cog(input logic tick, output logic q); always_ff @(posedge tick) q <= !q;"
            + " endmodule\n");
    Path top = work.resolve("train.sv");
    Files.writeString(
        top,
        """
        module train(input logic [`WIDTH-1:0] a, input logic tick, output logic q);
        `ifdef BARE
          localparam Text = `TEXT;
          cog cog(.tick(tick), .q(q));
        `endif
        endmodule
        """);
    Path list = work.resolve("train.f");
    Files.writeString(list, "// the only source\n" + top + "\n+define+WIDTH=5\n");

    Design design =
        verilator.read(
            RtlSource.of()
                .withFileList(list)
                .withLibraryFolder(library)
                .withDefine("BARE", "")
                .withDefine("TEXT", "\"a b\""));

    assertEquals(5, design.findPort("a").orElseThrow().width());
    assertEquals("a b", value(design, "Text"));
    assertEquals(List.of("tick"), design.clocks().stream().map(Clock::port).toList());
    assertTrue(design.files().containsAll(List.of(top, library.resolve("cog.sv"))));
  }

  @Test
  void charactersThatXmlDoesNotTakeAreReadAllTheSame() throws IOException {
    Path file = work.resolve("odd.sv");
    Files.writeString(
        file, "module odd #(parameter string Text = \"\\003<&>é\\n\") (input wire a); endmodule\n");

    assertEquals("\u0003<&>é\n", value(verilator.read(RtlSource.of(file).withTop("odd")), "Text"));
  }

  @Test
  void aFileInAFolderWithABlankInItsNameIsFoundAgain() throws IOException {
    Path file = Files.createDirectory(work.resolve("two words")).resolve("post.sv");
    Files.writeString(
        file, "module post(input struct {logic a;} open, input wire b);\nendmodule\n");

    RtlException refused =
        assertThrows(RtlException.class, () -> verilator.read(RtlSource.of(file).withTop("post")));

    assertEquals(
        file + ":1: port \"open\" is an unpacked struct; declare it \"struct packed\"",
        refused.messages().get(0).toString());
  }

  @Test
  void interfacesAmongThePortsOfTheTopAreRefusedByName() {
    RtlSource source = InstalledVerilator.source("interface_port");

    InstalledVerilator.Run run = verilator.describe(source);

    assertEquals(1, run.status());
    VerilatorMessagesTest.assertInterfacePorts(VerilatorMessages.errors(run.output()));
  }

  @Test
  void everyPortHasItsMemberInTheGeneratedHeader() throws IOException {
    InstalledVerilator.Run run = verilator.generate(InstalledVerilator.source("dial"));
    assertEquals(0, run.status(), run.output());

    CppNamesTest.assertDial(Files.readString(work.resolve("V.h")));
  }
}
