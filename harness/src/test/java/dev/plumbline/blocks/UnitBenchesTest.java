package dev.plumbline.blocks;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.check.Bench;
import dev.plumbline.junit.DesignUnderTest;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Path;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Units with ports, flow and rounding of their own, held to the mathematics without a model. */
class UnitBenchesTest {
  private static final Format WORD = Format.signed(16, 16);

  @TempDir private Path folder;
  private final Printed printed = new Printed();

  @Test
  @DesignUnderTest(sources = "src/test/rtl/foreign/ratio.v", top = "ratio")
  void reciprocalOfForeignPortsPassesWithoutAWordAboutThem(Bench.Builder bench) {
    Verdict verdict = ReciprocalBench.of(bench).word(WORD).printTo(printed.stream()).check();

    assertTrue(verdict.cases() > 99_000, "all but those that resets swallow");
    String text = printed.text();
    assertTrue(text.contains("\n x den s16.16\n y quot s16.16\n zero - u1.0, unchecked\n"), text);
    assertTrue(
        text.contains("\n reset rst_ni asserted low\n valid in start\n valid out done\n"), text);
    assertTrue(text.contains("\n latency 3, measured"), text);
  }

  @Test
  @Tag("thorough")
  void reciprocalTwoLsbsOffIsAMismatch() throws Exception {
    Verdict verdict =
        ReciprocalBench.of(
                Foreign.faulty(
                    "ratio.v", folder, "<= limited;", "<= limited ^ {30'd0, &den[7:0], 1'b0};"))
            .word(WORD)
            .printTo(printed.stream())
            .run();

    assertEquals("quot", verdict.first().orElseThrow().signal());
  }

  @Test
  @Tag("thorough")
  void reciprocalOneLsbOffIsWithinBoundsButNotExact() throws Exception {
    String was = "quot    <= limited;";
    String is = "quot    <= limited + (limited[31] | (limited == 32'h7fffffff) ? 0 : 1);";
    Bench.Builder bench = Foreign.faulty("ratio.v", folder, was, is);
    assertTrue(ReciprocalBench.of(bench).word(WORD).printTo(printed.stream()).run().isPass());
    assertFalse(
        ReciprocalBench.of(bench).word(WORD).exact().printTo(printed.stream()).run().isPass());
  }

  @Test
  @DesignUnderTest(sources = "src/test/rtl/foreign/arm_length.v", top = "arm_length")
  @Tag("thorough")
  void rootThatTakesACaseWhileIdleIsMeasured(Bench.Builder bench) {
    SquareRootBench.of(bench)
        .formats(Format.unsigned(32, 0), Format.unsigned(16, 0))
        .cases(20_000)
        .printTo(printed.stream())
        .exact()
        .check();

    String text = printed.text();
    assertTrue(text.contains("\n latency 17, measured"), text);
    assertTrue(text.contains("\n takes a case every 17 cycles, measured\n"), text);
  }

  @Test
  @Tag("thorough")
  void rootWithAWrongLastBitIsAMismatch() throws Exception {
    Verdict verdict =
        SquareRootBench.of(
                Foreign.faulty("arm_length.v", folder, "grown >= trial};", "grown > trial};"))
            .formats(Format.unsigned(32, 0), Format.unsigned(16, 0))
            .cases(20_000)
            .printTo(printed.stream())
            .run();

    assertEquals("sqrt", verdict.first().orElseThrow().signal());
  }

  @Test
  @DesignUnderTest(sources = "src/test/rtl/foreign/torque.v", top = "torque")
  void productUnderValidAndReadyPasses(Bench.Builder bench) {
    MultiplierBench multiplier =
        MultiplierBench.of(bench).word(WORD).overflow(Overflow.WRAP).printTo(printed.stream());
    multiplier.check();
    multiplier.exact().rounding(Rounding.HALF_CEILING).check();

    assertTrue(
        printed.text().contains("\n ready out in_rdy\n valid out out_vld\n ready in out_rdy\n"));
  }

  @Test
  @DesignUnderTest(sources = "src/test/rtl/foreign/torque.v", top = "torque")
  @Tag("thorough")
  void aProductThatWrapsIsNamedSoWhereItIsHeldToSaturate(Bench.Builder bench) {
    String facts = MultiplierBench.of(bench).word(WORD).printTo(printed.stream()).run().facts();

    assertTrue(facts.contains(" fit .overflow(WRAP): held to that, nothing in this"), facts);
  }

  @Test
  @Tag("thorough")
  void aReciprocalOfZeroThatIsZeroIsNamedSo() throws Exception {
    Bench.Builder bench = Foreign.faulty("ratio.v", folder, "64'sh7fffffff : 64'sh1", "0 : 64'sh1");
    String facts = ReciprocalBench.of(bench).word(WORD).printTo(printed.stream()).run().facts();

    assertTrue(facts.contains(" fit .atZero(ZERO): held to that, nothing in this"), facts);
  }

  @Test
  @DesignUnderTest(sources = "src/test/rtl/foreign/sweep.v", top = "sweep")
  @Tag("thorough")
  void latencyWithoutValidPortsIsFoundFromTheResults(Bench.Builder bench) {
    MultiplierBench.of(bench)
        .operands(Format.unsigned(12, 4), Format.signed(4, 12))
        .printTo(printed.stream())
        .check();

    assertTrue(printed.text().contains("\n latency 4, all of "), printed.text());
  }

  @Test
  @Tag("thorough")
  void latencyWithoutValidPortsIsFoundInSpiteOfARareFault() throws Exception {
    Verdict verdict =
        MultiplierBench.of(
                Foreign.faulty("sweep.v", folder, "<= p_3;", "<= p_3 ^ (p_3[15:8] == 7);"))
            .operands(Format.unsigned(12, 4), Format.signed(4, 12))
            .printTo(printed.stream())
            .run();

    assertEquals("p", verdict.first().orElseThrow().signal());
  }
}
