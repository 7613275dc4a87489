package dev.plumbline.window;

import dev.plumbline.drive.Binding;
import dev.plumbline.drive.Feed;
import dev.plumbline.drive.OutputCheck;
import dev.plumbline.judge.Checker;
import dev.plumbline.judge.ContractRunner;
import dev.plumbline.judge.StreamChecker;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * What a DUT was given and what it gave, over some rows of a segment: each result beside the place
 * where its operands stand. Under a fixed latency a place is a cycle, bubbles among them; in a
 * stream it is a case.
 */
public final class Observation implements ContractRunner.Watcher {
  private final Binding binding;
  private final long first;
  private final long last;
  private final boolean byRow;
  private final List<long[]> places = new ArrayList<>(); // words of all operands
  private final List<Long> placeOfCase = new ArrayList<>(); // where each went in; by row: its row
  private final List<Result> results = new ArrayList<>();
  private long rowsBefore = -1; // row of the first place, by row

  /**
   * A result that came when it was due.
   *
   * @param place where its operands stand
   * @param codes what came, by check, in words
   * @param low the least that was allowed, in the same way
   * @param high the most
   * @param wrong whether it lies outside
   */
  @SuppressWarnings("ArrayRecordComponent") // words as everywhere here; results are not compared
  public record Result(int place, long[][] codes, long[][] low, long[][] high, boolean wrong) {}

  /** Watches from a row to another, both inclusive, by number in their segment. */
  public Observation(Binding binding, long first, long last) {
    this.binding = binding;
    this.first = first;
    this.last = last;
    this.byRow =
        !binding.contract().flow().waits()
            && !binding.beats().areSeveral()
            && binding.timing() == null;
  }

  public List<long[]> places() {
    return places;
  }

  public List<Result> results() {
    return results;
  }

  /** Whether places are cycles, so that neighbours in time can be told. */
  public boolean isByRow() {
    return byRow;
  }

  @Override
  public boolean wantsMore(long rowsSoFar) {
    return rowsSoFar <= last;
  }

  @Override
  public void block(long firstRow, Feed feed, Checker checker) {
    for (int n = feed.givenUp(); n > 0; n--) {
      placeOfCase.add(-1L);
    }
    for (int row = 0; row < feed.rows; row++) {
      long at = firstRow + row;
      boolean isTaken = feed.isTaken(row);
      if (byRow && at >= first && at <= last) {
        rowsBefore = rowsBefore < 0 ? at : rowsBefore;
        places.add(feed.words(row));
      }
      if (isTaken) {
        boolean seen = !byRow && at >= first && at <= last;
        placeOfCase.add(byRow ? at : seen ? (long) places.size() : -1);
        if (seen) {
          places.add(feed.words(feed.inputsAt(row)));
        }
      }
      result(at, row, feed, checker);
    }
  }

  private void result(long at, int row, Feed feed, Checker checker) {
    int entry = checker.entry(row);
    boolean came = feed.to.outValid == null || feed.to.outValid[row] != 0;
    if (entry < 0 || !came || at > last) {
      return;
    }
    long place;
    if (checker instanceof StreamChecker stream) {
      long number = stream.dueCase(row);
      place = number < placeOfCase.size() ? placeOfCase.get((int) number) : -1;
    } else {
      place = at - binding.contract().flow().mostLatency();
    }
    int index = (int) (byRow ? place - rowsBefore : place);
    if (place < 0 || rowsBefore < 0 == byRow || index < 0 || index >= places.size()) {
      return;
    }
    OutputCheck[] checks = binding.checks();
    long[][] codes = new long[checks.length][];
    long[][] low = new long[checks.length][];
    long[][] high = new long[checks.length][];
    for (int c = 0; c < checks.length; c++) {
      codes[c] = at(feed.to.outputs[c], row);
      low[c] = at(checker.expected().low[c], entry);
      high[c] = at(checker.expected().high[c], entry);
    }
    boolean wrong = !checker.expected().holds(entry, feed.to.outputs, row);
    results.add(new Result(index, codes, low, high, wrong));
  }

  private static long[] at(long[][] words, int row) {
    long[] code = new long[words.length];
    for (int word = 0; word < words.length; word++) {
      code[word] = words[word][row];
    }
    return code;
  }

  /** Whether other codes of all outputs, in words by check, are what came: by contract. */
  public boolean agrees(Result result, long[][] low, long[][] high) {
    OutputCheck[] checks = binding.checks();
    for (int c = 0; c < checks.length; c++) {
      int flag = checks[c].flag();
      boolean decided = flag < 0 || (result.codes()[flag][0] == 0) == checks[c].flagLow();
      if (decided) {
        if (!isInside(c, result.codes()[c], low[c], high[c])) {
          return false;
        }
      } else if (checks[c].otherwise() != null && result.codes()[c][0] != checks[c].otherwise()) {
        return false;
      }
    }
    return true;
  }

  /** Of two words exactly; of one with the tolerance, which the bounds given are without. */
  private boolean isInside(int c, long[] code, long[] low, long[] high) {
    OutputCheck check = binding.checks()[c];
    if (code.length > 1 || !check.isNarrow()) {
      return Arrays.equals(code, low) || Arrays.equals(code, high);
    }
    return code[0] >= low[0] - check.tolerance() && code[0] <= high[0] + check.tolerance();
  }

  /** The reference's output of each check. */
  public int[] outputs() {
    OutputCheck[] checks = binding.checks();
    int[] outputs = new int[checks.length];
    for (int c = 0; c < outputs.length; c++) {
      outputs[c] = checks[c].output();
    }
    return outputs;
  }
}
