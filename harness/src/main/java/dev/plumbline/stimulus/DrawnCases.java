package dev.plumbline.stimulus;

import dev.plumbline.models.datapath.Operand;
import java.util.List;

/** {@link Stimulus#drawn}. */
final class DrawnCases implements Stimulus.Source {
  private final CaseWords layout;
  private final Stimulus.Draw draw;
  private final RandomStream stream;
  private final long[] words;

  DrawnCases(List<Operand> operands, Stimulus.Draw draw, long seed) {
    this.layout = new CaseWords(operands);
    this.draw = draw;
    this.stream = RandomStream.of(seed);
    this.words = new long[layout.count()];
  }

  @Override
  public void fill(long[][][] columns, int from, int to) {
    for (int row = from; row < to; row++) {
      draw.next(stream, words);
      layout.store(words, columns, row);
    }
  }
}
