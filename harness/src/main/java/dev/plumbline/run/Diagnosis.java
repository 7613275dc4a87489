package dev.plumbline.run;

import dev.plumbline.contract.Flow;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Mismatch.Kind;
import dev.plumbline.verdict.Row;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.NavigableMap;
import java.util.OptionalInt;

/**
 * Sets what a mismatch is, from the rows around it: a right result in the wrong cycle is looked for
 * in the neighbouring rows before a value is called wrong.
 */
final class Diagnosis {
  /** Most cycles that a result is looked for away from where it was due. */
  static final int FARTHEST = 16;

  /** Rows around a mismatch that are looked at. */
  static final int REACH = FARTHEST + ResultOrder.RUN;

  private final Binding binding;
  private final NavigableMap<Long, Row> rows;
  private final ResultOrder results;
  private final boolean oneForEach;

  Diagnosis(Binding binding, NavigableMap<Long, Row> rows) {
    this.binding = binding;
    this.rows = rows;
    this.oneForEach = binding.contract().reference().givesOneForEach();
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
        Kind order =
            firstSight == Kind.VALUE_WRONG ? results.kindOf(row, !binding.isFixed()) : firstSight;
        if (order != firstSight) {
          return value(row, order, 0);
        }
        int shift = binding.isFixed() ? shift(row, firstSight) : delay(row);
        if (shift != 0) {
          Kind kind = shift > 0 ? Kind.LATE : Kind.EARLY;
          return firstSight == Kind.VALUE_WRONG
              ? value(row, kind, Math.abs(shift))
              : valid(row, kind, Math.abs(shift));
        }
        return firstSight == Kind.VALUE_WRONG
            ? value(row, firstSight, 0)
            : valid(row, firstSight, 0);
      }
      case CHANGED_WHILE_STALLED -> {
        return changed(row);
      }
      case EARLY, LATE -> {
        return valid(row, firstSight, outOfTime(row));
      }
      case NEVER_READY -> {
        String port = binding.contract().flow().inReady();
        return new Mismatch(
            firstSight,
            0,
            cycle,
            row.caseIn(),
            port,
            OptionalInt.empty(),
            BigInteger.ZERO,
            BigInteger.ONE,
            BigInteger.ONE);
      }
      default -> {
        return valid(row, firstSight, 0);
      }
    }
  }

  private boolean isValid(Row row) {
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

  /** The shift by which the following rows are right; 0 when there is none. */
  private int shift(Row row, Kind firstSight) {
    for (int distance = 1; distance <= FARTHEST; distance++) {
      if (fits(row.cycle(), distance, firstSight)) {
        return distance;
      }
      if (fits(row.cycle() + distance, -distance, firstSight)) {
        return -distance;
      }
    }
    return 0;
  }

  private boolean fits(long from, int shift, Kind firstSight) {
    int bits = 0;
    for (long cycle = from; cycle < from + ResultOrder.RUN; cycle++) {
      Row due = rows.get(cycle);
      Row came = rows.get(cycle + shift);
      if (due == null || came == null) {
        break;
      }
      if (firstSight != Kind.VALUE_WRONG && due.isDue() != isValid(came)) {
        return false;
      }
      if (due.isDue()) {
        if (isOutside(came, due)) {
          return false;
        }
        bits += answerBits();
      }
    }
    return bits >= ResultOrder.BELIEVED_BITS;
  }

  /** In a stream: how many cycles after it was missed a result came and was right; 0 if never. */
  private int delay(Row row) {
    if (!oneForEach && isValid(row)) {
      return 0; // what comes later is another result of the case
    }
    for (Row later : rows.tailMap(row.cycle(), false).values()) {
      if (row.isDue() && later.caseOut() == row.caseOut() && isValid(later)) {
        return isOutside(later, later) ? 0 : (int) (later.cycle() - row.cycle());
      }
    }
    return 0;
  }

  /** Whether the outputs of one row lie outside what another row was due. */
  private boolean isOutside(Row came, Row due) {
    OutputCheck[] checks = binding.checks();
    for (int c = 0; c < checks.length; c++) {
      int flag = checks[c].flag();
      BigInteger code = came.outputs().get(c);
      if (flag >= 0 && came.outputs().get(flag).signum() == 0) {
        Long otherwise = checks[c].otherwise();
        if (otherwise != null && !code.equals(BigInteger.valueOf(otherwise))) {
          return true;
        }
        continue;
      }
      if (code.compareTo(due.low().get(c)) < 0 || code.compareTo(due.high().get(c)) > 0) {
        return true;
      }
    }
    return false;
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
        long age = row.cycle() - accepted.cycle();
        return (int)
            (age < flow.leastLatency()
                ? flow.leastLatency() - age
                : Math.min(age - flow.mostLatency(), sinceResult(row) - flow.mostGap()));
      }
    }
    return 1;
  }

  /** Cycles since the result before was taken, where that matters to the next. */
  private long sinceResult(Row row) {
    for (Row before : rows.headMap(row.cycle(), false).descendingMap().values()) {
      if (!oneForEach
          && isValid(before)
          && isHighOrAbsent(binding.contract().flow().outReady(), before)) {
        return row.cycle() - before.cycle();
      }
    }
    return Integer.MAX_VALUE;
  }

  private Mismatch value(Row row, Kind kind, int cycles) {
    int output = Math.max(0, row.wrong().indexOf(true));
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
