package dev.plumbline.stimulus;

import dev.plumbline.models.datapath.Operand;
import java.util.List;
import java.util.OptionalLong;

/** {@link Stimulus#exhaustive}: the case's number is cut into codes, the last operand lowest. */
final class ExhaustiveCases implements Stimulus {
  private static final int MOST_BITS = 40;

  @Override
  public OptionalLong size(List<Operand> operands) {
    return OptionalLong.of(1L << bits(operands));
  }

  private static int bits(List<Operand> operands) {
    int bits = operands.stream().mapToInt(operand -> operand.format().width()).sum();
    if (bits > MOST_BITS) {
      throw new IllegalArgumentException(
          "Operands of "
              + bits
              + " bits have too many combinations to run through; up to "
              + MOST_BITS
              + " bits are allowed. Draw cases instead.");
    }
    return bits;
  }

  @Override
  public Source open(List<Operand> operands, long seed, long firstCase) {
    bits(operands);
    CaseWords layout = new CaseWords(operands);
    int[] widths = operands.stream().mapToInt(operand -> operand.format().width()).toArray();
    long[] words = new long[widths.length];
    return new Source() {
      private long next = firstCase;

      @Override
      public void fill(long[][][] columns, int from, int to) {
        for (int row = from; row < to; row++) {
          long rest = next++;
          for (int i = widths.length - 1; i >= 0; i--) {
            words[i] = rest;
            rest >>>= widths[i];
          }
          layout.store(words, columns, row);
        }
      }
    };
  }
}
