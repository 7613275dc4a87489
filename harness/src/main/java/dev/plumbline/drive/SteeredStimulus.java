package dev.plumbline.drive;

import dev.plumbline.contract.CoveragePoints;
import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.stimulus.Stimulus;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import java.util.concurrent.ConcurrentHashMap;

/**
 * Cases by chance among which every coverage point is reached on purpose: before the first case,
 * others are drawn from the same stimulus until each point is reached, and those that reach one
 * stand at every fourth place of the first {@link #CASES}. What is drawn follows from the seed
 * alone. A point that a million cases do not reach is left to chance.
 */
public final class SteeredStimulus implements Stimulus {
  /** So many cases or more have them all. */
  public static final int CASES = 256;

  private static final int EVERY = 4;
  private static final int MOST = 1 << 20;

  private final Stimulus stimulus;
  private final CoveragePoints points;
  private final Reference reference;
  private final Map<Long, long[][][]> found = new ConcurrentHashMap<>(); // by seed

  private SteeredStimulus(Stimulus stimulus, CoveragePoints points, Reference reference) {
    this.stimulus = stimulus;
    this.points = points;
    this.reference = reference;
  }

  /** The same stimulus, steered unless its cases are listed. */
  public static Stimulus of(Stimulus stimulus, CoveragePoints points, Reference reference) {
    boolean isListed = stimulus.size(reference.inputs()).isPresent();
    boolean tooMany = points.names().size() > CASES / EVERY;
    return isListed || tooMany ? stimulus : new SteeredStimulus(stimulus, points, reference);
  }

  @Override
  public OptionalLong size(List<Operand> operands) {
    return OptionalLong.empty();
  }

  @Override
  public Source open(List<Operand> operands, long seed, long firstCase) {
    return new Steered(stimulus.open(operands, seed, firstCase), seed, firstCase);
  }

  private final class Steered implements Source {
    private final Source source;
    private long[][][] cases;
    private long drawn;

    Steered(Source source, long seed, long firstCase) {
      this.source = source;
      begin(seed, firstCase);
    }

    /** Those at the beginning of a run alone are steered. */
    private void begin(long seed, long firstCase) {
      drawn = firstCase > 0 ? CASES : 0;
      cases = firstCase > 0 ? null : casesOf(seed);
    }

    @Override
    public void fill(long[][][] columns, int from, int to) {
      source.fill(columns, from, to);
      for (int row = from; row < to && drawn < CASES; row++, drawn++) {
        int place = (int) drawn / EVERY;
        if (drawn % EVERY == EVERY - 1 && cases.length > 0) {
          put(cases[place % cases.length], columns, row);
        }
      }
    }

    @Override
    public boolean restart(long seed, long firstCase) {
      if (!source.restart(seed, firstCase)) {
        return false;
      }
      begin(seed, firstCase);
      return true;
    }
  }

  private long[][][] casesOf(long seed) {
    return found.computeIfAbsent(seed, this::find);
  }

  private static void put(long[][] codes, long[][][] columns, int row) {
    for (int operand = 0; operand < codes.length; operand++) {
      for (int word = 0; word < codes[operand].length; word++) {
        columns[operand][word][row] = codes[operand][word];
      }
    }
  }

  /** A case for each point that is reached, by point, operand and word. */
  private long[][][] find(long seed) {
    List<Operand> operands = reference.inputs();
    CoverageCounter counter = new CoverageCounter(points, reference, reference.open(Feed.BLOCK));
    long[][][] columns = new long[operands.size()][][];
    for (int i = 0; i < columns.length; i++) {
      columns[i] = new long[operands.get(i).format().words()][];
      for (int word = 0; word < columns[i].length; word++) {
        columns[i][word] = counter.input(i, word);
      }
    }
    Source source = stimulus.open(operands, RandomStream.derive(seed, "steered"), 0);
    long[][][] cases = new long[points.names().size()][][];
    int missing = cases.length;
    for (int drawn = 0; drawn < MOST && missing > 0; drawn += Feed.BLOCK) {
      source.fill(columns, 0, Feed.BLOCK);
      counter.run(Feed.BLOCK);
      for (int point = 0; point < cases.length; point++) {
        int row = cases[point] == null ? counter.firstRow(point, Feed.BLOCK) : -1;
        if (row >= 0) {
          cases[point] = taken(columns, row);
          missing--;
        }
      }
    }
    return Arrays.stream(cases).filter(one -> one != null).toArray(long[][][]::new);
  }

  private static long[][] taken(long[][][] columns, int row) {
    long[][] codes = new long[columns.length][];
    for (int operand = 0; operand < codes.length; operand++) {
      codes[operand] = new long[columns[operand].length];
      for (int word = 0; word < codes[operand].length; word++) {
        codes[operand][word] = columns[operand][word][row];
      }
    }
    return codes;
  }
}
