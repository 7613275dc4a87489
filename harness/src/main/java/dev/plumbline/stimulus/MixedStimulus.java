package dev.plumbline.stimulus;

import dev.plumbline.models.datapath.Operand;
import java.util.List;

/** {@link Stimulus#mix}. */
final class MixedStimulus implements Stimulus {
  private final List<Share<Stimulus>> parts;

  MixedStimulus(List<Share<Stimulus>> parts) {
    Chooser.check(parts);
    this.parts = parts;
  }

  @Override
  public Source open(List<Operand> operands, long seed, long firstCase) {
    Source[] sources = new Source[parts.size()];
    for (int i = 0; i < sources.length; i++) {
      sources[i] = parts.get(i).part().open(operands, RandomStream.derive(seed, i), firstCase);
    }
    return new Mixed(new Chooser(parts, choice(seed)), sources);
  }

  private static long choice(long seed) {
    return RandomStream.derive(seed, -1);
  }

  private static final class Mixed implements Source {
    private final Chooser chooser;
    private final Source[] sources;

    Mixed(Chooser chooser, Source[] sources) {
      this.chooser = chooser;
      this.sources = sources;
    }

    @Override
    public void fill(long[][][] columns, int from, int to) {
      int row = from;
      while (row < to) {
        int run = chooser.run(to - row);
        sources[chooser.chosen()].fill(columns, row, row + run);
        row += run;
      }
    }

    @Override
    public boolean restart(long seed, long firstCase) {
      chooser.restart(choice(seed));
      for (int i = 0; i < sources.length; i++) {
        if (!sources[i].restart(RandomStream.derive(seed, i), firstCase)) {
          return false;
        }
      }
      return true;
    }
  }
}
