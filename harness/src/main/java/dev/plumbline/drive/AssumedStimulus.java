package dev.plumbline.drive;

import dev.plumbline.contract.Assumption;
import dev.plumbline.contract.Contract;
import dev.plumbline.contract.ContractException;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.stimulus.Stimulus;
import java.util.List;
import java.util.OptionalLong;
import java.util.stream.Collectors;

/**
 * A stimulus without the cases that a contract's assumptions rule out: each has another of the same
 * stimulus in its place. Of cases that are listed all that are allowed keep their places.
 */
public final class AssumedStimulus implements Stimulus {
  private static final int BLOCK = 256;
  private static final int MOST_TRIES = 1 << 20;

  private final Stimulus stimulus;
  private final Contract contract;

  private AssumedStimulus(Stimulus stimulus, Contract contract) {
    this.stimulus = stimulus;
    this.contract = contract;
  }

  /** The stimulus itself where nothing is assumed. */
  public static Stimulus of(Stimulus stimulus, Contract contract) {
    return contract.assumptions().isEmpty() ? stimulus : new AssumedStimulus(stimulus, contract);
  }

  @Override
  public OptionalLong size(List<Operand> operands) {
    return stimulus.size(operands);
  }

  @Override
  public Source open(List<Operand> operands, long seed, long firstCase) {
    return new Filter(
        operands,
        stimulus.open(operands, seed, firstCase),
        stimulus.open(operands, RandomStream.derive(seed, "instead"), firstCase));
  }

  private final class Filter implements Source {
    private final Source source;
    private final Source instead;
    private final long[][][] others;
    private final long[] words;
    private int next = BLOCK; // of the others

    Filter(List<Operand> operands, Source source, Source instead) {
      this.source = source;
      this.instead = instead;
      this.others = new long[operands.size()][][];
      int count = 0;
      for (int i = 0; i < others.length; i++) {
        others[i] = new long[operands.get(i).format().words()][BLOCK];
        count += others[i].length;
      }
      this.words = new long[count];
    }

    @Override
    public void fill(long[][][] columns, int from, int to) {
      source.fill(columns, from, to);
      for (int row = from; row < to; row++) {
        if (!isAllowed(columns, row)) {
          replace(columns, row);
        }
      }
    }

    private boolean isAllowed(long[][][] columns, int row) {
      int at = 0;
      for (long[][] operand : columns) {
        for (long[] word : operand) {
          words[at++] = word[row];
        }
      }
      return contract.allows(words);
    }

    private void replace(long[][][] columns, int row) {
      for (int tries = 0; tries < MOST_TRIES; tries++) {
        if (next == BLOCK) {
          instead.fill(others, 0, BLOCK);
          next = 0;
        }
        if (isAllowed(others, next++)) {
          for (int i = 0; i < others.length; i++) {
            for (int word = 0; word < others[i].length; word++) {
              columns[i][word][row] = others[i][word][next - 1];
            }
          }
          return;
        }
      }
      throw new ContractException(
          "The stimulus holds no case among "
              + MOST_TRIES
              + " for which "
              + contract.assumptions().stream()
                  .map(Assumption::words)
                  .collect(Collectors.joining(" and "))
              + "; one in a million or more is allowed. Give a stimulus that draws such cases.");
    }
  }
}
