package dev.plumbline.stage;

import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.DutException;
import dev.plumbline.drive.Feed;
import dev.plumbline.judge.Checker;
import dev.plumbline.judge.ContractRunner;
import dev.plumbline.judge.StreamChecker;
import dev.plumbline.models.datapath.BitEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.datapath.Variations;
import dev.plumbline.window.WindowRecorder;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * The cases that went in over some rows of a segment that is run again, and what each step of the
 * reference is for them.
 */
final class StepSample implements ContractRunner.Watcher {
  private final WindowRecorder recorder;
  private final long first; // row
  private final long last;
  private final List<long[]> words = new ArrayList<>(); // of each case: operand after operand
  private long[] rows = new long[Feed.BLOCK];
  private long[] numbers = new long[Feed.BLOCK];
  private int count;
  private final Set<Long> wrongRows =
      new HashSet<>(); // at which cases went in whose results differ
  private final Set<Long> wrongNumbers = new HashSet<>();
  private final Map<Long, long[][]> resultsOfRows = new HashMap<>(); // codes by check, word
  private final Map<Long, long[][]> resultsOfNumbers = new HashMap<>();
  private final Map<Long, Long> rowsOfResults = new HashMap<>(); // in a stream, by number
  private boolean isStream;
  private long offered;
  private List<Operand> steps = List.of();
  private long[][][] codes = {}; // step, word, case

  StepSample(WindowRecorder recorder, long first, long last) {
    this.recorder = recorder;
    this.first = first;
    this.last = last;
  }

  @Override
  public void block(long firstRow, Feed feed, Checker checker) {
    recorder.block(firstRow, feed, checker);
    offered += feed.givenUp();
    noteWrong(firstRow, feed, checker);
    for (int row = 0; row < feed.rows; row++) {
      if (!feed.isTaken(row)) {
        continue;
      }
      long number = feed.segment().firstCase() + offered++;
      if (firstRow + row >= first && firstRow + row <= last && feed.inputsAt(row) >= 0) {
        add(firstRow + row, number, feed.to.inputs, feed.inputsAt(row));
      }
    }
  }

  private void noteWrong(long firstRow, Feed feed, Checker checker) {
    int latency = feed.binding().contract().flow().mostLatency();
    for (int row = 0; row < feed.rows; row++) {
      int entry = checker.entry(row);
      boolean wrong = false;
      for (int c = 0; entry >= 0 && c < feed.to.outputs.length; c++) {
        wrong |= checker.expected().isWrong(c, entry, feed.to.outputs, row);
      }
      boolean came = feed.to.outValid == null || feed.to.outValid[row] != 0;
      if (entry >= 0 && came && firstRow + row >= first && firstRow + row <= last + latency) {
        noteResult(firstRow + row - latency, row, feed, checker);
      }
      if (wrong && checker instanceof StreamChecker stream) {
        wrongNumbers.add(feed.segment().firstCase() + stream.dueCase(row));
      } else if (wrong) {
        wrongRows.add(firstRow + row - latency);
      }
    }
  }

  private void noteResult(long wentIn, int row, Feed feed, Checker checker) {
    long[][] codes = new long[feed.to.outputs.length][];
    for (int c = 0; c < codes.length; c++) {
      codes[c] = new long[feed.to.outputs[c].length];
      for (int word = 0; word < codes[c].length; word++) {
        codes[c][word] = feed.to.outputs[c][word][row];
      }
    }
    if (checker instanceof StreamChecker stream) {
      isStream = true;
      long number = feed.segment().firstCase() + stream.dueCase(row);
      resultsOfNumbers.putIfAbsent(number, codes);
      rowsOfResults.putIfAbsent(number, wentIn + feed.binding().contract().flow().mostLatency());
    } else {
      resultsOfRows.put(wentIn, codes);
    }
  }

  /**
   * Whether cases are under way beside each other: in a stream, whether one was taken before the
   * result of another came; else whether they follow each other within so many rows.
   */
  boolean isDense(int rowsApart) {
    for (int n = 1; n < count; n++) {
      Long came = rowsOfResults.get(numbers[n - 1]);
      if (came != null ? rows[n] < came : rows[n] - rows[n - 1] <= rowsApart && !isStream) {
        return true;
      }
    }
    return false;
  }

  /** What came of a case, by check and word; null where its result is not in the sample. */
  long[][] result(int n) {
    long[][] codes = resultsOfNumbers.get(numbers[n]);
    return codes == null ? resultsOfRows.get(rows[n]) : codes;
  }

  /** The words of a case's operands. */
  long[] words(int n) {
    return words.get(n);
  }

  /** Whether a case's result differs. */
  boolean isWrong(int n) {
    return wrongRows.contains(rows[n]) || wrongNumbers.contains(numbers[n]);
  }

  @Override
  public boolean wantsMore(long rowsSoFar) {
    return rowsSoFar <= last || recorder.wantsMore(rowsSoFar);
  }

  @Override
  public void ended(long firstRow, Feed feed, Checker checker, DutException end) {
    recorder.ended(firstRow, feed, checker, end);
  }

  private void add(long row, long number, long[][][] inputs, int place) {
    if (count == rows.length) {
      rows = Arrays.copyOf(rows, 2 * count);
      numbers = Arrays.copyOf(numbers, 2 * count);
    }
    rows[count] = row;
    numbers[count++] = number;
    words.add(
        Arrays.stream(inputs)
            .flatMapToLong(operand -> Arrays.stream(operand).mapToLong(w -> w[place]))
            .toArray());
  }

  /** The column of an operand's word. */
  @FunctionalInterface
  private interface Columns {
    long[] of(int operand, int word);
  }

  private void fill(Columns columns, List<Operand> inputs, int from, int size) {
    int word = 0;
    for (int i = 0; i < inputs.size(); i++) {
      for (int w = 0; w < inputs.get(i).format().words(); w++, word++) {
        for (int n = 0; n < size; n++) {
          columns.of(i, w)[n] = words.get(from + n)[word];
        }
      }
    }
  }

  /** Evaluates the steps for all cases. */
  void evaluate(Reference reference) {
    Datapath datapath = reference.steps().orElse(null);
    if (datapath == null || count == 0) {
      return;
    }
    steps = datapath.steps();
    codes = room();
    BitEvaluation bits = datapath.bits(Feed.BLOCK);
    List<Operand> inputs = datapath.inputs();
    for (int from = 0; from < count; from += Feed.BLOCK) {
      int size = Math.min(Feed.BLOCK, count - from);
      fill(bits::input, inputs, from, size);
      bits.run(size);
      for (int s = 0; s < codes.length; s++) {
        for (int w = 0; w < codes[s].length; w++) {
          System.arraycopy(bits.step(steps.get(s).name(), w), 0, codes[s][w], from, size);
        }
      }
    }
  }

  private long[][][] room() {
    long[][][] room = new long[steps.size()][][];
    for (int s = 0; s < room.length; s++) {
      room[s] = new long[steps.get(s).format().words()][count];
    }
    return room;
  }

  /**
   * The same cases with the codes that the steps have where one is changed; empty where a step
   * meets codes that it has no meaning for.
   */
  Optional<StepSample> changed(Datapath datapath, int change) {
    long[][][] changed = room();
    Variations variations = datapath.variations(Feed.BLOCK);
    for (int from = 0; from < count; from += Feed.BLOCK) {
      int size = Math.min(Feed.BLOCK, count - from);
      fill(variations::input, datapath.inputs(), from, size);
      if (!variations.run(variations.all().get(change), size)) {
        return Optional.empty();
      }
      for (int s = 0; s < changed.length; s++) {
        for (int w = 0; w < changed[s].length; w++) {
          System.arraycopy(variations.step(steps.get(s).name(), w), 0, changed[s][w], from, size);
        }
      }
    }
    StepSample same = new StepSample(recorder, first, last);
    same.rows = rows;
    same.numbers = numbers;
    same.count = count;
    same.words.addAll(words);
    same.wrongRows.addAll(wrongRows);
    same.wrongNumbers.addAll(wrongNumbers);
    same.resultsOfRows.putAll(resultsOfRows);
    same.resultsOfNumbers.putAll(resultsOfNumbers);
    same.rowsOfResults.putAll(rowsOfResults);
    same.isStream = isStream;
    same.steps = steps;
    same.codes = changed;
    return Optional.of(same);
  }

  /**
   * In which cases a step matters: where some other code of it would give another result. Hardware
   * that answers as soon as it can never has the rest.
   */
  boolean[] matters(Datapath datapath, int step) {
    Operand operand = steps.get(step);
    long[][] own = codes[step];
    boolean[] matters = new boolean[count];
    Variations variations = datapath.variations(Feed.BLOCK);
    int outputs = datapath.outputs().size();
    for (int from = 0; from < count; from += Feed.BLOCK) {
      int size = Math.min(Feed.BLOCK, count - from);
      fill(variations::input, datapath.inputs(), from, size);
      variations.run(null, size);
      long[][][] right = new long[outputs][][];
      for (int o = 0; o < outputs; o++) {
        right[o] = new long[datapath.outputs().get(o).format().words()][];
        for (int w = 0; w < right[o].length; w++) {
          right[o][w] = variations.output(o, w).clone();
        }
      }
      for (long change : changes(operand)) {
        long[][] given = new long[2][size];
        for (int n = 0; n < size; n++) {
          given[0][n] = own[0][from + n] ^ change;
          given[1][n] = own.length > 1 ? own[1][from + n] : given[0][n] >> 63;
        }
        if (!variations.runFrom(Map.of(operand.name(), given), size)) {
          Arrays.fill(matters, true); // it cannot be told
          return matters;
        }
        for (int o = 0; o < outputs; o++) {
          for (int w = 0; w < right[o].length; w++) {
            for (int n = 0; n < size; n++) {
              matters[from + n] |= right[o][w][n] != variations.output(o, w)[n];
            }
          }
        }
      }
    }
    return matters;
  }

  private static long[] changes(Operand operand) {
    int width = Math.min(operand.format().width(), Long.SIZE - 1);
    return width == 1 ? new long[] {1} : new long[] {1, 1L << (width / 2), -1L, 1L << (width - 1)};
  }

  List<Operand> steps() {
    return steps;
  }

  int count() {
    return count;
  }

  /** The row at which a case went in. */
  long row(int n) {
    return rows[n];
  }

  /** Where a case stands by its number; -1 where it is not in the sample. */
  int indexOf(long number) {
    for (int n = 0; n < count; n++) {
      if (numbers[n] == number) {
        return n;
      }
    }
    return -1;
  }

  /** Where a step stands by its name; -1 where there is none of it. */
  int stepNamed(String name) {
    for (int s = 0; s < steps.size(); s++) {
      if (steps.get(s).name().equals(name)) {
        return s;
      }
    }
    return -1;
  }

  /** A step's codes by word and case. */
  long[][] codes(int step) {
    return codes[step];
  }

  BigInteger code(int step, int n) {
    long[] one = new long[codes[step].length];
    for (int w = 0; w < one.length; w++) {
      one[w] = codes[step][w][n];
    }
    return steps.get(step).format().fromWords(one);
  }
}
