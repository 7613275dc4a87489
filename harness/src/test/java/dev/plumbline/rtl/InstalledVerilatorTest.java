package dev.plumbline.rtl;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Whatever Verilator is installed, run for real and read in the form it writes. */
class InstalledVerilatorTest
    implements PortRules, ParameterRules, ClockRules, StateRules, RefusalRules {
  private static final Path RTL = Path.of("src/test/rtl");

  @TempDir static Path work;

  private static final Map<String, Design> designs = new HashMap<>();

  private static boolean xml;

  private record Run(int status, String output) {}

  @BeforeAll
  static void verilatorIsInstalled() {
    boolean present;
    try {
      present = run("--version").status() == 0;
    } catch (UncheckedIOException e) {
      present = false;
    }
    assumeTrue(present, "verilator is not on the PATH");
    xml = run(arguments(source("lens"), "--xml-only")).status() == 0;
  }

  private static Run run(String... arguments) {
    List<String> command = new ArrayList<>(List.of("verilator"));
    command.addAll(List.of(arguments));
    try {
      Path output = Files.createTempFile(work, "verilator", ".txt");
      Process process =
          new ProcessBuilder(command)
              .redirectErrorStream(true)
              .redirectOutput(output.toFile())
              .start();
      return new Run(process.waitFor(), Files.readString(output, StandardCharsets.UTF_8));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException(e);
    }
  }

  private static String[] arguments(RtlSource source, String... form) {
    List<String> arguments = new ArrayList<>(List.of(form));
    arguments.addAll(
        List.of("--no-timing", "-Wno-fatal", "--prefix", "V", "--Mdir", work.toString()));
    arguments.addAll(source.arguments());
    return arguments.toArray(String[]::new);
  }

  private static RtlSource source(String name) {
    Path file = RTL.resolve(name + ".sv");
    return RtlSource.of(Files.exists(file) ? file : RTL.resolve(name + ".v"))
        .withTop(name)
        .withIncludeFolder(RTL.resolve("include"));
  }

  private static Design read(RtlSource source) {
    Run run = run(arguments(source, xml ? "--xml-only" : "--json-only"));
    assertEquals(0, run.status(), run.output());
    return xml
        ? DesignReader.fromXml(work.resolve("V.xml"), source.parameters())
        : DesignReader.fromJson(
            work.resolve("V.tree.json"), work.resolve("V.tree.meta.json"), source.parameters());
  }

  @Override
  public Design read(String name) {
    return designs.computeIfAbsent(name, it -> read(source(it)));
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
    Design installed = read(name);
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
    assertEquals("lens", read(RtlSource.of(RTL.resolve("lens.sv"))).top());
  }

  @Test
  void overriddenParametersArriveWithTheirValueAndChangeWidths() {
    Design design =
        read(
            source("dial")
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
        read(
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

    assertEquals("\u0003<&>é\n", value(read(RtlSource.of(file).withTop("odd")), "Text"));
  }

  @Test
  void aFileInAFolderWithABlankInItsNameIsFoundAgain() throws IOException {
    Path file = Files.createDirectory(work.resolve("two words")).resolve("post.sv");
    Files.writeString(
        file, "module post(input struct {logic a;} open, input wire b);\nendmodule\n");

    RtlException refused =
        assertThrows(RtlException.class, () -> read(RtlSource.of(file).withTop("post")));

    assertEquals(
        file + ":1: port \"open\" is an unpacked struct; declare it \"struct packed\"",
        refused.messages().get(0).toString());
  }

  @Test
  void interfacesAmongThePortsOfTheTopAreRefusedByName() {
    RtlSource source = source("interface_port");

    Run run = run(arguments(source, xml ? "--xml-only" : "--json-only"));

    assertEquals(1, run.status());
    VerilatorMessagesTest.assertInterfacePorts(VerilatorMessages.errors(run.output()));
  }

  @Test
  void everyPortHasItsMemberInTheGeneratedHeader() throws IOException {
    Run run = run(arguments(source("dial"), "--cc"));
    assertEquals(0, run.status(), run.output());

    CppNamesTest.assertDial(Files.readString(work.resolve("V.h")));
  }
}
