package dev.plumbline.evidence;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.verdict.CodeText;
import dev.plumbline.verdict.Layout;
import dev.plumbline.verdict.Row;
import dev.plumbline.verdict.Verdict;
import java.math.BigDecimal;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;

/**
 * {@code mismatch.csv}: one row a cycle around each kept mismatch.
 *
 * <p>Raw codes are hexadecimal text, since a spreadsheet keeps 15 digits of a number and a code may
 * have 39; real values are numbers. A single bit is the number 0 or 1 and has no real column.
 */
final class MismatchTable {
  private MismatchTable() {}

  static CsvTable of(Verdict verdict) {
    Layout layout = verdict.layout();
    CsvTable table = new CsvTable(columns(layout));
    for (Row row : verdict.rows()) {
      table.add(cells(verdict, row));
    }
    return table;
  }

  private static List<String> columns(Layout layout) {
    List<String> columns = new ArrayList<>(List.of("cycle", "segment", "case_in", "case_out"));
    columns.addAll(layout.controls());
    for (int i = 0; i < layout.inputs().size(); i++) {
      value(columns, layout.inputPorts().get(i), layout.inputs().get(i).format());
    }
    for (int o = 0; o < layout.outputs().size(); o++) {
      String port = layout.outputPorts().get(o);
      Format format = layout.outputs().get(o).format();
      value(columns, port, format);
      value(columns, port + "_expected", format);
      value(columns, port + "_low", format);
      value(columns, port + "_high", format);
      if (format.width() > 1) {
        columns.add(port + "_difference");
      }
    }
    columns.add("verdict");
    return columns;
  }

  private static void value(List<String> columns, String name, Format format) {
    columns.add(name);
    if (format.width() > 1) {
      columns.add(name + "_real");
    }
  }

  private static List<Object> cells(Verdict verdict, Row row) {
    Layout layout = verdict.layout();
    List<Object> cells = new ArrayList<>();
    cells.add(row.cycle());
    cells.add(verdict.segment());
    cells.add(row.caseIn() < 0 ? null : row.caseIn());
    cells.add(row.caseOut() < 0 ? null : row.caseOut());
    row.controls().forEach(code -> cells.add(code.intValueExact()));
    for (int i = 0; i < layout.inputs().size(); i++) {
      value(cells, layout.inputs().get(i), row.inputs().isEmpty() ? null : row.inputs().get(i));
    }
    for (int o = 0; o < layout.outputs().size(); o++) {
      Operand operand = layout.outputs().get(o);
      BigInteger code = row.outputs().get(o);
      BigInteger low = row.isDue() ? row.low().get(o) : null;
      BigInteger high = row.isDue() ? row.high().get(o) : null;
      value(cells, operand, code);
      value(cells, operand, row.isDue() && low.equals(high) ? low : null);
      value(cells, operand, low);
      value(cells, operand, high);
      if (operand.format().width() > 1) {
        cells.add(row.isDue() ? difference(code, low, high) : null);
      }
    }
    cells.add(row.verdict());
    return cells;
  }

  private static void value(List<Object> cells, Operand operand, BigInteger code) {
    Format format = operand.format();
    if (format.width() == 1) {
      cells.add(code == null ? null : code.intValueExact());
    } else {
      cells.add(code == null ? null : CodeText.hex(format, code));
      cells.add(code == null ? null : CsvTable.number(CodeText.real(format, code)));
    }
  }

  private static Object difference(BigInteger code, BigInteger low, BigInteger high) {
    BigInteger outside =
        code.compareTo(high) > 0
            ? code.subtract(high)
            : code.compareTo(low) < 0 ? code.subtract(low) : BigInteger.ZERO;
    return CsvTable.number(CodeText.number(new BigDecimal(outside)));
  }
}
