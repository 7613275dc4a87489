package dev.plumbline.drive;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.stimulus.Stimulus;
import java.util.List;

/** Rows by chance, which follows from the seed of a segment. */
final class Chance implements RowContents {
  private final ResetPlan resets;
  private final Pacing.Pattern offers;
  private final Pacing.Pattern ready;
  private final Stimulus.Source source;
  private final BubbleNoise[] noise;
  private final IdleRows idleRows = new IdleRows(Feed.BLOCK);
  private final RandomStream bits;

  /** The stream of bits is shared with what else is noise in a row. */
  Chance(Binding binding, Settings settings, Segment segment, RandomStream bits, KeptSource kept) {
    this.bits = bits;
    List<Operand> operands = binding.contract().reference().inputs();
    this.noise = new BubbleNoise[operands.size()];
    for (int i = 0; i < noise.length; i++) {
      noise[i] =
          new BubbleNoise(
              operands.get(i).format(),
              RandomStream.derive(segment.seedOf(Segment.Use.BUBBLES), i));
    }
    this.resets =
        new ResetPlan(
            binding.contract().reset(),
            binding.rowsOf(binding.contract().reset().cycles()),
            segment.hasResets() ? settings.resetChance() : 0,
            segment.seedOf(Segment.Use.RESETS));
    boolean paced = binding.contract().flow().hasValid();
    this.offers =
        (paced ? settings.pacing() : Pacing.backToBack()).open(segment.seedOf(Segment.Use.OFFERS));
    this.ready = settings.ready().open(segment.seedOf(Segment.Use.READY));
    this.source =
        kept.open(
            settings.stimulus(), operands, segment.seedOf(Segment.Use.CASES), segment.firstCase());
  }

  @Override
  public boolean reset(long[] column, long[][] lines, long firstRow, int rows) {
    return resets.fill(column, lines, rows);
  }

  @Override
  public int steadyRows(long firstRow, int most) {
    return resets.steadyRows(most);
  }

  @Override
  public void offers(long[] column, long firstRow, int rows) {
    offers.fill(column, 0, rows);
  }

  @Override
  public void ready(long[] column, long firstRow, int rows) {
    ready.fill(column, 0, rows);
  }

  @Override
  public void cases(long[][][] columns, int count) {
    source.fill(columns, 0, count);
  }

  @Override
  public void bubbles(long[][][] columns, long firstRow, int[] idle, int count, int rows) {
    idleRows.next(idle, count, rows);
    for (int i = 0; i < noise.length; i++) {
      noise[i].fill(columns[i], idleRows);
    }
  }

  @Override
  public void validUnderReset(long[] valid, long[] reset, long firstRow, int rows) {
    for (int row = 0; row < rows; row++) {
      if (reset[row] != 0) {
        valid[row] = bits.next() & 1;
      }
    }
  }
}
