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
            "-GW=100",
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
            "-G",
            "W=100",
            top.toString());
    for (List<String> arguments : List.of(glued, apart)) {
      CommandLineRun run = CommandLineRun.of(arguments);
      assertEquals(0, run.status(), run.err());
      assertEquals("113", csv(run.out()).get(0).get("width"));
    }
  }

  @Test
  void anErrorInTheSourceIsToldWithItsPlace() throws IOException {
    Path file =
        Files.writeString(
            folder.resolve("broken.v"), "module broken (input a);\n  assign ;\nend\n");

    String err = CommandLineRun.of("ports", file.toString()).refusal(2);
    assertTrue(err.contains(file + ":2"), err);

    err = CommandLineRun.of("ports", folder.resolve("absent.v").toString()).refusal(2);
    assertTrue(err.contains("absent.v"), err);
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
