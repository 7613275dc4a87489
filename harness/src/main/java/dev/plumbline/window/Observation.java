package dev.plumbline.window;

import dev.plumbline.contract.Reference;
import dev.plumbline.drive.Binding;
import dev.plumbline.drive.Feed;
import dev.plumbline.drive.OutputCheck;
import dev.plumbline.judge.Checker;
import dev.plumbline.judge.ContractRunner;
import dev.plumbline.judge.StreamChecker;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.BitSet;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * What a DUT was given and what it gave, over some rows of a segment: each result beside the place
 * where its operands stand. Under a fixed latency a place is a cycle, bubbles among them; in a
 * stream, or where the reference has state, it is a case. With state, cases are there from where it
 * began.
 */
public final class Observation implements ContractRunner.Watcher {
  private final Binding binding;
  private final long first;
  private final long last;
  private final boolean hasRows; // whether every row has words of its own
  private final boolean hasState;
  private final boolean byRow;
  private final List<long[]> places = new ArrayList<>(); // words of all operands
  private final List<Long> rowOfPlace = new ArrayList<>();
  private final List<Integer> placeOfCase = new ArrayList<>(); // -1 where it is not kept
  private final Map<Long, Integer> placeOfRow = new HashMap<>();
  private final List<long[]> rows = new ArrayList<>(); // words
  private long firstKept = -1; // row of the first of those
  private final BitSet begins = new BitSet(); // places before which state begins anew
  private final BitSet taken = new BitSet(); // places in which a case was taken
  private boolean isNew = true; // whether it does before the next place
  private final List<Result> results = new ArrayList<>();

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
    this.hasRows =
        !binding.contract().flow().waits()
            && !binding.beats().areSeveral()
            && binding.timing() == null;
    Reference reference = binding.contract().reference();
    this.hasState = reference.isStateful();
    this.byRow = hasRows && !hasState;
  }

  public List<long[]> places() {
    return places;
  }

  public List<Result> results() {
    return results;
  }

  /** Places before which state begins anew, where the reference has any. */
  public BitSet begins() {
    return begins;
  }

  /** Places in which a case was taken; the others are bubbles. */
  public BitSet taken() {
    return taken;
  }

  /** Whether places are cycles, so that neighbours in time can be told. */
  public boolean isByRow() {
    return byRow;
  }

  /** Whether neighbours are those of cycles; else they are those of cases. */
  public boolean hasCycles() {
    return hasRows;
  }

  /** The words that stood so many cycles after a place's own, or cases; its own where none did. */
  public long[] beside(int place, int far) {
    List<long[]> from = hasRows ? rows : places;
    long at = (hasRows ? rowOfPlace.get(place) - firstKept : place) + far;
    return at < 0 || at >= from.size() ? places.get(place) : from.get((int) at);
  }

  @Override
  public boolean wantsMore(long rowsSoFar) {
    return rowsSoFar <= last;
  }

  @Override
  public void block(long firstRow, Feed feed, Checker checker) {
    for (int n = feed.givenUp(); n > 0; n--) {
      placeOfCase.add(-1);
    }
    for (int row = 0; row < feed.rows; row++) {
      long at = firstRow + row;
      boolean isKept = (at >= first || hasState) && at <= last;
      boolean isTaken = feed.isTaken(row);
      if (hasRows && isKept) {
        firstKept = firstKept < 0 ? at : firstKept;
        rows.add(feed.words(row));
      }
      boolean isPlace = isKept && (byRow || isTaken);
      if (isPlace) {
        place(at, feed, row);
        taken.set(places.size() - 1, isTaken);
      }
      if (isTaken) {
        placeOfCase.add(isPlace ? places.size() - 1 : -1);
      }
      result(at, row, feed, checker);
      if (feed.reset[row] != 0) { // what is taken under reset is still of before
        renew(at);
      }
    }
  }

  private void place(long at, Feed feed, int row) {
    if (isNew) {
      begins.set(places.size());
      isNew = false;
    }
    placeOfRow.put(at, places.size());
    rowOfPlace.add(at);
    places.add(byRow ? rows.get(rows.size() - 1) : feed.words(feed.inputsAt(row)));
  }

  /** State begins anew behind a row; what lies before it matters no more, if nobody looks at it. */
  private void renew(long at) {
    isNew = true;
    if (hasState && at < first) {
      places.clear();
      rowOfPlace.clear();
      placeOfRow.clear();
      begins.clear();
      taken.clear();
      Collections.fill(placeOfCase, -1);
    }
  }

  private void result(long at, int row, Feed feed, Checker checker) {
    int entry = checker.entry(row);
    boolean came = feed.to.outValid == null || feed.to.outValid[row] != 0;
    if (entry < 0 || !came || at > last || (hasState && at < first)) {
      return;
    }
    int index;
    if (checker instanceof StreamChecker stream) {
      long number = stream.dueCase(row);
      index = number < placeOfCase.size() ? placeOfCase.get((int) number) : -1;
    } else {
      index = placeOfRow.getOrDefault(at - binding.contract().flow().mostLatency(), -1);
    }
    if (index < 0) {
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
