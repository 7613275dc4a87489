package dev.plumbline.stimulus;

import dev.plumbline.models.fixed.Format;
import java.util.List;

/** {@link Generator#mix}. */
final class MixedSource implements Generator.Source {
  private final Chooser chooser;
  private final Generator.Source[] parts;

  MixedSource(Format format, List<Share<Generator>> shares, long seed) {
    this.chooser = new Chooser(shares, RandomStream.derive(seed, -1));
    this.parts = new Generator.Source[shares.size()];
    for (int i = 0; i < parts.length; i++) {
      parts[i] = shares.get(i).part().open(format, RandomStream.derive(seed, i));
    }
  }

  @Override
  public void fill(long[][] words, int from, int to) {
    int row = from;
    while (row < to) {
      int run = chooser.run(to - row);
      parts[chooser.chosen()].fill(words, row, row + run);
      row += run;
    }
  }
}
