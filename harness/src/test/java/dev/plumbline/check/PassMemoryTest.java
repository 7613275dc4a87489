package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.verdict.Passes;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import dev.plumbline.verdict.Verdict.Outcome;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A bench that passed runs again only where something that bears on it has changed. */
class PassMemoryTest {
  private static final String WHEEL =
      """
      module wheel (input wire clk, input wire signed [15:0] in_a, output reg signed [23:0] out_p);
        always @(posedge clk) out_p <= in_a * 24'sd12;
      endmodule
      """;

  @TempDir private Path folder;
  private final Map<String, Passes.Pass> table = new HashMap<>();

  /** Remembers passes in this test alone. */
  private final Recorder recorder =
      new Recorder() {
        @Override
        public Optional<Path> record(Verdict verdict) {
          return Optional.empty();
        }

        @Override
        public Optional<Passes> passes() {
          return Optional.of(
              new Passes() {
                @Override
                public Optional<Pass> find(String bench, String key) {
                  return Optional.ofNullable(table.get(bench + key));
                }

                @Override
                public void add(Verdict verdict, String key) {
                  table.put(
                      verdict.bench() + key,
                      new Pass("evening", "2026-11-28", verdict.cases(), verdict.cycles()));
                }

                @Override
                public void forget(String bench, String key) {
                  table.remove(bench + key);
                }
              });
        }
      };

  private static Datapath datapath(long teeth) {
    Datapath.Builder b = Datapath.named("wheel");
    var a = b.input("in_a", Format.signed(16, 0));
    var product = b.multiply("p", a, b.constant("teeth", Format.signed(8, 0), teeth));
    b.output("out_p", product, Format.signed(24, 0));
    return b.build();
  }

  private static Contract contract(long teeth) {
    return Contract.of(Reference.exact(datapath(teeth))).latency(1).build();
  }

  private CompiledDesign model(String text) throws IOException {
    Path file = Files.writeString(folder.resolve("wheel.v"), text);
    return CompiledDesign.of(RtlSource.of(file), BuildOptions.defaults().withOptimisation(false));
  }

  private Bench.Builder bench(String rtl) throws IOException {
    return Bench.of(model(rtl)).contract(contract(12)).cases(2_000).recorder(recorder);
  }

  @Test
  void runsAgainForEachPartThatBearsOnIt() throws IOException {
    Verdict first = bench(WHEEL).run();
    assertEquals(Outcome.PASS, first.outcome(), first::facts);

    Verdict again = bench(WHEEL).threads(1).run();
    assertEquals(Outcome.UNCHANGED, again.outcome());
    assertEquals(first.cases(), again.cases());
    assertTrue(again.isPass());
    assertTrue(again.explanation().contains("2026-11-28 in run evening"), again.explanation());
    assertTrue(again.brief().contains("not run again"), again.brief());

    assertEquals(Outcome.PASS, bench(WHEEL).seed(2).run().outcome(), "another seed");
    assertEquals(Outcome.PASS, bench(WHEEL).cases(2_001).run().outcome(), "more cases");
    assertEquals(Outcome.PASS, bench(WHEEL).named("hub").run().outcome(), "another bench");
    assertEquals(Outcome.PASS, bench(WHEEL + "//\n").run().outcome(), "other RTL");
    // A contract that cannot hold must not be taken for the one that did.
    assertEquals(Outcome.MISMATCH, bench(WHEEL).contract(contract(13)).run().outcome());
    assertEquals(Outcome.UNCHANGED, bench(WHEEL).run().outcome(), "the first is still there");
  }

  @Test
  void whatFailedIsNeverLeftOut() throws IOException {
    for (int i = 0; i < 2; i++) {
      assertEquals(Outcome.MISMATCH, bench(WHEEL.replace("12", "13")).run().outcome());
    }
    assertTrue(table.isEmpty());
  }

  /** A function that has a factor from outside, which no code tells. */
  private static Reference times(long factor) {
    return Reference.of(
        "wheel",
        datapath(12).inputs(),
        datapath(12).outputs(),
        (in, out) -> out[0] = in[0] * factor);
  }

  @Test
  @Tag("thorough")
  void whatAFunctionHasCapturedBearsOnIt() throws IOException {
    Contract right = Contract.of(times(12)).latency(1).build();
    Contract wrong = Contract.of(times(11)).latency(1).build();
    assertEquals(Outcome.PASS, bench(WHEEL).contract(right).run().outcome());
    assertEquals(Outcome.UNCHANGED, bench(WHEEL).contract(right).run().outcome());
    assertEquals(Outcome.MISMATCH, bench(WHEEL).contract(wrong).run().outcome());
  }

  @Test
  void aModelThatReadsFilesRunsEveryTime() throws IOException {
    Files.writeString(folder.resolve("teeth.mem"), "0c\n");
    String reading =
        WHEEL
            .replace(" * 24'sd12", " * $signed({16'd0, teeth[0]})")
            .replace(
                "  always",
                "  reg [7:0] teeth [0:0]; initial $readmemh(\"teeth.mem\", teeth);\n  always");
    for (int i = 0; i < 2; i++) {
      assertEquals(Outcome.PASS, bench(reading).run().outcome());
    }
  }
}
