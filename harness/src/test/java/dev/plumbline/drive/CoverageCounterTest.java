package dev.plumbline.drive;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.CoveragePoints;
import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Coverage points are counted whole at first, and in a sample of a steered run afterwards. */
class CoverageCounterTest {
  private static final Format BIT = Format.bit();
  private static final int BLOCKS = 16 * CoverageCounter.SAMPLE;

  private final Reference reference = Reference.exact(wire());
  private final CoverageCounter counter =
      new CoverageCounter(CoveragePoints.of(points()), reference, reference.open(Feed.BLOCK));

  private static Datapath wire() {
    Datapath.Builder b = Datapath.named("wire");
    Value x = b.input("x", BIT);
    return b.output("y", b.not("inverted", x)).build();
  }

  private static Datapath points() {
    Datapath.Builder b = Datapath.named("wire coverage points");
    Value x = b.input("x", BIT);
    Value inverted = b.not("inverted", x);
    return b.output("high", b.and("high_alone", x, x))
        .output("any", b.or("whatever", x, inverted))
        .build();
  }

  private void run(int block) {
    long[] x = counter.input(0, 0);
    for (int row = 0; row < Feed.BLOCK; row++) {
      x[row] = (block * 7 + row) % 4 == 0 ? 1 : 0;
    }
    counter.run(Feed.BLOCK);
    for (int row = 0; row < Feed.BLOCK; row++) { // counted or not, what is expected is there
      assertEquals(1 - x[row], counter.low(0, 0)[row]);
    }
  }

  private void holds(long segment, boolean steered) {
    counter.begin(Segment.of(3, segment, Long.MAX_VALUE, 65_536), steered);
    for (int block = 0; block < BLOCKS; block++) {
      run(block);
    }
    long cases = (long) BLOCKS * Feed.BLOCK;
    assertEquals(List.of(cases / 4, cases), counter.take(), "segment " + segment);
  }

  @Test
  void samplesStandForAsManyCasesAsThereWere() {
    for (long segment = 0; segment < 40; segment++) {
      holds(segment, true);
      holds(segment, false);
    }
  }

  @Test
  void aRarePointIsCountedWhereEveryCaseIs() {
    for (boolean steered : new boolean[] {true, false}) {
      for (long segment = 0; segment < 2L * CoverageCounter.WHOLE; segment++) {
        counter.begin(Segment.of(3, segment, Long.MAX_VALUE, 65_536), steered);
        for (int block = 0; block < BLOCKS; block++) {
          counter.input(0, 0)[0] = block == BLOCKS / 2 ? 1 : 0;
          counter.run(1);
        }
        long met = counter.take().get(0);
        boolean whole = !steered || segment < CoverageCounter.WHOLE;
        assertTrue(whole ? met == 1 : met == 0 || met == CoverageCounter.SAMPLE, "met " + met);
      }
    }
  }
}
