package dev.plumbline.explain;

import dev.plumbline.contract.Contract;
import dev.plumbline.drive.Engine;
import dev.plumbline.drive.Script;
import dev.plumbline.drive.Script.Line;
import dev.plumbline.judge.ContractRunner;
import dev.plumbline.judge.Tally;
import dev.plumbline.models.datapath.Operand;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;

/**
 * Makes a script smaller as long as its first mismatch stays of the same group: fewer rows, then
 * operands at zero, then rounder ones. It tries so many scripts at most, so that the result does
 * not depend on the speed of the machine, unless the time runs out.
 */
final class SmallestCase {
  private static final int MOST_TRIALS = 3_000;
  private static final long MOST_NANOSECONDS = 8_000_000_000L;

  private final Contract contract;
  private final Predicate<Script> wanted;
  private final long started = System.nanoTime();
  private int trials;

  /** Looks for scripts whose first mismatch is of a group. */
  SmallestCase(ContractRunner runner, Contract contract, Tally.Group wanted) {
    this(
        contract,
        script ->
            runner
                .play(script, (row, feed, checker) -> {})
                .tally()
                .firstGroup()
                .equals(Optional.of(wanted)));
  }

  /** Looks for scripts that show what is wanted; one whose DUT ends in another way does not. */
  SmallestCase(Contract contract, Predicate<Script> wanted) {
    this.contract = contract;
    this.wanted = wanted;
  }

  /** The smallest found; empty when not even the script itself shows the mismatch. */
  Optional<Script> of(Script whole) {
    if (!shows(whole)) {
      return Optional.empty();
    }
    Script script = shorter(whole);
    for (Engine.Start start : List.of(Engine.Start.ZEROS, Engine.Start.ONES)) {
      Script other = script.startingFrom(start);
      if (script.start() == Engine.Start.RANDOM && shows(other)) {
        script = other;
      }
    }
    script = calm(fewer(script));
    Script before;
    do {
      before = script;
      script = fewer(rounder(script));
    } while (!same(before, script) && !isOver());
    return Optional.of(script);
  }

  /** How many scripts were tried. */
  int trials() {
    return trials;
  }

  private boolean isOver() {
    return trials >= MOST_TRIALS || System.nanoTime() - started > MOST_NANOSECONDS;
  }

  private boolean shows(Script script) {
    if (script.lines().stream().anyMatch(line -> line.isCase() && !contract.allows(line.words()))) {
      return false; // the block need not be right there
    }
    if (isOver()) {
      return false;
    }
    trials++;
    try {
      return wanted.test(script);
    } catch (RuntimeException e) {
      return false; // it ends otherwise, or the reference is for other cases than this one
    }
  }

  private int head(Script script) {
    int rows = 0;
    while (rows < script.lines().size() && script.lines().get(rows).reset()) {
      rows++;
    }
    return Math.min(rows, contract.reset().cycles());
  }

  /** The reset and the last rows, as few as show it. */
  private Script shorter(Script whole) {
    int head = head(whole);
    List<Line> lines = whole.lines();
    int latency = contract.flow().mostLatency();
    for (long rows = latency + 1L; head + rows < lines.size(); rows = 2 * rows + 8) {
      List<Line> some = new ArrayList<>(lines.subList(0, head));
      some.addAll(lines.subList((int) (lines.size() - rows), lines.size()));
      Script script = whole.with(some);
      if (shows(script)) {
        return script;
      }
    }
    return whole;
  }

  /** Leaves out rows: halves first, then quarters, at last one at a time. */
  private Script fewer(Script given) {
    Script script = given;
    int head = head(script);
    for (int span = script.lines().size() - head; span > 0; span /= 2) {
      for (int at = head; at < script.lines().size() && !isOver(); ) {
        List<Line> left = new ArrayList<>(script.lines());
        left.subList(at, Math.min(left.size(), at + span)).clear();
        Script other = script.with(left);
        if (shows(other)) {
          script = other;
        } else {
          at += span;
        }
      }
    }
    return script;
  }

  /** Cases become bubbles, bubbles become zeros, the consumer is ready. */
  private Script calm(Script given) {
    Script script = given;
    for (int row = 0; row < script.lines().size() && !isOver(); row++) {
      Line line = script.lines().get(row);
      boolean valid = contract.flow().inValid() == null; // then every row is a case
      long[] zeros = line.words() == null ? null : new long[line.words().length];
      for (Line other :
          List.of(
              new Line(line.reset(), valid, true, zeros),
              new Line(line.reset(), valid, line.ready(), zeros),
              new Line(line.reset(), valid, line.ready(), line.words()),
              new Line(line.reset(), line.valid(), true, line.words()))) {
        if (!same(other, script.lines().get(row)) && shows(with(script, row, other))) {
          script = with(script, row, other);
          break;
        }
      }
    }
    return script;
  }

  private static Script with(Script script, int row, Line line) {
    List<Line> lines = new ArrayList<>(script.lines());
    lines.set(row, line);
    return script.with(lines);
  }

  private Script rounder(Script given) {
    Script script = given;
    for (int row = 0; row < script.lines().size() && !isOver(); row++) {
      if (script.lines().get(row).words() == null) {
        continue;
      }
      int at = 0;
      for (Operand operand : contract.reference().inputs()) {
        int words = operand.format().words();
        script = words == 1 ? rounder(script, row, at, operand) : zeroed(script, row, at, words);
        at += words;
      }
    }
    return script;
  }

  private Script zeroed(Script script, int row, int at, int words) {
    Script other = script;
    for (int word = at; word < at + words; word++) {
      other = with(other, row, word, 0);
    }
    return !same(script, other) && shows(other) ? other : script;
  }

  /** Zero, else one, else as few ones in its magnitude as still show it. */
  private Script rounder(Script given, int row, int at, Operand operand) {
    long code = given.lines().get(row).words()[at];
    if (code == 0) {
      return given;
    }
    long one =
        1L << Math.max(0, Math.min(operand.format().fractionBits(), operand.format().width() - 2));
    for (long round : new long[] {0, one, -one}) {
      boolean allowed = round >= 0 || operand.format().signed();
      if (code == round) {
        return given;
      }
      if (allowed && shows(with(given, row, at, round))) {
        return with(given, row, at, round);
      }
    }
    Script script = given;
    boolean negative = operand.format().signed() && code < 0;
    long magnitude = negative ? -code : code;
    for (int bit = Long.SIZE - 2; bit >= 0; bit--) { // the low bits all at once, as many as may go
      long less = magnitude & (-1L << bit);
      if (less != 0 && less != magnitude && trial(script, row, at, less, negative)) {
        magnitude = less;
        script = with(script, row, at, negative ? -less : less);
        break;
      }
    }
    for (int bit = 0; bit < Long.SIZE; bit++) {
      long less = magnitude & ~(1L << bit);
      if (less != 0 && less != magnitude && trial(script, row, at, less, negative)) {
        magnitude = less;
        script = with(script, row, at, negative ? -less : less);
      }
    }
    return script;
  }

  private boolean trial(Script script, int row, int at, long magnitude, boolean negative) {
    return shows(with(script, row, at, negative ? -magnitude : magnitude));
  }

  private static Script with(Script script, int row, int at, long word) {
    Line line = script.lines().get(row);
    long[] words = line.words().clone();
    words[at] = word;
    return with(script, row, new Line(line.reset(), line.valid(), line.ready(), words));
  }

  private static boolean same(Script a, Script b) {
    if (a.lines().size() != b.lines().size()) {
      return false;
    }
    for (int row = 0; row < a.lines().size(); row++) {
      if (!same(a.lines().get(row), b.lines().get(row))) {
        return false;
      }
    }
    return true;
  }

  private static boolean same(Line a, Line b) {
    return a.reset() == b.reset()
        && a.valid() == b.valid()
        && a.ready() == b.ready()
        && Arrays.equals(a.words(), b.words());
  }
}
