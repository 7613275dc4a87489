package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.ContractException;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.faults.FaultyCopies;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.stimulus.Stimulus;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** Which cases a bench gives and counts: assumed, given one by one, of a slow block. */
@Execution(ExecutionMode.CONCURRENT)
class CasesBenchTest {
  private static final Path ROOT = Path.of("src/test/rtl/flow/root_table.v");
  private static final Path WHEEL = Path.of("src/test/rtl/flow/slow_wheel.v");
  private static final CompiledDesign ROOTS = model(ROOT);
  private static final CompiledDesign WHEELS = model(WHEEL);

  private static final List<String> TRIM = List.of("y ^ 7'h55", "y ^ 7'h55 ^ {3'd0, trim}");
  private static final List<String> OVER = List.of("11'd300;", "11'd301;");
  private static final FaultyCopies TRIMMED = new FaultyCopies(ROOT).add(TRIM);
  private static final FaultyCopies TURNED = new FaultyCopies(WHEEL).add(OVER);

  private static CompiledDesign model(Path file) {
    return CompiledDesign.of(RtlSource.of(file), BuildOptions.defaults().withOptimisation(false));
  }

  private static Operand unsigned(String name, int bits) {
    return new Operand(name, Format.unsigned(bits, 0));
  }

  private static Contract.Builder root() {
    return Contract.of(
            Reference.of(
                "root",
                List.of(new Operand("x", Format.signed(9, 0)), unsigned("y", 7)),
                List.of(unsigned("r", 5), unsigned("z", 7)),
                (in, out) -> {
                  out[0] = in[0] < 0 ? 0 : (long) Math.sqrt(in[0]);
                  out[1] = in[1] ^ 0x55;
                }))
        .valid("go", "ok")
        .resetLow("nres")
        .latency(1)
        .holdOthers(0);
  }

  private static Contract.Builder wheel() {
    return Contract.of(
            Reference.of(
                "wheel",
                List.of(unsigned("angle", 10)),
                List.of(unsigned("place", 10), unsigned("over", 1), unsigned("rest", 10)),
                (in, out) -> {
                  out[0] = (in[0] + 300) % 1024;
                  out[1] = in[0] + 300 >= 1024 ? 1 : 0;
                  out[2] = 1023 - out[0];
                }))
        .valid("turn", "turned")
        .latency(2000)
        .cyclesBetweenInputs(2001)
        .countsUnless("rest", "over")
        .holdOthersAtRandom();
  }

  @Test
  void casesThatTheBlockNeedNotTakeAreNotDrawn() {
    Verdict any = Bench.of(ROOTS).contract(root().build()).run();
    assertFalse(any.isPass(), "below 0 it is wrong");
    Bench.of(ROOTS).contract(root().assumeBetween("x", 0, 1000).build()).check();
    Bench.of(ROOTS)
        .contract(root().assume("x is no less than 0", in -> in[0] >= 0).build())
        .check();
    assertThrows(ContractException.class, () -> root().assumeBetween("x", 300, 400));
    assertThrows(ContractException.class, () -> root().assumeBetween("radius", 0, 400));
    ContractException none =
        assertThrows(
            ContractException.class,
            () -> Bench.of(ROOTS).contract(root().assume("never", in -> false).build()).run());
    assertTrue(none.getMessage().contains("for which never"), none.getMessage());
  }

  @Test
  void everyCaseOfAnExhaustiveStimulusIsChecked() {
    Contract contract = root().assumeBetween("x", 0, 255).build();
    Bench.Builder bench = Bench.of(ROOTS).contract(contract).stimulus(Stimulus.exhaustive());
    Verdict whole = bench.check();
    assertEquals(1 << 16, whole.cases());
    Verdict lossy = bench.resets(0.001).run();
    assertEquals(Verdict.Outcome.NOT_REACHED, lossy.outcome());
    assertTrue(lossy.facts().contains("of 65536 cases that are given one by one"), lossy::facts);
    assertTrue(lossy.cases() < 1 << 16);
  }

  @Test
  @Tag("thorough")
  void idleInputsMakeADifferenceOnlyWhereTheyDo() {
    Contract zeros = root().assumeBetween("x", 0, 255).build();
    Contract random = root().assumeBetween("x", 0, 255).holdOthersAtRandom().build();
    Bench.of(ROOTS).contract(random).cases(140_000).check();
    TRIMMED.bench(TRIM).contract(zeros).check();
    Verdict shown = TRIMMED.bench(TRIM).contract(random).cases(140_000).run();
    assertFalse(shown.isPass());
    assertTrue(shown.facts().contains("trim = 0x"), shown::facts);
    ContractException refused =
        assertThrows(
            ContractException.class,
            () ->
                Bench.of(ROOTS)
                    .contract(Contract.of(zeros.reference()).valid("go", "ok").build())
                    .build());
    assertTrue(refused.getMessage().contains("holdOthers(...)"), refused.getMessage());
  }

  @Test
  @Tag("thorough")
  void slowBlockHasFewerCasesByItselfAndIsBlamedForNoReset() {
    Bench.Builder right = Bench.of(WHEELS).contract(wheel().build());
    assertEquals(8_000_000 / 2001, right.build().plan().cases());
    assertEquals(1_000_000 / 2001, right.build().subject().stateCases());
    assertEquals(100_000, Bench.of(ROOTS).contract(root().build()).build().plan().cases());
    assertEquals(200, right.cases(200).check().cases());
    Verdict wrong = TURNED.bench(OVER).contract(wheel().build()).cases(50).run();
    assertEquals(Mismatch.Kind.VALUE_WRONG, wrong.kept().get(0).kind());
    assertFalse(wrong.facts().contains("reset"), wrong::facts);
  }

  @Test
  void outputCountsUnlessItsFlagIsSet() {
    Contract always = wheel().validWhen("rest", "over", 0).build(); // also where it does not count
    assertFalse(Bench.of(WHEELS).contract(always).cases(30).run().isPass());
    Bench.of(WHEELS).contract(wheel().build()).cases(100).check();
  }
}
