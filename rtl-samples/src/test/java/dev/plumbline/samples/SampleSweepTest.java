package dev.plumbline.samples;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.verdict.Verdict;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The small share of the exhaustive sweeps that every gate runs. */
class SampleSweepTest {
  @Test
  void shareOfTheSweepOfReciprocalHolds(@TempDir Path folder) {
    Verdict verdict =
        SampleSweeps.of(SampleBenches.sharpest("reciprocal"))
            .rangeCases(1 << 16)
            .run(folder, 1 << 20)
            .orElseThrow()
            .orFail();
    assertEquals(1 << 20, verdict.cases());
    assertEquals("reciprocal s16.16 exact sweep", verdict.bench());
  }
}
