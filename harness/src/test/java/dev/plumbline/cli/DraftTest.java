package dev.plumbline.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.platform.engine.discovery.DiscoverySelectors.selectClass;

import java.io.IOException;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.tools.ToolProvider;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.platform.launcher.core.LauncherDiscoveryRequestBuilder;
import org.junit.platform.launcher.core.LauncherFactory;
import org.junit.platform.launcher.listeners.SummaryGeneratingListener;
import org.junit.platform.launcher.listeners.TestExecutionSummary;

/** Drafted classes are compiled and run as they were written. */
class DraftTest {
  private static final Path FOREIGN = Path.of("src/test/rtl/foreign").toAbsolutePath();

  @TempDir private Path folder;

  private TestExecutionSummary draftAndRun(Path rtl, String name, String... options)
      throws Exception {
    Path source = folder.resolve(name + ".java");
    List<String> line = new ArrayList<>(List.of("draft", "--to", source.toString()));
    line.addAll(List.of(options));
    line.add(rtl.toString());
    CommandLineRun run = CommandLineRun.of(line);
    assertEquals(0, run.status(), run.err());
    String path = System.getProperty("java.class.path");
    int compiled =
        ToolProvider.getSystemJavaCompiler()
            .run(
                null,
                null,
                null,
                "-cp",
                path,
                "-Xlint:all",
                "-Werror",
                "-proc:none",
                "-d",
                folder.toString(),
                source.toString());
    assertEquals(0, compiled, Files.readString(source));
    URL[] classes = {folder.toUri().toURL()};
    try (URLClassLoader loader = new URLClassLoader(classes, getClass().getClassLoader())) {
      SummaryGeneratingListener listener = new SummaryGeneratingListener();
      LauncherFactory.create()
          .execute(
              LauncherDiscoveryRequestBuilder.request()
                  .selectors(selectClass(loader.loadClass(name)))
                  .configurationParameter("plumbline.reports", folder.resolve("reports").toString())
                  .build(),
              listener);
      return listener.getSummary();
    }
  }

  private void passes(String file, String name, String... options) throws Exception {
    TestExecutionSummary summary = draftAndRun(FOREIGN.resolve(file), name, options);
    summary.getFailures().forEach(failure -> throwAgain(failure.getException()));
    assertEquals(1, summary.getTestsSucceededCount());
    assertTrue(
        Files.readString(folder.resolve("reports/latest/summary.csv")).contains("pass"),
        "the verdict is in the report");
  }

  private static void throwAgain(Throwable thrown) {
    throw new AssertionError(thrown);
  }

  @Test
  @Tag("thorough")
  void sphereRunsAsDrafted() throws Exception {
    passes("planet.v", "PlanetTest");
    String drafted = Files.readString(folder.resolve("PlanetTest.java"));
    assertTrue(drafted.contains("        .formula(Sphere.Formula.SQUARES)\n"), drafted);
    assertTrue(drafted.contains("    // All 99"), drafted);
    assertTrue(
        drafted.replaceAll("\n    //", "").contains("LSB wide at the median, instead of"), drafted);
    assertTrue(drafted.lines().allMatch(line -> line.length() <= 100), drafted);
  }

  @Test
  void formulaOfASphereIsAskedForOrLeftOpen() throws Exception {
    CommandLineRun any =
        CommandLineRun.of("draft", "--formula", "any", FOREIGN.resolve("planet.v").toString());
    assertTrue(
        any.out().contains("    // Bounds of any formula: .formula(Sphere.Formula.SQUARES), say"),
        any.out());
    CommandLineRun said =
        CommandLineRun.of(
            "draft", "--formula", "Perpendicular", FOREIGN.resolve("planet.v").toString());
    assertTrue(said.out().contains(".formula(Sphere.Formula.PERPENDICULAR)\n"), said.out());
    assertFalse(said.out().contains("    // "), said.out());
    CommandLineRun wrong =
        CommandLineRun.of("draft", "--formula", "round", FOREIGN.resolve("planet.v").toString());
    assertTrue(
        wrong.err().contains("--formula round: it is any, length, squares or perpendicular"),
        wrong.err());
  }

  /** Results that fit no formula are drafted all the same: the class will say what differs. */
  @Test
  @Tag("thorough")
  void sphereThatFitsNoFormulaIsDraftedForAny() throws Exception {
    String text = Files.readString(FOREIGN.resolve("planet.v"));
    Path rtl =
        Files.writeString(
            folder.resolve("planet.v"), text.replace("limit(enter)", "limit(enter - 99)"));
    CommandLineRun run = CommandLineRun.of("draft", rtl.toString());
    assertEquals(0, run.status(), run.err());
    assertTrue(run.out().contains("    // Bounds of any formula"), run.out());
  }

  @Test
  @Tag("thorough")
  void boxRunsAsDrafted() throws Exception {
    passes("frame_bar.v", "FrameBarTest");
  }

  /** Operands that come an axis a beat are drafted so, by the names of their buses. */
  @Test
  @Tag("thorough")
  void boxOnNarrowBusesRunsAsDrafted() throws Exception {
    passes(
        "frame_post.v",
        "FramePostTest",
        "--top",
        "frame_post",
        FOREIGN.resolve("frame_bar.v").toString());
    String drafted = Files.readString(folder.resolve("FramePostTest.java"));
    assertTrue(
        drafted.contains(
            "            Beats.on(\"ray_org\", \"origin_x\", \"origin_y\", \"origin_z\")\n"
                + "                .and(\"ray_dir\", \"direction_x\","),
        drafted);
    assertTrue(drafted.contains("    // One axis a beat, x first"), drafted);
    assertFalse(drafted.contains(".margin("), drafted);
  }

  /** A box that adds a margin is drafted with it, and one that no margin explains says so. */
  @Test
  @Tag("thorough")
  void marginOfABoxIsMeasured() throws Exception {
    String exact = "tin <= tout && tout >= 0";
    String text = Files.readString(FOREIGN.resolve("frame_bar.v"));
    assertTrue(text.contains(exact), text);
    Path wide =
        Files.writeString(
            folder.resolve("frame_bar.v"),
            text.replace(exact, "tin <= tout + 64'sd5 && tout + 64'sd5 >= 0"));
    passes(wide.toString(), "FrameBarTest");
    String drafted = Files.readString(folder.resolve("FrameBarTest.java"));
    Matcher margin = Pattern.compile("        .margin\\((\\d+)\\)\n").matcher(drafted);
    assertTrue(margin.find(), drafted);
    assertEquals(5, Double.parseDouble(margin.group(1)), 1, drafted); // roundings may hide one
    assertTrue(drafted.contains("    // All 100000 cases of a trial fit"), drafted);

    Files.writeString(wide, text.replace(exact, "tin < tout + 64'sd99 && tout >= 0"));
    CommandLineRun run = CommandLineRun.of("draft", wide.toString());
    assertTrue(run.out().contains("    // No margin fits all 100000 cases of a trial"), run.out());
  }

  /** Where one bus has it all, the refusal says how its beats are declared. */
  @Test
  void operandsOnOneBusAreToldHowToDeclare() throws IOException {
    String bus =
        "module m(input clk, input in_valid, input [15:0] data, output reg out_valid,"
            + " output reg hit); always @(posedge clk) {hit, out_valid} <= {^data, in_valid};"
            + " endmodule\n";
    String refusal = refused(bus);
    assertTrue(refusal.contains("are placed by .beats(Beats.on(\"BUS\", \"origin_x\""), refusal);
  }

  /** Vectors in one port each are cut, as wide as the numbers of the module say. */
  @Test
  @Tag("thorough")
  void vectorsSideBySideRunAsDrafted() throws Exception {
    String text = Files.readString(FOREIGN.resolve("planet.v"));
    for (String[] vector :
        new String[][] {{"o", "pos", "32"}, {"d", "dir", "18"}, {"c", "ctr", "32"}}) {
      int width = Integer.parseInt(vector[2]);
      text =
          text.replaceFirst(
              String.format(Locale.ROOT, "input  wire signed .* %1$sx, %1$sy, %1$sz,", vector[0]),
              String.format(Locale.ROOT, "input  wire [%d:0] %s,", 3 * width - 1, vector[1]));
      for (int axis = 0; axis < 3; axis++) {
        text =
            text.replaceAll(
                String.format(Locale.ROOT, "\\(%s%c\\)", vector[0], "xyz".charAt(axis)),
                String.format(
                    Locale.ROOT,
                    "(\\$signed(%s[%d:%d]))",
                    vector[1],
                    width * axis + width - 1,
                    width * axis));
      }
    }
    passes(Files.writeString(folder.resolve("planet.v"), text).toString(), "PlanetTest");
    String drafted = Files.readString(folder.resolve("PlanetTest.java"));
    assertTrue(
        drafted.contains(".packed(\"dir\", \"direction_x\", \"direction_y\", \"direction_z\")\n"),
        drafted);
    assertTrue(drafted.contains(".direction(Format.signed(2, 16))"), drafted);
    assertTrue(drafted.contains("    // Three axes in a port, x in the lowest bits;"), drafted);
  }

  /** Of a vector that is an array each element is named. */
  @Test
  @Tag("thorough")
  void vectorsInArraysRunAsDrafted() throws Exception {
    String text = Files.readString(FOREIGN.resolve("planet.v"));
    for (String vector : List.of("o", "d", "c")) {
      text =
          text.replaceFirst(
              String.format(Locale.ROOT, "(input  wire signed .*) %1$sx, %1$sy, %1$sz,", vector),
              "$1 " + vector + " [2:0],");
      for (int axis = 0; axis < 3; axis++) {
        text =
            text.replaceAll(
                "\\(" + vector + "xyz".charAt(axis) + "\\)", "(" + vector + "[" + axis + "])");
      }
    }
    passes(Files.writeString(folder.resolve("planet.sv"), text).toString(), "PlanetTest");
    String drafted = Files.readString(folder.resolve("PlanetTest.java"));
    assertTrue(drafted.contains(".port(\"direction_x\", \"d[0]\")\n"), drafted);
    assertTrue(drafted.contains(".direction(Format.signed(2, 16))"), drafted);
  }

  /** Where one vector has everything, no order is guessed: what to write is said. */
  @Test
  void operandsInOneVectorAreToldHowToDeclare() throws IOException {
    String vector =
        "module m(input clk, input [223:0] ray, output reg hit, output reg [31:0] t0);"
            + " always @(posedge clk) {hit, t0} <= {^ray, ray[31:0]}; endmodule\n";
    String refusal = refused(vector);
    assertTrue(refusal.contains("by .packed(\"PORT\", \"origin_x\", ...)"), refusal);
    refusal = refused(vector, "--block", "sphere");
    assertTrue(refusal.contains("called as \"origin_x\" of a sphere may be"), refusal);
    assertTrue(refusal.contains("SphereBench.of(bench)"), refusal);
    assertTrue(refusal.contains(".packed(\"ray\", \"origin_x\", ...)"), refusal);
  }

  /** A block whose operands are written to registers is nothing that a draft can drive. */
  @Test
  void operandsBehindRegistersAreToldHowToDrive() throws IOException {
    String registers =
        "module m(input clk, input we, input [3:0] adr, input [31:0] wdat, output reg [31:0] rdat);"
            + " reg [31:0] r [0:15]; always @(posedge clk) begin if (we) r[adr] <= wdat;"
            + " rdat <= r[adr]; end endmodule\n";
    for (String[] options : new String[][] {{}, {"--block", "box"}, {"--block", "multiplier"}}) {
      String refusal = refused(registers, options);
      assertTrue(refusal.contains("driven by a Bus"), refusal);
      assertTrue(refusal.contains("\"Registers, by hand and from a text\""), refusal);
    }
  }

  @Test
  void reciprocalRunsAsDrafted() throws Exception {
    passes("ratio.v", "RatioTest", "--word", "s16.16");
  }

  @Test
  @Tag("thorough")
  void rootRunsAsDrafted() throws Exception {
    passes("arm_length.v", "ArmLengthTest", "--word", "u32.0", "--result", "u16.0");
  }

  @Test
  @Tag("thorough")
  void planeRunsAsDrafted() throws Exception {
    passes("table_top.v", "TableTopTest");
    String drafted = Files.readString(folder.resolve("TableTopTest.java"));
    assertTrue(drafted.contains("PlaneBench.of(bench)"), drafted);
    assertTrue(drafted.contains(".direction(Format.signed(2, 16))"), drafted);
  }

  /** A product into fewer bits is drafted to saturate, and the class says how to have it wrap. */
  @Test
  @Tag("thorough")
  void multiplierIntoAWordRunsAsDrafted() throws Exception {
    String wraps = "full[47:16]";
    String saturates =
        "full > 64'sh7fffffffffff ? 32'sh7fffffff"
            + " : full < -64'sh800000000000 ? 32'sh80000000 : full[47:16]";
    findsIn("torque.v", "TorqueTest", wraps, wraps);
    String drafted = Files.readString(folder.resolve("TorqueTest.java"));
    assertTrue(drafted.contains(".overflow(Overflow.WRAP)"), drafted);
    assertTrue(drafted.contains(".product(Format.signed(16, 16))"), drafted);

    String text = Files.readString(FOREIGN.resolve("torque.v"));
    Path saturating = Files.writeString(folder.resolve("torque.v"), text.replace(wraps, saturates));
    TestExecutionSummary summary = draftAndRun(saturating, "TorqueTest", "--overwrite");
    summary.getFailures().forEach(failure -> throwAgain(failure.getException()));
    assertEquals(1, summary.getTestsSucceededCount());
  }

  @Test
  @Tag("thorough")
  void multiplierThatKeepsEveryBitRunsAsDrafted() throws Exception {
    passes("sweep.v", "SweepTest");
    String drafted = Files.readString(folder.resolve("SweepTest.java"));
    assertTrue(
        drafted.contains(".operands(Format.unsigned(8, 8), Format.signed(8, 8))\n        .check()"),
        drafted);
  }

  @Test
  @Tag("thorough")
  void reciprocalWithoutAClockRunsAsDrafted() throws Exception {
    passes("lever.v", "LeverTest");
  }

  @Test
  @Tag("thorough")
  void rootThatWaitsForItsConsumerRunsAsDrafted() throws Exception {
    passes("gong_radius.v", "GongRadiusTest", "--word", "u16.0", "--result", "u8.0");
  }

  @Test
  @Tag("thorough")
  void multiplierThatTakesACaseWhileIdleRunsAsDrafted() throws Exception {
    passes("cart_load.v", "CartLoadTest");
  }

  private void findsIn(String file, String name, String was, String is) throws Exception {
    String text = Files.readString(FOREIGN.resolve(file));
    assertTrue(text.contains(was), was);
    Path faulty = Files.writeString(folder.resolve(file), text.replace(was, is));
    assertEquals(1, draftAndRun(faulty, name).getTestsFailedCount(), file);
  }

  @Test
  @Tag("thorough")
  void draftedClassFindsAFault() throws Exception {
    String text = Files.readString(FOREIGN.resolve("ratio.v"));
    Path faulty =
        Files.writeString(
            folder.resolve("ratio.v"), text.replace("<= limited;", "<= limited + 32'd2;"));
    TestExecutionSummary summary = draftAndRun(faulty, "RatioTest", "--word", "s16.16");
    assertEquals(1, summary.getTestsFailedCount());
    String message = summary.getFailures().get(0).getException().getMessage();
    assertTrue(message.contains("quot"), message);
  }

  @Test
  void aFileThatIsThereIsNotOverwritten() throws IOException {
    Path there = Files.writeString(folder.resolve("MineTest.java"), "mine");
    String rtl = FOREIGN.resolve("ratio.v").toString();
    String refusal = CommandLineRun.of("draft", "--to", there.toString(), rtl).refusal(2);
    assertTrue(refusal.contains("--overwrite"), refusal);
    assertEquals("mine", Files.readString(there));
    assertEquals(
        0, CommandLineRun.of("draft", "--overwrite", "--to", there.toString(), rtl).status());
    assertTrue(Files.readString(there).contains("class MineTest "));
  }

  @Test
  void aBlockThatPortsDoNotTellIsAskedFor() throws IOException {
    Path rtl =
        Files.writeString(
            folder.resolve("m.v"),
            "module m(input [7:0] angle, output [7:0] turn); assign turn = angle; endmodule");
    String refusal = CommandLineRun.of("draft", rtl.toString()).refusal(2);
    assertTrue(refusal.contains("choose --block sphere, plane, box,"), refusal);
    assertTrue(refusal.contains("a Datapath of your own through a Contract"), refusal);
  }

  private String refused(String module, String... options) throws IOException {
    Path rtl = Files.writeString(folder.resolve("m.v"), module);
    List<String> line = new ArrayList<>(List.of("draft"));
    line.addAll(List.of(options));
    line.add(rtl.toString());
    return CommandLineRun.of(line).refusal(2);
  }

  @Test
  void aFormatThatNoPortHasTheBitsOfIsRefused() throws IOException {
    String inverse = "module m(input [7:0] x,\n output [15:0] y); assign y = {x, x}; endmodule\n";
    String refusal = refused(inverse, "--block", "reciprocal", "--word", "s4.5");
    assertTrue(refusal.contains("--word has 9 bits, port x 8"), refusal);
    assertTrue(refusal.contains("m.v:1"), refusal);
    refusal = refused(inverse, "--block", "reciprocal", "--result", "s4.4");
    assertTrue(refusal.contains("--result has 8 bits, port y 16"), refusal);
  }

  @Test
  void operandsWiderThanAnyFormatAreRefused() throws IOException {
    String wide = "module m(input [199:0] x, output [199:0] y); assign y = ~x; endmodule\n";
    String refusal = refused(wide, "--block", "reciprocal");
    assertTrue(refusal.contains("cannot carry the operands of a reciprocal"), refusal);
    assertTrue(refusal.contains("200 bits"), refusal);
  }

  @Test
  void aFormatOfTooManyDigitsIsRefused() throws IOException {
    String plain = "module m(input [7:0] x, output [7:0] y); assign y = ~x; endmodule\n";
    for (String format :
        List.of("s99999999999.1", "s1.99999999999", "u9999.9999", "s.", "s-1.-1")) {
      String refusal = refused(plain, "--block", "reciprocal", "--word", format);
      assertTrue(refusal.contains("--word"), refusal);
    }
  }

  /** A draft of two clocks compiles, and drives both. */
  @Test
  @Tag("thorough")
  void severalClocksAreDrivenInTheDraft() throws Exception {
    Path file =
        Files.writeString(
            folder.resolve("two.v"),
            Files.readString(FOREIGN.resolve("planet.v"))
                .replaceFirst(
                    "(?s)\\bendmodule",
                    "  reg seen; always @(posedge moon) seen <= ~seen;\nendmodule")
                .replaceFirst("\\(\\s*input", "(input wire moon, input"));
    passes(file.toString(), "PlanetTest");
  }

  @Test
  @Tag("thorough")
  void theRootOfTheFileSystemNamesNoClass() {
    String err =
        CommandLineRun.of("draft", "--to", "/", FOREIGN.resolve("planet.v").toString()).refusal(2);
    assertTrue(err.startsWith("plumbline: --to /: the file names the class"), err);
  }

  @Test
  @Tag("thorough")
  void withoutAFileTheClassIsPrinted() {
    CommandLineRun run = CommandLineRun.of("draft", FOREIGN.resolve("planet.v").toString());
    assertEquals(0, run.status(), run.err());
    assertTrue(run.out().contains("class PlanetTest {"), run.out());
    assertTrue(run.out().contains(".direction(Format.signed(2, 16))"), run.out());
  }
}
