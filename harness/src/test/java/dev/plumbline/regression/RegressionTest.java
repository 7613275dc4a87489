package dev.plumbline.regression;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.check.Bench;
import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.evidence.CsvTable;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.report.RunReport;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.verdict.Verdict;
import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class RegressionTest {
  /** A bell that rings as often as it is pulled; at 77 pulls its END comes. */
  private static final String BELL =
      """
      module bell #(parameter int END = 0) (
          input  logic       clk,
          input  logic       rst,
          input  logic       in_valid,
          input  logic [7:0] in_pulls,
          output logic       out_valid,
          output logic [7:0] out_rings
      );
        always_ff @(posedge clk) begin
          out_valid <= in_valid && !rst;
          out_rings <= END == 4 && in_pulls == 8'd77 ? 8'd0 : in_pulls;
          if (!rst && in_valid && in_pulls == 8'd77) begin
            if (END == 1) assert (out_rings == in_pulls + 8'd1) else $error("the rope is torn");
            if (END == 2) $finish;
            if (END == 3) $fatal(1, "the bell fell down");
          end
        end
      endmodule
      """;

  @TempDir Path folder;
  private final ByteArrayOutputStream printed = new ByteArrayOutputStream();
  private final List<String> ran = new ArrayList<>();
  private RunReport run;
  private Path bell;

  @BeforeEach
  void prepare() throws Exception {
    run = RunReport.open(folder.resolve("reports"), "night");
    bell = Files.writeString(folder.resolve("bell.sv"), BELL);
  }

  private Regression regression(String only) {
    return Regression.of(10_000, 7, only)
        .to(run, new PrintStream(printed, true, StandardCharsets.UTF_8));
  }

  private Regression.Runner bell(String name, int end) {
    return settings -> {
      ran.add(name);
      RtlSource rtl = RtlSource.of(bell).withParameter("END", Integer.toString(end));
      Reference identity =
          Reference.of(
              "bell",
              List.of(new Operand("pulls", Format.unsigned(8, 0))),
              List.of(new Operand("rings", Format.unsigned(8, 0))),
              (in, out) -> out[0] = in[0]);
      return Bench.of(CompiledDesign.of(rtl, BuildOptions.defaults().withOptimisation(false)))
          .named(name)
          .contract(
              Contract.of(identity).valid("in_valid", "out_valid").reset("rst").latency(1).build())
          .cases(settings.cases())
          .seed(settings.seed())
          .recorder(settings.recorder())
          .repeat(settings.repeat())
          .run();
    };
  }

  private List<String> lines() {
    return printed.toString(StandardCharsets.UTF_8).lines().toList();
  }

  private Map<String, String> row(String bench) {
    List<Map<String, String>> rows =
        CsvTable.read(run.folder().resolve("summary.csv")).stream()
            .filter(row -> row.get("bench").equals(bench))
            .toList();
    assertEquals(1, rows.size(), bench);
    return rows.get(0);
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 2, 3})
  @Tag("thorough")
  void aDutThatEndsByItselfIsRedByItsNameAndTheOthersRun(int end) {
    int status =
        regression("")
            .bench("first", bell("first", 0))
            .bench("second", bell("second", end))
            .bench("third", bell("third", 0))
            .run();

    assertEquals(1, status);
    assertEquals(List.of("first", "second", "third"), ran);
    assertEquals("pass", row("first").get("verdict"));
    assertEquals("DUT ended", row("second").get("verdict"));
    assertEquals("pass", row("third").get("verdict"));
    assertTrue(lines().get(0).matches("pass +first +\\d+ cases in .*"), lines().get(0));
    assertTrue(lines().get(1).matches("DUT ended +second +.*"), lines().get(1));
    assertTrue(
        lines().stream().anyMatch(line -> line.startsWith("pass") && line.contains("third")));
    assertTrue(lines().stream().anyMatch(line -> line.startsWith("3 benches, 1 not passed.")));
  }

  @Test
  void aBenchThatCannotRunIsRedInOtherWordsAndTheOthersRun() {
    int status =
        regression("")
            .bench(
                "lost",
                settings ->
                    Bench.of(CompiledDesign.of(RtlSource.of(folder.resolve("no.sv")))).run())
            .bench("found", bell("found", 0))
            .run();

    assertEquals(1, status);
    assertEquals("nothing checked", row("lost").get("verdict"));
    assertTrue(
        row("lost").get("first_mismatch").startsWith("it could not run: "), row("lost")::toString);
    assertEquals("pass", row("found").get("verdict"));
  }

  @Test
  void aMismatchIsShownWithItsFactsAndTheCommandThatRepeatsIt() {
    int status = regression("").bench("torn rope", bell("torn rope", 4)).run();

    assertEquals(1, status);
    String text = printed.toString(StandardCharsets.UTF_8);
    assertTrue(lines().get(0).startsWith("mismatch"), text);
    assertTrue(text.contains("  expected   0x4d  77"), text);
    assertTrue(
        text.contains("-Dplumbline.only='torn rope' -Dplumbline.cases=10000 -Dplumbline.seed=7"),
        text);
  }

  @Test
  @Tag("thorough")
  void aVerdictThatNobodyRecordedIsRecorded() {
    Regression.Runner forgetful =
        settings -> {
          Verdict verdict =
              bell("quiet", 0)
                  .run(new Regression.Settings(100, 1, found -> java.util.Optional.empty(), ""));
          return verdict;
        };
    assertEquals(0, regression("").bench("quiet", forgetful).run());
    assertEquals("pass", row("quiet").get("verdict"));
  }

  @Test
  void benchesAreChosenByPartsOfTheirNames() {
    int status =
        regression("s12, wide")
            .bench("bell s16", bell("bell s16", 1))
            .bench("bell s12", bell("bell s12", 0))
            .bench("wide bell", bell("wide bell", 0))
            .run();

    assertEquals(0, status);
    assertEquals(List.of("bell s12", "wide bell"), ran);
  }

  @Test
  void aChoiceOfNoneNamesThoseThatThereAre() {
    Regression none = regression("gong").bench("bell", bell("bell", 0));
    String message = assertThrows(IllegalArgumentException.class, none::run).getMessage();
    assertEquals("No bench has \"gong\" in its name; there are: bell.", message);
  }

  @Test
  void propertiesThatAreNoNumbersAreRefused() {
    String message =
        assertThrows(IllegalArgumentException.class, () -> Regression.cases("1e6", 5)).getMessage();
    assertEquals(
        "Property plumbline.cases cannot be \"1e6\"; a whole number, 0 or more, is allowed.",
        message);
    assertThrows(IllegalArgumentException.class, () -> Regression.cases("-1", 5));
    assertEquals(5, Regression.cases("", 5));
    assertEquals(12, Regression.cases("12", 5));
  }

  @Test
  void twoBenchesOfOneNameAreRefused() {
    Regression one = regression("").bench("bell", bell("bell", 0));
    assertThrows(IllegalArgumentException.class, () -> one.bench("bell", bell("bell", 0)));
  }
}
