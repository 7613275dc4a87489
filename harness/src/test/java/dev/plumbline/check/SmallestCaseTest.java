package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.check.GearTrain.Fault;
import dev.plumbline.contract.ContractException;
import dev.plumbline.contract.Reference;
import dev.plumbline.evidence.CaseFile;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.stimulus.Generator;
import dev.plumbline.stimulus.Stimulus;
import dev.plumbline.verdict.KeptCase;
import dev.plumbline.verdict.MismatchGroup;
import dev.plumbline.verdict.Verdict;
import dev.plumbline.verdict.Verdict.Outcome;
import java.math.BigInteger;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** What a mismatch comes down to, and that it can be run again alone. */
class SmallestCaseTest {
  private static final Format WORD = Format.signed(8, 8);
  private static final List<Operand> IN = List.of(new Operand("x", WORD), new Operand("y", WORD));
  private static final List<Operand> OUT = List.of(new Operand("sum", Format.signed(9, 8)));
  private static final Reference SUM =
      Reference.of("sum", IN, OUT, (in, out) -> out[0] = in[0] + in[1]);

  /** Wrong where x is 4 or more, whatever y is. */
  private static final Reference WORN =
      Reference.of(
          "worn sum", IN, OUT, (in, out) -> out[0] = in[0] + in[1] + (in[0] >= 0x400 ? 2 : 0));

  private static Bench.Builder kept(Bench.Builder bench) {
    return bench.recorder(verdict -> Optional.empty());
  }

  private static MismatchGroup only(Verdict verdict) {
    assertEquals(Outcome.MISMATCH, verdict.outcome(), verdict::facts);
    assertEquals(1, verdict.groups().size(), verdict::facts);
    return verdict.groups().get(0);
  }

  @Test
  void oneVectorWithRoundOperandsIsLeftOfAWrongValue() {
    MismatchGroup group = only(kept(Pipeline.bench(SUM, WORN, 4)).run());

    KeptCase smallest = group.smallest().orElseThrow();
    assertEquals("value wrong at out_sum", group.words());
    assertEquals("1 case in 2 cycles, the reset included", group.size());
    assertEquals(
        List.of("rst", "in_valid", "x", "y"),
        smallest.columns().stream().map(KeptCase.Column::name).toList());
    List<BigInteger> row = smallest.cycles().get(1);
    assertEquals(List.of(BigInteger.ZERO, BigInteger.ONE), row.subList(0, 2));
    assertEquals(1, row.get(2).bitCount(), "a power of two that shows it");
    assertTrue(row.get(2).intValue() >= 0x400);
    assertEquals(BigInteger.ZERO, row.get(3), "of no matter");
    assertEquals(KeptCase.Start.ZEROS, smallest.start());
    assertTrue(group.count() > 100, group::toString);
  }

  @Test
  void aReferenceThatIsNotForEveryCaseLosesNoVerdict() {
    Reference odd =
        Reference.of(
            "odd sum",
            IN,
            OUT,
            (in, out) -> {
              if ((in[1] & 1) == 0) {
                throw new IllegalArgumentException("y is even");
              }
              out[0] = in[0] + in[1];
            });
    Stimulus onlyOdd = Stimulus.standard().with("y", Generator.codes(1, 3, 77, -5));
    MismatchGroup group = only(kept(Pipeline.bench(odd, WORN, 4).stimulus(onlyOdd)).run());

    assertEquals("1 case in 2 cycles, the reset included", group.size());
    KeptCase smallest = group.smallest().orElseThrow();
    assertTrue(smallest.cycles().get(1).get(3).testBit(0), "y is odd still");
  }

  @Test
  void theSameRunGivesTheSameCase() {
    assertEquals(
        only(kept(Pipeline.bench(SUM, WORN, 4)).threads(1).run()),
        only(kept(Pipeline.bench(SUM, WORN, 4)).threads(2).run()));
  }

  @Test
  void aCaseGoesThroughItsFileAndIsStillWrongOrFixed() {
    KeptCase smallest = only(kept(Pipeline.bench(SUM, WORN, 4)).run()).smallest().orElseThrow();
    KeptCase read = CaseFile.parse(CaseFile.text(smallest), "case-1.csv");

    Verdict wrong = kept(Pipeline.bench(SUM, WORN, 4)).onlyCase("case-1.csv", read).run();
    assertEquals(Outcome.MISMATCH, wrong.outcome(), wrong::facts);
    assertEquals(1, wrong.cases());
    assertTrue(wrong.facts().contains("of the kept case"), wrong::facts);
    assertTrue(wrong.facts().contains("Kept case: case-1.csv"), wrong::facts);
    Verdict fixed = kept(Pipeline.bench(SUM, SUM, 4)).onlyCase("case-1.csv", read).run();
    assertTrue(fixed.isPass(), fixed::facts);
    assertEquals(1, fixed.cases());
  }

  @Test
  void keptCasesComeBeforeTheStimulus() {
    KeptCase smallest = only(kept(Pipeline.bench(SUM, WORN, 4)).run()).smallest().orElseThrow();
    Map<String, KeptCase> cases = Map.of("worn.csv", smallest);

    Verdict again = kept(Pipeline.bench(SUM, WORN, 4)).cases(0).keptCases(cases).run();
    assertEquals(Outcome.MISMATCH, again.outcome(), "no case of the stimulus is needed");
    Verdict right = kept(Pipeline.bench(SUM, SUM, 4)).keptCases(cases).run();
    assertTrue(right.isPass(), right::facts);
    assertTrue(right.cases() > 1_000, "then comes the stimulus");
  }

  @Test
  void aCaseOfOtherPortsIsRefusedByName() {
    KeptCase smallest = only(kept(Pipeline.bench(SUM, WORN, 4)).run()).smallest().orElseThrow();
    String text = CaseFile.text(smallest).replace("in_valid,x,", "in_valid,w,");
    KeptCase other = CaseFile.parse(text, "case-1.csv");

    ContractException thrown =
        assertThrows(
            ContractException.class,
            () -> Pipeline.bench(SUM, SUM, 4).onlyCase("case-1.csv", other).run());
    assertEquals(
        "Kept case of \"pipeline\": column \"w\" is nothing that is driven; the contract has rst,"
            + " in_valid, x, y. Mend the file, or take it away where the ports have changed on"
            + " purpose.",
        thrown.getMessage());
  }

  @Test
  void whatNeedsABubbleKeepsIt() {
    MismatchGroup group = only(kept(GearTrain.bench(Fault.VALID_LOST_AFTER_A_BUBBLE)).run());
    assertTrue(group.smallest().isPresent(), group::toString);
    assertTrue(group.smallest().get().cycles().size() <= 4, group::toString);
  }
}
