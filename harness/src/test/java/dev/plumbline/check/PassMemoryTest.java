package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.run.PassMemoryDoor;
import dev.plumbline.run.PassesInHand;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.verdict.Verdict;
import dev.plumbline.verdict.Verdict.Outcome;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.ResourceLock;

/** A bench that passed runs again only where something that bears on it has changed. */
@ResourceLock(PassMemoryDoor.SHARED)
class PassMemoryTest {
  private static final String WHEEL =
      """
      module wheel (input wire clk, input wire signed [15:0] in_a, output reg signed [23:0] out_p);
        always @(posedge clk) out_p <= in_a * 24'sd12;
      endmodule
      """;

  @TempDir private Path folder;
  private final List<Verdict> verdicts = new ArrayList<>();
  private final PassesInHand recorder = new PassesInHand();

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

  /** Runs benches one after the other at one place in a test, each as in a process of its own. */
  @SafeVarargs
  private List<Outcome> apart(Callable<Bench.Builder>... benches) throws Exception {
    List<Outcome> outcomes = new ArrayList<>();
    for (Callable<Bench.Builder> bench : benches) {
      PassMemoryDoor.anotherProcess();
      verdicts.add(bench.call().run());
      outcomes.add(verdicts.get(verdicts.size() - 1).outcome());
    }
    return outcomes;
  }

  @Test
  void runsAgainForEachPartThatBearsOnIt() throws Exception {
    assertEquals(
        List.of(
            Outcome.PASS, // for the first time
            Outcome.UNCHANGED, // on another number of threads
            Outcome.PASS, // another seed
            Outcome.PASS, // more cases
            Outcome.PASS, // another bench
            Outcome.PASS, // other RTL
            Outcome.PASS, // other pacing
            Outcome.MISMATCH, // a contract that cannot hold is not taken for the one that did
            Outcome.UNCHANGED), // the first is still there
        apart(
            () -> bench(WHEEL),
            () -> bench(WHEEL).threads(1),
            () -> bench(WHEEL).seed(2),
            () -> bench(WHEEL).cases(2_001),
            () -> bench(WHEEL).named("hub"),
            () -> bench(WHEEL + "//\n"),
            () -> bench(WHEEL).pacing(Pacing.backToBack()),
            () -> bench(WHEEL).contract(contract(13)),
            () -> bench(WHEEL)));
    Verdict first = verdicts.get(0);
    Verdict again = verdicts.get(1);
    assertEquals(first.cases(), again.cases());
    assertTrue(again.isPass());
    assertTrue(again.explanation().contains("2026-11-28 in run evening"), again.explanation());
    assertTrue(again.brief().contains("not run again"), again.brief());
  }

  @Test
  void whatFailedIsNeverLeftOut() throws Exception {
    Callable<Bench.Builder> wrong = () -> bench(WHEEL.replace("12", "13"));
    assertEquals(List.of(Outcome.MISMATCH, Outcome.MISMATCH), apart(wrong, wrong));
    assertTrue(recorder.isEmpty());
  }

  /** A function that has a factor from outside, which no code tells. */
  private static Reference times(long factor) {
    return function((in, out) -> out[0] = in[0] * factor);
  }

  private static Reference function(Reference.CaseFunction function) {
    return Reference.of("wheel", datapath(12).inputs(), datapath(12).outputs(), function);
  }

  private Bench.Builder bench(Reference reference) throws IOException {
    return bench(WHEEL).contract(Contract.of(reference).latency(1).build());
  }

  @Test
  @Tag("thorough")
  void whatAFunctionHasCapturedBearsOnIt() throws Exception {
    assertEquals(
        List.of(Outcome.PASS, Outcome.UNCHANGED, Outcome.MISMATCH),
        apart(() -> bench(times(12)), () -> bench(times(12)), () -> bench(times(11))));
  }

  /** Nothing but its place tells one function without data from another of the same class. */
  @Test
  void anotherFunctionOfTheSameTestIsAnotherBench() throws Exception {
    List<Outcome> outcomes = new ArrayList<>();
    for (int run = 0; run < 2; run++) {
      PassMemoryDoor.anotherProcess();
      outcomes.add(bench(function((in, out) -> out[0] = in[0] * 12)).run().outcome());
      outcomes.add(bench(function((in, out) -> out[0] = in[0] * 13)).run().outcome());
    }
    assertEquals(
        List.of(Outcome.PASS, Outcome.MISMATCH, Outcome.UNCHANGED, Outcome.MISMATCH), outcomes);
  }

  /** In a loop nothing tells which is which: all run, every time. */
  @Test
  @Tag("thorough")
  void functionsInALoopAreNeverLeftOut() throws Exception {
    List<Reference> functions =
        List.of(
            function((in, out) -> out[0] = in[0] * 12), function((in, out) -> out[0] = in[0] * 13));
    List<Outcome> outcomes = new ArrayList<>();
    for (int run = 0; run < 2; run++) {
      PassMemoryDoor.anotherProcess();
      for (Reference function : functions) {
        outcomes.add(bench(function).run().outcome());
      }
    }
    assertEquals(List.of(Outcome.PASS, Outcome.MISMATCH, Outcome.PASS, Outcome.MISMATCH), outcomes);
    assertTrue(recorder.isEmpty());
  }

  /** A function may read the property; those that only say how tests are run change nothing. */
  @Test
  @Tag("thorough")
  void aPropertyThatAModelMayReadBearsOnIt() throws Exception {
    Reference read = function((in, out) -> out[0] = in[0] * Long.getLong("wheel.teeth", 12));
    try {
      assertEquals(
          List.of(Outcome.PASS, Outcome.UNCHANGED, Outcome.MISMATCH),
          apart(
              () -> bench(read),
              () -> {
                System.setProperty("test", "WheelTest");
                return bench(read);
              },
              () -> {
                System.setProperty("wheel.teeth", "11");
                return bench(read);
              }));
    } finally {
      System.clearProperty("test");
      System.clearProperty("wheel.teeth");
    }
  }

  /** A function may read the file as it runs. */
  @Test
  @Tag("thorough")
  void aFileThatAFunctionNamesBearsOnIt() throws Exception {
    Path file = folder.resolve("teeth.txt");
    Reference read = function((in, out) -> out[0] = in[0] * teeth(file));
    Callable<Bench.Builder> bench = () -> bench(read).cases(500).initialStates(1);
    Files.writeString(file, "12");
    assertEquals(
        List.of(Outcome.PASS, Outcome.UNCHANGED, Outcome.MISMATCH),
        apart(
            bench,
            bench,
            () -> {
              Files.writeString(file, "11");
              return bench.call();
            }));
  }

  private static long teeth(Path file) {
    try {
      return Long.parseLong(Files.readString(file));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  @Test
  void aModelThatReadsFilesRunsEveryTime() throws Exception {
    Files.writeString(folder.resolve("teeth.mem"), "0c\n");
    String reading =
        WHEEL
            .replace(" * 24'sd12", " * $signed({16'd0, teeth[0]})")
            .replace(
                "  always",
                "  reg [7:0] teeth [0:0]; initial $readmemh(\"teeth.mem\", teeth);\n  always");
    assertEquals(
        List.of(Outcome.PASS, Outcome.PASS), apart(() -> bench(reading), () -> bench(reading)));
  }
}
