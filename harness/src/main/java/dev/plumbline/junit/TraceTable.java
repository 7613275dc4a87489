package dev.plumbline.junit;

import dev.plumbline.cosim.Trace;
import dev.plumbline.evidence.CsvTable;
import dev.plumbline.rtl.Port;
import dev.plumbline.verdict.CodeText;
import java.math.BigDecimal;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;

/** {@code trace.csv}: the last cycles of a DUT that a test drove by hand, one row a call. */
final class TraceTable {
  private TraceTable() {}

  static CsvTable of(Trace trace) {
    List<String> columns = new ArrayList<>(List.of("cycle"));
    for (Port port : trace.ports()) {
      columns.add(port.name());
      if (port.width() > 1) {
        columns.add(port.name() + "_value");
      }
    }
    CsvTable table = new CsvTable(columns);
    for (Trace.Row row : trace.rows()) {
      List<Object> cells = new ArrayList<>();
      cells.add(row.cycle());
      for (int i = 0; i < trace.ports().size(); i++) {
        cells(cells, trace.ports().get(i), row.values().get(i));
      }
      table.add(cells);
    }
    return table;
  }

  private static void cells(List<Object> cells, Port port, BigInteger value) {
    if (port.width() == 1) {
      cells.add(value.testBit(0) ? 1 : 0);
      return;
    }
    cells.add(CodeText.hex(port.width(), value));
    cells.add(CsvTable.number(CodeText.number(new BigDecimal(value))));
  }
}
