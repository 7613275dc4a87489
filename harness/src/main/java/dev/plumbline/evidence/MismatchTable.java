package dev.plumbline.evidence;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.verdict.CodeText;
import dev.plumbline.verdict.Layout;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Row;
import dev.plumbline.verdict.Verdict;
import java.math.BigDecimal;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Objects;
import java.util.function.Function;

/**
 * {@code mismatch.csv}: one row a cycle around each kept mismatch. What a reader looks for first
 * stands in the first four columns, which may be frozen; a column in which nothing would stand is
 * left out; where cycles are left out a row says how many.
 *
 * <p>Raw codes are hexadecimal text, since a spreadsheet keeps 15 digits of a number and a code may
 * have 39; real values are numbers. A single bit is the number 0 or 1 and has no real column.
 */
final class MismatchTable {
  /** The first columns. */
  static final List<String> FIRST = List.of("cycle", "verdict", "signal", "case");

  /** A heading and what stands below it. */
  private record Column(String heading, Function<Row, Object> cell) {}

  private final Verdict verdict;
  private final List<Column> columns = new ArrayList<>();

  private MismatchTable(Verdict verdict) {
    this.verdict = verdict;
  }

  static CsvTable of(Verdict verdict) {
    return new MismatchTable(verdict).table();
  }

  private CsvTable table() {
    add(FIRST.get(0), Row::cycle);
    add(FIRST.get(1), Row::verdict);
    add(FIRST.get(2), row -> String.join(" ", signals(row)));
    add(FIRST.get(3), row -> row.caseOut() < 0 ? null : row.caseOut());
    add("case_in", row -> row.caseIn() < 0 ? null : row.caseIn());
    Layout layout = verdict.findings().layout();
    for (int i = 0; i < layout.controls().size(); i++) {
      int control = i;
      add(
          layout.controls().get(i),
          row -> isSampled(row, control) ? row.controls().get(control).intValueExact() : null);
    }
    for (int i = 0; i < layout.inputs().size(); i++) {
      int input = i;
      add(
          layout.inputPorts().get(i),
          layout.inputs().get(i),
          row -> row.inputs().isEmpty() ? null : row.inputs().get(input));
    }
    for (int o = 0; o < layout.outputs().size(); o++) {
      output(o, layout.outputPorts().get(o), layout.outputs().get(o));
    }
    columns
        .subList(FIRST.size(), columns.size())
        .removeIf(column -> verdict.rows().stream().map(column.cell()).allMatch(Objects::isNull));
    return filled();
  }

  private void output(int o, String port, Operand operand) {
    add(port, operand, row -> row.outputs().isEmpty() ? null : row.outputs().get(o));
    boolean exact =
        verdict.rows().stream().allMatch(row -> !row.isDue() || low(row, o).equals(high(row, o)));
    if (exact) {
      add(port + "_expected", operand, row -> low(row, o));
    } else {
      add(port + "_low", operand, row -> low(row, o));
      add(port + "_high", operand, row -> high(row, o));
    }
    if (operand.format().width() > 1) {
      add(
          port + "_difference",
          row ->
              row.isDue() && signals(row).contains(port)
                  ? difference(row.outputs().get(o), low(row, o), high(row, o))
                  : null);
    }
  }

  private static boolean isSampled(Row row, int control) {
    return row.controls().get(control).signum() >= 0;
  }

  private static BigInteger low(Row row, int output) {
    return row.isDue() ? row.low().get(output) : null;
  }

  private static BigInteger high(Row row, int output) {
    return row.isDue() ? row.high().get(output) : null;
  }

  private void add(String heading, Function<Row, Object> cell) {
    columns.add(new Column(heading, cell));
  }

  /** A code, and its value where it is more than a bit. */
  private void add(String heading, Operand operand, Function<Row, BigInteger> code) {
    if (operand.format().width() == 1) {
      add(heading, row -> code.apply(row) == null ? null : code.apply(row).intValueExact());
      return;
    }
    add(
        heading,
        row -> code.apply(row) == null ? null : CodeText.hex(operand.format(), code.apply(row)));
    add(heading + "_real", row -> CsvTable.real(operand, code.apply(row)));
  }

  private CsvTable filled() {
    CsvTable table = new CsvTable(columns.stream().map(Column::heading).toList());
    Row before = null;
    for (Row row : verdict.rows()) {
      if (before != null && row.cycle() > before.cycle() + 1) {
        table.add(gap(row.cycle() - before.cycle() - 1));
      }
      List<Object> cells = new ArrayList<>();
      columns.forEach(column -> cells.add(column.cell().apply(row)));
      table.add(cells);
      before = row;
    }
    return table;
  }

  private List<Object> gap(long cycles) {
    List<Object> cells = new ArrayList<>(Collections.nCopies(columns.size(), null));
    cells.set(1, cycles + (cycles == 1 ? " cycle" : " cycles") + " left out");
    return cells;
  }

  /** Ports that show what is wrong in a row: that of a kept mismatch first. */
  private List<String> signals(Row row) {
    List<String> signals = new ArrayList<>();
    boolean ofValue = row.verdict().equals(Mismatch.Kind.VALUE_WRONG.toString());
    for (Mismatch mismatch : verdict.kept()) {
      if (mismatch.cycle() == row.cycle()) {
        signals.add(mismatch.signal());
        ofValue = mismatch.output().isPresent();
      }
    }
    for (int o = 0; ofValue && o < row.wrong().size(); o++) {
      String port = verdict.findings().layout().outputPorts().get(o);
      if (row.wrong().get(o) && !signals.contains(port)) {
        signals.add(port);
      }
    }
    return signals;
  }

  private static Object difference(BigInteger code, BigInteger low, BigInteger high) {
    BigInteger outside =
        code.compareTo(high) > 0
            ? code.subtract(high)
            : code.compareTo(low) < 0 ? code.subtract(low) : BigInteger.ZERO;
    return outside.signum() == 0 ? null : CsvTable.number(CodeText.number(new BigDecimal(outside)));
  }
}
