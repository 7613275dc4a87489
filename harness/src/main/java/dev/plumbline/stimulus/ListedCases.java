package dev.plumbline.stimulus;

import dev.plumbline.models.datapath.Operand;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalLong;

/** {@link Stimulus#listed}. */
final class ListedCases implements Stimulus {
  private final long[][] cases;

  ListedCases(long[][] cases) {
    if (cases.length == 0) {
      throw new IllegalArgumentException("A list of no cases is no stimulus; give one or more.");
    }
    this.cases = Arrays.stream(cases).map(long[]::clone).toArray(long[][]::new);
  }

  @Override
  public OptionalLong size(List<Operand> operands) {
    return OptionalLong.of(cases.length);
  }

  @Override
  public Source open(List<Operand> operands, long seed, long firstCase) {
    CaseWords layout = new CaseWords(operands);
    for (int i = 0; i < cases.length; i++) {
      if (cases[i].length != layout.count()) {
        throw new IllegalArgumentException(
            "Case "
                + i
                + " of the list has "
                + cases[i].length
                + " words; the operands take "
                + layout.count()
                + ".");
      }
    }
    return new Source() {
      private int next = (int) (firstCase % cases.length);

      @Override
      public void fill(long[][][] columns, int from, int to) {
        for (int row = from; row < to; row++) {
          layout.store(cases[next], columns, row);
          next = next + 1 == cases.length ? 0 : next + 1;
        }
      }
    };
  }
}
