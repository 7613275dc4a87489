package dev.plumbline.blocks;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.check.Bench;
import dev.plumbline.contract.Beats;
import dev.plumbline.contract.ContractException;
import dev.plumbline.junit.DesignUnderTest;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.verdict.Verdict;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** A box whose operands come an axis at a time, by a ready-made bench. */
@DesignUnderTest(
    sources = {"src/test/rtl/foreign/frame_post.v", "src/test/rtl/foreign/frame_bar.v"},
    top = "frame_post")
class BeatBenchesTest {
  private static final Beats AXES =
      Beats.on("ray_org", "origin_x", "origin_y", "origin_z")
          .and("ray_dir", "direction_x", "direction_y", "direction_z")
          .and("box_lo", "min_x", "min_y", "min_z")
          .and("box_hi", "max_x", "max_y", "max_z");

  private final Printed printed = new Printed();

  private BoxBench box(Bench.Builder bench) {
    return BoxBench.of(bench)
        .word(Format.signed(16, 16))
        .direction(Format.signed(2, 16))
        .cases(30_000)
        .printTo(printed.stream());
  }

  @Test
  @Tag("thorough")
  void boxOnNarrowBusesPassesAndReachesEveryCoveragePoint(Bench.Builder bench) {
    Verdict verdict = box(bench).beats(AXES).check();

    assertTrue(verdict.cycles() > 3 * verdict.cases(), verdict::facts);
    String text = printed.text();
    assertTrue(text.contains("\n origin_z ray_org s16.16, beat 2\n"), text);
    assertTrue(text.contains("\n latency 1, measured"), text);
  }

  @Test
  @Tag("thorough")
  void axesInEachOthersBeatsAreAMismatch(Bench.Builder bench) {
    Beats swapped =
        Beats.on("ray_org", "origin_y", "origin_x", "origin_z")
            .and("ray_dir", "direction_x", "direction_y", "direction_z")
            .and("box_lo", "min_x", "min_y", "min_z")
            .and("box_hi", "max_x", "max_y", "max_z");

    assertEquals(Verdict.Outcome.MISMATCH, box(bench).cases(5_000).beats(swapped).run().outcome());
  }

  @Test
  void anOperandWithoutAPlaceIsAskedFor(Bench.Builder bench) {
    ContractException refusal =
        assertThrows(
            ContractException.class,
            () -> box(bench).beats(Beats.on("ray_org", "origin_x", "origin_y")).run());

    assertTrue(refusal.getMessage().contains("\"origin_z\""), refusal.getMessage());
  }
}
