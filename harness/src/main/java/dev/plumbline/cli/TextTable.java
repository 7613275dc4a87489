package dev.plumbline.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;

/** Rows under headings, printed in aligned columns or as CSV. */
final class TextTable {
  private final List<String> headings;
  private final List<List<String>> rows = new ArrayList<>();

  TextTable(String... headings) {
    this.headings = List.of(headings);
  }

  /** Adds a row; it has a cell for each heading. */
  void add(String... cells) {
    if (cells.length != headings.size()) {
      throw new IllegalArgumentException(
          "a row of " + cells.length + " cells under " + headings.size() + " headings");
    }
    rows.add(List.of(cells));
  }

  /** Prints two spaces between columns; a column that is empty in every row is left out. */
  void printText(PrintWriter out) {
    int[] widths = new int[headings.size()];
    for (int column = 0; column < widths.length; column++) {
      for (List<String> row : rows) {
        widths[column] = Math.max(widths[column], row.get(column).length());
      }
      if (widths[column] > 0) {
        widths[column] = Math.max(widths[column], headings.get(column).length());
      }
    }
    printLine(out, widths, headings);
    rows.forEach(row -> printLine(out, widths, row));
  }

  private static void printLine(PrintWriter out, int[] widths, List<String> cells) {
    StringBuilder line = new StringBuilder();
    for (int column = 0; column < widths.length; column++) {
      if (widths[column] > 0) {
        String cell = cells.get(column);
        line.append(cell).append(" ".repeat(widths[column] - cell.length() + 2));
      }
    }
    out.println(line.toString().stripTrailing());
  }

  /** Prints RFC 4180 CSV: headings first, lines end with carriage return and line feed. */
  void printCsv(PrintWriter out) {
    // Not closed: the stream belongs to whoever gave it.
    try {
      CSVPrinter printer = new CSVPrinter(out, CSVFormat.RFC4180);
      printer.printRecord(headings);
      for (List<String> row : rows) {
        printer.printRecord(row.stream().map(TextTable::harmless).toList());
      }
      printer.flush();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** A spreadsheet takes a cell that begins so for a formula; a leading quote makes it text. */
  private static String harmless(String cell) {
    return !cell.isEmpty() && "=+-@\t\r".indexOf(cell.charAt(0)) >= 0 ? "'" + cell : cell;
  }
}
