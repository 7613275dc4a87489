package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.report.RunReport;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.verdict.Inside;
import dev.plumbline.verdict.Verdict;
import dev.plumbline.verdict.Verdict.Outcome;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Which signal is named as wrong first where several would do, and none would alone. */
@Tag("thorough")
class WrongFirstTest {
  private static final Path RTL = Path.of("src/test/rtl/inside");

  @TempDir private Path folder;

  /** The signals that are named where one text of the RTL is replaced. */
  private List<String> named(String file, Contract contract, String original, String replacement)
      throws Exception {
    Path source = RTL.resolve(file);
    String top = file.replace(".sv", "");
    Bench.of(CompiledDesign.of(RtlSource.of(source).withTop(top)))
        .contract(contract)
        .cases(4_000)
        .check();
    Verdict verdict =
        Bench.of(PlantedDesign.of(source, folder, original, replacement))
            .contract(contract)
            .cases(4_000)
            .recorder(RunReport.open(folder, "run"))
            .run();
    assertEquals(Outcome.MISMATCH, verdict.outcome(), verdict::facts);
    List<String> named =
        verdict.findings().inside().firstWrong().stream().map(Inside.Wrong::signal).toList();
    assertTrue(!named.isEmpty(), verdict::facts);
    String page = Files.readString(folder.resolve("run/index.html"));
    assertTrue(page.contains("RTL of " + named.get(0) + ", "), page);
    return named;
  }

  private static Contract crank() {
    Datapath.Builder b = Datapath.named("crank");
    Value turns = b.input("in_turns", Format.unsigned(12, 0));
    Value teeth = b.input("in_teeth", Format.unsigned(12, 0));
    Value limit = b.input("in_limit", Format.unsigned(24, 0));
    Value rest = b.subtract("rest", limit, b.multiply("product", turns, teeth));
    b.output("out_count", b.add("count", turns, b.atMost("worth", teeth, rest)));
    return Contract.of(Reference.exact(b.build())).latency(3).build();
  }

  /** Both operands side by side are a number so large that none would ever be worth a tooth. */
  @Test
  void aNumberThatMakesAConditionFailIsNotTakenForAStepThatIsRight() throws Exception {
    assertEquals(
        List.of("crank.count_q"),
        named("crank.sv", crank(), "rest_q >= $signed(26'(teeth_q))", "rest_q >= 26'sd33554431"));
  }

  private static Contract scales() {
    Format load = Format.signed(8, 0);
    Datapath.Builder b = Datapath.named("scales");
    Value[] weights = new Value[2];
    for (int side = 0; side < 2; side++) {
      String name = side == 0 ? "left" : "right";
      Value one = b.input(name + "_load", load);
      Value arm = b.input(name + "_arm", load);
      weights[side] = b.add(name + "_weight", b.multiply(name + "_moment", one, arm), one);
    }
    Value swing = b.multiply("swing", weights[0], weights[1]);
    b.output("out_swing", swing, Format.signed(34, 0));
    return Contract.of(Reference.exact(b.build())).latency(2).build();
  }

  /** Either pan's weight alone makes no result right. */
  @Test
  void twoCopiesThatAreAlwaysWrongAreNamedTogether() throws Exception {
    assertEquals(
        List.of("scales.far_pan.weight_q", "scales.near_pan.weight_q"),
        named("scales.sv", scales(), "+ 17'(in_load)", "- 17'(in_load)").stream()
            .sorted()
            .toList());
  }

  private static Contract tally() {
    Format number = Format.signed(8, 0);
    Datapath.Builder b = Datapath.named("tally");
    Value zero = b.constant("zero", number, 0);
    Value[] a = {b.input("a0", number), null};
    Value[] c = {b.input("b0", number), null};
    a[1] = b.input("a1", number);
    c[1] = b.input("b1", number);
    Value sum = zero;
    for (int k = 0; k < 2; k++) {
      Value front = b.atMost("front" + k, zero, a[k]);
      Value ahead = b.atMost("ahead" + k, zero, c[k]);
      Value same = b.equal("same" + k, front, ahead);
      Value sizeA = b.absolute("size_a" + k, a[k]);
      Value sizeB = b.absolute("size_b" + k, c[k]);
      Value product = b.multiply("product" + k, sizeA, sizeB);
      sum =
          b.select(
              "sum" + k,
              same,
              b.add("more" + k, sum, product),
              b.subtract("less" + k, sum, product));
    }
    Value lowest = b.equal("lowest", a[0], b.constant("least", number, -128));
    b.output("total", b.select("total", lowest, zero, sum), Format.signed(17, 0));
    return Contract.of(Reference.exact(b.build()))
        .valid("start", "done")
        .ready("idle", null)
        .reset("rst")
        .latencyBetween(1, 3)
        .build();
  }

  /** In each turn it is right for a decision that the other one should be made from. */
  @Test
  void aDecisionThatServesTwoOperationsInTurnIsNamed() throws Exception {
    assertEquals(
        List.of("tally.same"),
        named("tally.sv", tally(), "same    = (a >= 0) == (b >= 0);", "same    = (a >= 0);"));
  }

  private static Contract governor() {
    Format word = Format.signed(8, 0);
    Datapath.Builder b = Datapath.named("governor");
    Value slope = b.input("in_slope", word);
    Value depth = b.input("in_depth", word);
    Value zero = b.constant("zero", word, 0);
    Value still = b.equal("still", slope, zero);
    Value inside = b.atMost("inside", zero, depth);
    Value steep = b.absolute("steep", slope);
    Value most = b.constant("most", Format.unsigned(9, 0), 320);
    Value size = b.subtract("size", most, b.add("double", steep, steep));
    Value negative = b.not("negative", b.atMost("front", zero, slope));
    Value signed = b.select("with_sign", negative, b.negate("negated", size), size);
    Value moved = b.convert("moved", signed, word, Rounding.FLOOR, Overflow.SATURATE);
    Value all = b.constant("all", word, 127);
    Value none = b.constant("none", word, -128);
    Value one = b.constant("one", word, 1);
    b.output("out_opening", b.select("opening", still, b.select("ever", inside, all, none), moved));
    b.output("out_rest", b.select("rest", still, b.select("left", inside, zero, one), depth));
    return Contract.of(Reference.exact(b.build())).latency(2).build();
  }

  /**
   * The limit of the size, which is nearly always the same, would do in the place of what a track
   * without slope gives; but that is made from whether it is inside, and the limit is not.
   */
  @Test
  void whatDoesAsTheOnlyExplanationSaysIsNamedBeforeWhatHappensToHaveTheNumber() throws Exception {
    assertEquals(
        List.of("governor.opening_s2_q"),
        named("governor.sv", governor(), "if (still_s1_q)", "if (still_s1_q && inside_s1_q)"));
  }
}
