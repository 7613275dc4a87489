package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.faults.FaultyCopies;
import dev.plumbline.report.RunReport;
import dev.plumbline.verdict.MismatchGroup;
import dev.plumbline.verdict.MismatchGroup.Hypothesis;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** What is said of a handful of faults, all in one model. */
class ExplainedCopiesTest {
  private static final List<String> TEMPORARY =
      List.of(
          "(s + 34'sd2048)", "(s + 34'sd2048 + (s[3:0] == 4'd5 && kr[0] ? 34'sd4096 : 34'sd0))");
  private static final FaultyCopies COPIES =
      FaultyCopies.of(Path.of("src/test/rtl/habits/governor.v"), faults(), 0).add(TEMPORARY);

  static Stream<Arguments> faults() {
    return Stream.of(
        Arguments.of(List.of("s + 34'sd2048", "s"), LikelyKind.ROUNDING),
        Arguments.of(
            List.of("r = 22'sd32767;\n", "r = 22'($signed(r[15:0]));\n"), LikelyKind.OVERFLOW),
        Arguments.of(List.of("r < 22'(lr)", "r <= 22'(lr)"), LikelyKind.DECISION),
        Arguments.of(List.of("34'(br)", "34'(bias)"), LikelyKind.NEIGHBOUR),
        Arguments.of(List.of("kr   <= k", "kr   <= bias"), LikelyKind.EXCHANGED));
  }

  private static Bench.Builder bench(List<String> fault) {
    return COPIES.bench(fault).contract(HabitsTest.contract("governor")).cases(2_000).seed(1);
  }

  private static MismatchGroup first(Verdict verdict) {
    assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome(), verdict::facts);
    return verdict.groups().get(0);
  }

  @ParameterizedTest
  @MethodSource("faults")
  void theKindIsRightAndAlone(List<String> fault, LikelyKind kind) {
    MismatchGroup group = first(bench(fault).recorder(verdict -> Optional.empty()).run());
    assertEquals(List.of(kind), group.likely().stream().map(Hypothesis::kind).toList());
    assertTrue(group.likely().get(0).explained() > 1, group::toString);
    assertTrue(group.size().startsWith("1 case in "), group::toString);
  }

  @Test
  @Tag("thorough")
  void ofWhatIsOfNoKindNoneIsSaid(@TempDir Path folder) {
    Verdict verdict = bench(TEMPORARY).recorder(RunReport.open(folder, "run")).run();
    assertEquals(List.of(), first(verdict).likely());
    String stage =
        verdict.findings().inside().facts().stream()
            .filter(fact -> fact.label().equals("stage"))
            .findFirst()
            .orElseThrow()
            .lines()
            .get(0);
    assertTrue(stage.matches("first wrong: governor\\.copy_5\\.[yr] \\(.*"), stage);
  }
}
