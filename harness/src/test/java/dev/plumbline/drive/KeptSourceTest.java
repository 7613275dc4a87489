package dev.plumbline.drive;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotSame;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cases.RayCases;
import dev.plumbline.contract.CoveragePoints;
import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.solid.HalfSpace;
import dev.plumbline.stimulus.Generator;
import dev.plumbline.stimulus.Share;
import dev.plumbline.stimulus.Stimulus;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;

/** The cases of a segment are the same whichever segments its thread ran before. */
class KeptSourceTest {
  private static final Format WORD = Format.signed(16, 16);
  private static final Format DIRECTION = Format.signed(2, 16);
  private static final int CASES = 700;
  private static final long LEAST = WORD.minCode().longValueExact();

  private final Reference plane = Reference.bounded(HalfSpace.of(WORD, DIRECTION).budgeted());
  private final List<Operand> operands = plane.inputs();
  private final Stimulus rays = RayCases.atPlanes(WORD, DIRECTION).stimulus();
  private final KeptSource kept = new KeptSource();

  private static Datapath points() {
    Datapath.Builder b = Datapath.named("levels");
    Value level = b.input("level", WORD);
    Value least = b.constant("least", WORD, LEAST);
    return b.output("lowest", b.atMost("lowest_level", level, least)).build();
  }

  private long[][][] drawn(Stimulus.Source source) {
    long[][][] columns = new long[operands.size()][1][CASES];
    source.fill(columns, 0, CASES);
    return columns;
  }

  /** Draws a segment's cases both ways; returns the kept source. */
  private Stimulus.Source holds(Stimulus stimulus, long seed, long firstCase) {
    Stimulus.Source source = kept.open(stimulus, operands, seed, firstCase);
    long[][][] anew = drawn(stimulus.open(operands, seed, firstCase));
    assertTrue(Arrays.deepEquals(anew, drawn(source)), seed + " from " + firstCase);
    return source;
  }

  @Test
  void aSegmentHasItsOwnCasesWhateverRanBefore() {
    Stimulus.Source first = holds(rays, 1, 0);
    assertSame(first, holds(rays, 2, 65_536));
    assertSame(first, holds(rays, 3, 131_072));
    assertSame(first, holds(rays, 1, 0));
  }

  @Test
  void theFirstSegmentAloneIsSteeredWheneverItIsRun() {
    Stimulus steered = SteeredStimulus.of(rays, CoveragePoints.of(points()), plane);
    int level = operands.stream().map(Operand::name).toList().indexOf("level");
    Stimulus.Source source = holds(steered, 2, 65_536);
    assertSame(source, holds(steered, 1, 0));
    assertSame(source, holds(steered, 3, 131_072));
    assertSame(source, holds(steered, 1, 0));
    assertTrue(source.restart(1, 0));
    assertEquals(LEAST, drawn(source)[level][0][3]); // every fourth case is one that reaches it
    assertEquals(LEAST, drawn(steered.open(operands, 1, 0))[level][0][255]);
  }

  @Test
  void whatCannotBeginAnewIsOpenedAnew() {
    Stimulus uniform = Stimulus.each(Generator.uniform());
    Stimulus.Source first = holds(uniform, 1, 0);
    assertFalse(first.restart(2, 65_536));
    assertNotSame(first, holds(uniform, 2, 65_536));
    holds(rays, 2, 65_536);
    holds(uniform, 2, 65_536);
    holds(Stimulus.listed(new long[operands.size()]), 2, 65_536);
  }

  @Test
  void aMixOfWhatCanAndWhatCannotIsOpenedAnew() {
    Stimulus both =
        Stimulus.mix(Share.of(1, rays), Share.of(1, Stimulus.each(Generator.uniform())));
    assertNotSame(holds(both, 1, 0), holds(both, 2, 65_536));
  }
}
