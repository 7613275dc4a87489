package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.DutOptions;
import dev.plumbline.evidence.CsvTable;
import dev.plumbline.faults.FaultyCopies;
import dev.plumbline.report.RunReport;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Path;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.MethodSource;

/** Each design of {@link Trades} passes as it stands, and is red with each of its faults. */
@Tag("thorough")
@Execution(ExecutionMode.CONCURRENT)
class TradesTest {
  private static final Map<Trades, FaultyCopies> COPIES = new EnumMap<>(Trades.class);

  static {
    for (Trades trade : Trades.values()) {
      FaultyCopies copies = new FaultyCopies(trade.rtl()).add(Trades.RIGHT);
      trade.faults().forEach(copies::add);
      COPIES.put(trade, copies);
    }
  }

  @TempDir private Path folder;

  private static Bench.Builder bench(Trades trade, List<String> texts) {
    int copy = texts.equals(Trades.RIGHT) ? 0 : 1 + trade.faults().indexOf(texts);
    Bench.Builder bench = trade.on(COPIES.get(trade).bench(texts));
    return trade == Trades.QUEUE_BETWEEN_CLOCKS
        ? bench.options(SeveralClocksBenchTest.clocks(10, 17, 3).withPlusargs("copy=" + copy))
        : bench.options(DutOptions.defaults().withPlusargs("copy=" + copy));
  }

  @ParameterizedTest
  @EnumSource
  void aRightDesignPassesHoweverItIsFed(Trades trade) {
    Verdict usual = bench(trade, Trades.RIGHT).check();
    assertTrue(usual.cases() > 100, usual::facts);
    bench(trade, Trades.RIGHT).pacing(Pacing.backToBack()).ready(Pacing.backToBack()).check();
  }

  static Stream<Arguments> faults() {
    return Stream.of(Trades.values())
        .flatMap(trade -> trade.faults().stream().map(texts -> Arguments.of(trade, texts)));
  }

  @ParameterizedTest
  @MethodSource("faults")
  void aWrongDesignIsRed(Trades trade, List<String> texts) {
    Verdict verdict = bench(trade, texts).run();
    assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome(), verdict::facts);
  }

  /** What is wrong with a number in floating point is shown as the number that it is. */
  @Test
  void numbersInFloatingPointAreShownAsNumbers() {
    Verdict verdict =
        bench(Trades.FLOATING_SUM, Trades.FLOATING_SUM.faults().get(1))
            .recorder(RunReport.open(folder, "run"))
            .run();
    assertTrue(verdict.facts().contains("sum_out, binary16"), verdict::facts);
    Map<String, String> wrong =
        CsvTable.read(verdict.evidenceFolder().orElseThrow().resolve("mismatch.csv")).stream()
            .filter(row -> row.get("verdict").equals("value wrong"))
            .findFirst()
            .orElseThrow();
    double expected = Double.parseDouble(wrong.get("sum_out_expected_real"));
    int code = Integer.decode(wrong.get("sum_out_expected"));
    // The JDK has no conversion before 20: of a number above the subnormal ones by its definition.
    assertTrue((code & 0x7C00) != 0 && (code & 0x7C00) != 0x7C00, wrong::toString);
    double size = Math.scalb(1024.0 + (code & 0x3FF), ((code >> 10) & 31) - 25);
    assertEquals(code < 0x8000 ? size : -size, expected, Math.ulp(expected));
  }
}
