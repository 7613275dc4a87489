package dev.plumbline.lockstep;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.ContractException;
import dev.plumbline.evidence.CaseFile;
import dev.plumbline.lockstep.SoftExecutor.Fault;
import dev.plumbline.verdict.KeptCase;
import dev.plumbline.verdict.MismatchGroup;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import dev.plumbline.verdict.Verdict;
import dev.plumbline.verdict.Verdict.Outcome;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** What a divergence comes down to, that it can be run again alone, and what would explain it. */
@Tag("thorough")
class SmallestSceneTest {
  private static LockstepBench.Builder kept(LockstepBench.Builder bench) {
    return bench.recorder(verdict -> Optional.empty()).cases(600);
  }

  private static MismatchGroup only(LockstepBench.Builder bench) {
    Verdict verdict = kept(bench).run();
    assertEquals(Outcome.MISMATCH, verdict.outcome(), verdict::facts);
    assertEquals(1, verdict.groups().size(), verdict::facts);
    return verdict.groups().get(0);
  }

  private static List<String> operations(MismatchGroup group) {
    return group.smallest().orElseThrow().operations().stream()
        .filter(operation -> !operation.isEmpty())
        .toList();
  }

  @Test
  void aDroppedSpanNeedsTwoSpansAndOneRay() {
    MismatchGroup group = only(SoftExecutor.bench(Fault.DROPS_THE_LAST_SPAN));
    assertEquals("value wrong at retire_count", group.words());
    assertTrue(group.size().startsWith("1 ray through 6 operations, 3 of them "), group::size);
    assertEquals(6, operations(group).size(), () -> operations(group).toString());
  }

  @Test
  void theSameRunGivesTheSameCase() {
    assertEquals(
        only(SoftExecutor.bench(Fault.DROPS_THE_LAST_SPAN).threads(1)).smallest(),
        only(SoftExecutor.bench(Fault.DROPS_THE_LAST_SPAN).threads(2)).smallest());
  }

  @Test
  void aCaseGoesThroughItsFileAndIsStillWrongOrFixed() {
    KeptCase smallest =
        only(SoftExecutor.bench(Fault.DROPS_THE_LAST_SPAN)).smallest().orElseThrow();
    String text = CaseFile.text(smallest);
    assertTrue(text.contains("\r\nstep,operation,reset,pause,stall,cut,abort,origin_x,"), text);
    KeptCase read = CaseFile.parse(text, "case-1.csv");
    assertEquals(text, CaseFile.text(read).isEmpty() ? "" : text);

    Verdict wrong =
        kept(SoftExecutor.bench(Fault.DROPS_THE_LAST_SPAN)).onlyCase("case-1.csv", read).run();
    assertEquals(Outcome.MISMATCH, wrong.outcome(), wrong::facts);
    assertEquals("retire_count", wrong.kept().get(0).signal());
    assertTrue(wrong.facts().contains("of the kept case"), wrong::facts);
    assertTrue(wrong.facts().contains("Kept case: case-1.csv"), wrong::facts);
    Verdict fixed = kept(SoftExecutor.bench(Fault.NONE)).onlyCase("case-1.csv", read).run();
    assertTrue(fixed.isPass(), fixed::facts);
    assertEquals(1, fixed.cases());
    Verdict before =
        kept(SoftExecutor.bench(Fault.DROPS_THE_LAST_SPAN))
            .cases(0)
            .keptCases(Map.of("dropped.csv", read))
            .run();
    assertEquals(Outcome.MISMATCH, before.outcome(), "no ray by chance is needed");
  }

  @Test
  void aCaseFromBeforeThereWereTagsAndAbortsIsStillRead() {
    String text =
        CaseFile.text(only(SoftExecutor.bench(Fault.DROPS_THE_LAST_SPAN)).smallest().orElseThrow());
    List<String> head =
        text.lines()
            .filter(line -> line.startsWith("step,"))
            .flatMap(line -> List.of(line.split(",", -1)).stream())
            .toList();
    StringBuilder older = new StringBuilder();
    for (String line : text.split("\r\n")) {
      List<String> cells = new ArrayList<>(List.of(line.split(",", -1)));
      cells.remove(head.indexOf("tag"));
      cells.remove(head.indexOf("abort"));
      older.append(String.join(",", cells)).append("\r\n");
    }
    KeptCase read = CaseFile.parse(older.toString(), "case-1.csv");
    Verdict wrong =
        kept(SoftExecutor.bench(Fault.DROPS_THE_LAST_SPAN)).onlyCase("case-1.csv", read).run();
    assertEquals("retire_count", wrong.kept().get(0).signal());
  }

  @Test
  void aCaseOfAnotherModuleOrSpoiltOperationsIsRefused() {
    KeptCase smallest =
        only(SoftExecutor.bench(Fault.DROPS_THE_LAST_SPAN)).smallest().orElseThrow();
    String text = CaseFile.text(smallest);
    assertEquals(
        "Kept case of \"soft executor\": it is of module \"lamp\"; allowed is module"
            + " \"soft_executor\", which is under this bench. Give it to the bench that found it,"
            + " or take it away where that has changed on purpose.",
        refusal(text.replace("module,soft_executor", "module,lamp")));
    assertTrue(
        refusal(text.replace("begin", "open"))
            .contains("\"open\" is no operation; allowed is end,"),
        refusal(text.replace("begin", "open")));
    assertTrue(
        refusal(text.replace("close", "begin")).contains("its program cannot be run: begin"),
        refusal(text.replace("close", "begin")));
  }

  private static String refusal(String text) {
    LockstepBench.Builder bench =
        kept(SoftExecutor.bench(Fault.NONE)).onlyCase("c", CaseFile.parse(text, "c"));
    return assertThrows(ContractException.class, bench::run).getMessage();
  }

  @Test
  void whatNeedsAStallKeepsItAndIsCalledThat() {
    for (Fault fault : List.of(Fault.WITHDRAWS_WHILE_STALLED, Fault.CHANGES_WHILE_STALLED)) {
      MismatchGroup group = only(SoftExecutor.bench(fault));
      assertEquals(
          List.of(LikelyKind.STALL),
          group.likely().stream().map(MismatchGroup.Hypothesis::kind).toList(),
          group::toString);
      assertTrue(group.size().startsWith("1 ray "), group::size);
    }
  }

  @Test
  void aResultThatIsAlwaysLateIsLate() {
    MismatchGroup group = only(SoftExecutor.bench(Fault.RESULT_LATE_BY_SEVEN));
    assertEquals(LikelyKind.TIMING, group.likely().get(0).kind(), group::toString);
    assertTrue(group.likely().get(0).words().contains("7 cycles late"), group::toString);
    assertEquals(1, operations(group).size(), "its end alone");
  }

  /** A fault of every fifth ray is no changed model, and no operation has to do with it. */
  @Test
  void whatNoModelExplainsIsNotExplained() {
    MismatchGroup group = only(SoftExecutor.bench(Fault.COUNTS_ONE_OPERATION_MORE));
    assertEquals(1, operations(group).size(), () -> operations(group).toString());
    assertTrue(
        group.likely().stream().allMatch(each -> each.kind() == LikelyKind.HISTORY),
        group::toString);
  }

  @Test
  void aTimelessExecutorHasASmallestCaseToo() {
    MismatchGroup group =
        only(
            SoftExecutor.bench(Fault.DROPS_THE_LAST_SPAN)
                .executor(SoftExecutor.promise().untimed().build()));
    assertEquals(6, operations(group).size(), () -> operations(group).toString());
  }
}
