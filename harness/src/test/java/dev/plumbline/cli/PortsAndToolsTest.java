package dev.plumbline.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Holds {@code ports} and {@code tools} to what they promise. */
class PortsAndToolsTest {
  private static final String SHAPES = "src/test/resources/shake/shapes.sv";

  @TempDir private Path folder;

  private static List<CSVRecord> csv(String text) throws IOException {
    CSVFormat format = CSVFormat.RFC4180.builder().setHeader().setSkipHeaderRecord(true).get();
    try (CSVParser parser = CSVParser.parse(text, format)) {
      return parser.getRecords();
    }
  }

  @Test
  void csvHasARowForEachPortInTheOrderOfThePortList() throws IOException {
    CommandLineRun run = CommandLineRun.of("ports", "--csv", SHAPES);

    assertEquals(0, run.status(), run.err());
    List<CSVRecord> rows = csv(run.out());
    assertEquals(
        List.of(
            "clk",
            "point",
            "narrow",
            "ascending",
            "descending",
            "grid",
            "wide",
            "word.64",
            "count",
            "moved",
            "extended",
            "swapped",
            "shifted",
            "turned",
            "mixed",
            "sum[64]",
            "product"),
        rows.stream().map(row -> row.get("port")).toList());
    assertEquals("clock, rising", rows.get(0).get("role"));
    assertEquals("27", rows.get(1).get("width"));
    assertTrue(rows.get(1).get("members").contains("y[18:3] signed"), rows.get(1).toString());
    assertEquals("signed", rows.get(2).get("signed"));
    assertEquals("[0:1]", rows.get(3).get("unpacked"));
    assertEquals("[69:0]", rows.get(3).get("packed"));
    assertEquals("[0:1][2:0]", rows.get(5).get("unpacked"));
    assertEquals("output", rows.get(9).get("direction"));
  }

  @Test
  void textAlignsTheSameFactsUnderHeadings() {
    CommandLineRun run = CommandLineRun.of("ports", SHAPES);

    assertEquals(0, run.status(), run.err());
    List<String> lines = run.out().lines().toList();
    assertEquals("module shapes", lines.get(0));
    String headings = lines.stream().filter(l -> l.startsWith("port ")).findFirst().orElseThrow();
    String wide = lines.stream().filter(l -> l.startsWith("wide ")).findFirst().orElseThrow();
    assertEquals("129", wide.substring(headings.indexOf("width")).split(" ", -1)[0]);
  }

  @Test
  void designOptionsReachVerilatorGluedOrNot() throws IOException {
    Path include = Files.createDirectory(folder.resolve("include"));
    Path library = Files.createDirectory(folder.resolve("library"));
    Files.writeString(include.resolve("width.vh"), "`define BASE 3\n");
    Files.writeString(
        library.resolve("leaf.v"),
        "module leaf #(parameter W = 1) (input [W-1:0] a, output [W-1:0] y);"
            + " assign y = ~a; endmodule\n");
    Path top =
        Files.writeString(
            folder.resolve("root.v"),
            """
            `include "width.vh"
            module root #(parameter W = 1) (input [W+`BASE+`MORE-1:0] a,
                                            output [W+`BASE+`MORE-1:0] y);
              leaf #(.W(W+`BASE+`MORE)) leaf (.a(a), .y(y));
            endmodule
            """);
    Path list = Files.writeString(folder.resolve("list.f"), top + "\n");

    List<String> glued =
        List.of(
            "ports",
            "--csv",
            "--top",
            "root",
            "-I" + include,
            "-y" + library,
            "-DMORE=10",
            "--parameter=W=100",
            "-f" + list);
    List<String> apart =
        List.of(
            "ports",
            "--csv",
            "--top",
            "root",
            "-I",
            include.toString(),
            "-y",
            library.toString(),
            "-D",
            "MORE=10",
            "--parameter",
            "W=100",
            top.toString());
    for (List<String> arguments : List.of(glued, apart)) {
      CommandLineRun run = CommandLineRun.of(arguments);
      assertEquals(0, run.status(), run.err());
      assertEquals("113", csv(run.out()).get(0).get("width"));
    }
  }

  @Test
  void anErrorInTheSourceIsReportedWithItsPlace() throws IOException {
    Path file =
        Files.writeString(
            folder.resolve("broken.v"), "module broken (input a);\n  assign ;\nend\n");

    String err = CommandLineRun.of("ports", file.toString()).refusal(2);
    assertTrue(err.contains(file + ":2"), err);

    err = CommandLineRun.of("ports", folder.resolve("absent.v").toString()).refusal(2);
    assertTrue(err.contains("absent.v"), err);
  }

  @ParameterizedTest
  @CsvSource({
    "ports,Usage: plumbline ports [OPTION]... FILE...; --help explains it",
    "shake,Usage: plumbline shake --cycles N --seed S [OPTION]... FILE...; --help explains it",
    "tools --what,Usage: plumbline tools [OPTION]...; --help explains it",
    "walk,Usage: plumbline VERB [OPTION]...; --help explains it"
  })
  void badUsageEndsWithOneLineOfUsage(String line, String usage) {
    String err = CommandLineRun.of(line.split(" ", -1)).refusal(2);

    assertEquals(usage, err.lines().skip(err.lines().count() - 1).findFirst().orElseThrow(), err);
  }

  @Test
  void anArgumentWithoutEndIsNotQuotedToItsEnd() {
    String err = CommandLineRun.of("ports", "--" + "x".repeat(100_000), "a.sv").refusal(2);
    assertTrue(err.length() < 3000, err.length() + " characters");
  }

  @Test
  void wordsThatWentAreNotTaken() {
    CommandLineRun.of("ports", "-GW=1", SHAPES).refusal(2);
    CommandLineRun.of("ports", "--stack-trace", SHAPES).refusal(2);
  }

  /** No argument is a list of arguments: a file may be called so. */
  @Test
  void anAtSignIsPartOfAName() throws IOException {
    Path file =
        Files.writeString(
            folder.resolve("@gear.v"), "module gear(input a, output y); assign y = a; endmodule\n");
    assertEquals(0, CommandLineRun.of("ports", file.toString()).status());

    String err = CommandLineRun.of("ports", "@" + folder).refusal(2);
    assertTrue(err.contains("@" + folder), err);
    CommandLineRun.of("ports", "@../nowhere").refusal(2);
    CommandLineRun.of("@").refusal(2);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "P=-99999999999'h1",
        "P=-0'h1",
        "P=-8'b9",
        "P=99999999999'h1",
        "P=-99999'h1",
        "P",
        "=1"
      })
  void aParameterThatIsNoLiteralIsRefused(String parameter) throws IOException {
    Path file =
        Files.writeString(
            folder.resolve("gear.v"),
            "module gear #(parameter P = 1) (input a, output y); assign y = a; endmodule\n");

    CommandLineRun.of("ports", "--parameter", parameter, file.toString()).refusal(2);
  }

  @Test
  void toolsNamesEachProgramWithItsVersionAndPlace() {
    CommandLineRun run = CommandLineRun.of("tools");

    assertEquals(0, run.status(), run.err());
    assertTrue(
        run.out().matches("(?s).*\\bverilator +5\\.\\d+ +5\\.006 or newer +yes +/.*"), run.out());
    assertTrue(run.out().matches("(?s).*\\bg\\+\\+ +\\d.*"), run.out());
  }
}
