package dev.plumbline.window;

import dev.plumbline.contract.Flow;
import dev.plumbline.contract.Taking;
import dev.plumbline.drive.Binding;
import dev.plumbline.judge.ResultOrder;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.verdict.Fact;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Mismatch.Kind;
import dev.plumbline.verdict.Row;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.NavigableMap;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.stream.IntStream;

/**
 * Says what a mismatch is, from the rows around it: right results in the wrong cycle are looked for
 * in the rows that follow before a value is called wrong.
 */
final class Diagnosis {
  private final Binding binding;
  private final NavigableMap<Long, Row> rows;
  private final ResultOrder results;
  private final boolean oneForEach;
  private final Timing timing;

  Diagnosis(Binding binding, NavigableMap<Long, Row> rows) {
    this.binding = binding;
    this.rows = rows;
    this.oneForEach = binding.contract().reference().givesOneForEach();
    this.timing = new Timing(binding, rows, this::isValid);
    List<Row> inOrder = new ArrayList<>(); // one a result
    Row last = null;
    for (Row row : rows.values()) {
      if (row.isDue() && isValid(row)) {
        if (last == null || !isSameResult(last, row)) {
          inOrder.add(row);
        }
        last = row;
      }
    }
    this.results = new ResultOrder(inOrder, this::isOutside, answerBits());
  }

  Mismatch of(long cycle, Kind firstSight) {
    Row row = rows.get(cycle);
    switch (firstSight) {
      case VALUE_WRONG, VALID_MISSING, VALID_WITHOUT_CASE -> {
        boolean ofValue = firstSight == Kind.VALUE_WRONG;
        int shift =
            !binding.isFixed()
                ? delay(row)
                : ofValue
                    ? timing.ofOutput(wrongOutput(row), cycle).map(Timing.Shift::cycles).orElse(0)
                    : timing.ofValid(cycle).map(Timing.Shift::cycles).orElse(0);
        Kind kind =
            shift > 0
                ? Kind.LATE
                : shift < 0
                    ? Kind.EARLY
                    : ofValue && binding.contract().flow().tag() == null
                        ? results.kindOf(row, !binding.isFixed())
                        : firstSight;
        return ofValue ? value(row, kind, Math.abs(shift)) : valid(row, kind, Math.abs(shift));
      }
      case CHANGED_WHILE_STALLED -> {
        return changed(row);
      }
      case EARLY, LATE -> {
        return isInStep(row)
            ? valid(row, firstSight, outOfTime(row))
            : valid(row, firstSight == Kind.EARLY ? Kind.VALID_WITHOUT_CASE : Kind.RESULT_LOST, 0);
      }
      case NEVER_READY -> {
        Flow flow = binding.contract().flow();
        boolean isBusy = flow.taking() == Taking.WHEN_NOT_BUSY;
        BigInteger wanted = isBusy ? BigInteger.ZERO : BigInteger.ONE;
        return new Mismatch(
            firstSight,
            0,
            cycle,
            row.caseIn(),
            flow.gate(),
            OptionalInt.empty(),
            BigInteger.ONE.subtract(wanted),
            wanted,
            wanted);
      }
      default -> {
        return valid(row, firstSight, 0);
      }
    }
  }

  /** What is known of the time of the results that follow on a mismatch; empty where nothing is. */
  Optional<Fact> timing(Mismatch mismatch) {
    if (!binding.isFixed()) {
      return Optional.empty();
    }
    if (mismatch.output().isEmpty()) {
      return timing
          .ofValid(mismatch.cycle())
          .map(shift -> Fact.of("timing", "valid and all outputs " + shift.words()));
    }
    List<String> lines = new ArrayList<>();
    boolean anyShift = false;
    Row row = rows.get(mismatch.cycle());
    for (int o = 0; o < row.outputs().size(); o++) {
      Optional<Timing.Shift> shift = timing.ofOutput(o, mismatch.cycle());
      anyShift |= shift.isPresent();
      if (shift.isPresent() || row.wrong().get(o)) {
        lines.add(
            binding.layout().outputPorts().get(o)
                + " "
                + shift
                    .map(Timing.Shift::words)
                    .orElse(
                        "wrong, and right at no shift of up to " + Timing.FARTHEST + " cycles"));
      }
    }
    return anyShift ? Optional.of(new Fact("timing", lines)) : Optional.empty();
  }

  /** Whether the DUT gave a result in a row. */
  boolean isValid(Row row) {
    return isHighOrAbsent(binding.contract().flow().outValid(), row);
  }

  private boolean isHighOrAbsent(String port, Row row) {
    return port == null
        || row.controls().get(binding.layout().controls().indexOf(port)).signum() != 0;
  }

  /** Whether two rows with results, one after the other, show one that had to wait. */
  private boolean isSameResult(Row before, Row row) {
    return before.caseOut() == row.caseOut()
        && (oneForEach || !isHighOrAbsent(binding.contract().flow().outReady(), before));
  }

  /** In a stream: how many cycles after it was missed a result came and was right; 0 if never. */
  private int delay(Row row) {
    if ((oneForEach ? wasShown(row) : isValid(row)) || !isInStep(row)) {
      return 0; // what comes later is another result of the case, or one of another case
    }
    for (Row later : rows.tailMap(row.cycle(), false).values()) {
      if (row.isDue() && later.caseOut() == row.caseOut() && isValid(later)) {
        return isOutside(later, later) ? 0 : cycles(row, later);
      }
    }
    return 0;
  }

  /** Whether the result of a row's case had come before, and was withdrawn. */
  private boolean wasShown(Row row) {
    return rows.headMap(row.cycle(), false).values().stream()
        .anyMatch(before -> before.isDue() && isValid(before) && before.caseOut() == row.caseOut());
  }

  /**
   * Whether the other cases around that of a row are answered right, at one time or another. If
   * not, results stand beside their places, and one that is right where it stands is so by chance.
   */
  private boolean isInStep(Row row) {
    Map<Long, Boolean> answered = new HashMap<>();
    for (Row other : rows.values()) {
      long places = Math.abs(other.caseOut() - row.caseOut());
      if (other.isDue() && isValid(other) && places > 0 && places <= ResultOrder.RUN) {
        answered.merge(other.caseOut(), !isOutside(other, other), Boolean::logicalOr);
      }
    }
    return !answered.containsValue(false);
  }

  /** Whether the outputs of one row lie outside what another row was due. */
  private boolean isOutside(Row came, Row due) {
    return !timing.isInside(came, due);
  }

  private int answerBits() {
    int bits = 0;
    for (int c = 0; c < binding.checks().length; c++) {
      bits += binding.checks()[c].operand().format().width();
    }
    return bits;
  }

  private int outOfTime(Row row) {
    Flow flow = binding.contract().flow();
    for (Row accepted : rows.headMap(row.cycle(), true).descendingMap().values()) {
      if (accepted.caseIn() == row.caseOut()) {
        int age = cycles(accepted, row);
        int least = flow.leastLatency();
        int most = flow.mostLatency();
        if (flow.latencyOf() != null) {
          least = flow.latencyOf().cycles(words(accepted));
          most = least;
        }
        return (int)
            (age < least ? least - age : Math.min(age - most, sinceResult(row) - flow.mostGap()));
      }
    }
    return 1;
  }

  /** Cycles of the clock of the results from one row to a later. */
  private int cycles(Row from, Row to) {
    if (binding.timing() == null) {
      return (int) (to.cycle() - from.cycle());
    }
    List<String> shown = binding.timing().shown();
    int clock = binding.layout().controls().indexOf(shown.get(shown.size() - 1));
    int cycles = 0;
    for (Row row : rows.subMap(from.cycle(), false, to.cycle(), true).values()) {
      cycles += row.controls().get(clock).signum();
    }
    return cycles;
  }

  /** The words of the operands of a case. */
  private long[] words(Row accepted) {
    List<Operand> operands = binding.contract().reference().inputs();
    return IntStream.range(0, operands.size())
        .mapToObj(i -> operands.get(i).format().toWords(accepted.inputs().get(i)))
        .flatMapToLong(Arrays::stream)
        .toArray();
  }

  /** Cycles since the result before was taken, where that matters to the next. */
  private long sinceResult(Row row) {
    for (Row before : rows.headMap(row.cycle(), false).descendingMap().values()) {
      if (!oneForEach
          && isValid(before)
          && isHighOrAbsent(binding.contract().flow().outReady(), before)) {
        return cycles(before, row);
      }
    }
    return Integer.MAX_VALUE;
  }

  private static int wrongOutput(Row row) {
    return Math.max(0, row.wrong().indexOf(true));
  }

  private Mismatch value(Row row, Kind kind, int cycles) {
    int output = wrongOutput(row);
    return new Mismatch(
        kind,
        cycles,
        row.cycle(),
        row.caseOut(),
        binding.layout().outputPorts().get(output),
        OptionalInt.of(output),
        row.outputs().get(output),
        row.low().get(output),
        row.high().get(output));
  }

  private Mismatch valid(Row row, Kind kind, int cycles) {
    BigInteger actual = isValid(row) ? BigInteger.ONE : BigInteger.ZERO;
    BigInteger wanted = BigInteger.ONE.subtract(actual);
    return new Mismatch(
        kind,
        cycles,
        row.cycle(),
        row.caseOut(),
        binding.contract().flow().outValid(),
        OptionalInt.empty(),
        actual,
        wanted,
        wanted);
  }

  private Mismatch changed(Row row) {
    Row before = rows.get(row.cycle() - 1);
    int output = 0;
    while (output < row.outputs().size() - 1
        && row.outputs().get(output).equals(before.outputs().get(output))) {
      output++;
    }
    return new Mismatch(
        Kind.CHANGED_WHILE_STALLED,
        0,
        row.cycle(),
        row.caseOut(),
        binding.layout().outputPorts().get(output),
        OptionalInt.of(output),
        row.outputs().get(output),
        before.outputs().get(output),
        before.outputs().get(output));
  }
}
