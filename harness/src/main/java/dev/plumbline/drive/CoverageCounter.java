package dev.plumbline.drive;

import dev.plumbline.contract.CoveragePoints;
import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.BitEvaluation;
import java.util.Arrays;
import java.util.List;

/**
 * An evaluation that counts the coverage points among the cases it is given; allocates nothing.
 *
 * <p>Steered cases have reached every point before the first segments of a run are over. In those
 * that follow, one block in {@value #SAMPLE} is looked at and stands for that many.
 */
public final class CoverageCounter implements Reference.Evaluation {
  /** Segments of a steered run of which every case is counted. */
  public static final int WHOLE = 2;

  /** One block in so many is looked at afterwards. */
  public static final int SAMPLE = 16;

  private final Reference.Evaluation evaluation;
  private final BitEvaluation bits;
  private final long[][] from; // columns of the reference, paired with those of the coverage points
  private final long[][] to;
  private final long[][] met; // by coverage point
  private final long[] counts;
  private final long[][] least; // by coverage point, of the output that has to be decided, or null
  private final long[][] greatest;
  private int every = 1; // one block in so many is counted
  private int block; // modulo the above

  public CoverageCounter(
      CoveragePoints coverage, Reference reference, Reference.Evaluation evaluation) {
    this.evaluation = evaluation;
    this.bits = BitEvaluation.ofOutputs(coverage.datapath(), Feed.BLOCK);
    int[] operands = coverage.operandsOf(reference);
    int columns = 0;
    for (int operand : operands) {
      columns += reference.inputs().get(operand).format().words();
    }
    this.from = new long[columns][];
    this.to = new long[columns][];
    int at = 0;
    for (int i = 0; i < operands.length; i++) {
      for (int word = 0; word < reference.inputs().get(operands[i]).format().words(); word++) {
        from[at] = evaluation.input(operands[i], word);
        to[at] = bits.input(i, word);
        at++;
      }
    }
    this.met = new long[coverage.names().size()][];
    for (int s = 0; s < met.length; s++) {
      met[s] = bits.output(s, 0);
    }
    this.counts = new long[met.length];
    int[] decisions = coverage.decisionsOf(reference);
    this.least = new long[met.length][];
    this.greatest = new long[met.length][];
    for (int s = 0; s < met.length; s++) {
      if (decisions[s] >= 0) {
        least[s] = evaluation.low(decisions[s], 0);
        greatest[s] = evaluation.high(decisions[s], 0);
      }
    }
  }

  /** Begins a segment, whose cases are steered or not. */
  public void begin(Segment segment, boolean steered) {
    boolean samples = steered && segment.number() >= WHOLE;
    every = samples ? SAMPLE : 1;
    block = (int) (segment.seed() & (every - 1));
  }

  /** What was met since the last call, by coverage point. */
  public List<Long> take() {
    List<Long> taken = Arrays.stream(counts).boxed().toList();
    Arrays.fill(counts, 0);
    return taken;
  }

  @Override
  public long[] input(int operand, int word) {
    return evaluation.input(operand, word);
  }

  @Override
  public void run(int count) {
    evaluation.run(count);
    block = (block + 1) & (every - 1);
    if (block == 0) {
      count(count);
    }
  }

  private void count(int count) {
    for (int c = 0; c < from.length; c++) {
      System.arraycopy(from[c], 0, to[c], 0, count);
    }
    bits.run(count);
    for (int s = 0; s < met.length; s++) {
      long sum = 0;
      long[] low = least[s];
      long[] high = greatest[s];
      for (int i = 0; i < count; i++) {
        sum += low == null || low[i] == high[i] ? met[s][i] : 0;
      }
      counts[s] += every * sum;
    }
  }

  private boolean isDecided(int point, int row) {
    return least[point] == null || least[point][row] == greatest[point][row];
  }

  /** The first of the cases run last that reaches a coverage point; -1 for none. */
  int firstRow(int point, int count) {
    for (int row = 0; row < count; row++) {
      if (met[point][row] != 0 && isDecided(point, row)) {
        return row;
      }
    }
    return -1;
  }

  @Override
  public void renewBefore(int row) {
    evaluation.renewBefore(row);
  }

  @Override
  public int results(int row) {
    return evaluation.results(row);
  }

  @Override
  public long[] low(int output, int word) {
    return evaluation.low(output, word);
  }

  @Override
  public long[] high(int output, int word) {
    return evaluation.high(output, word);
  }
}
