package dev.plumbline.evidence;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVPrinter;
import org.apache.commons.csv.CSVRecord;

/**
 * A table for a spreadsheet: RFC 4180, numbers as they stand in every locale, text that is never
 * taken for a formula.
 *
 * <pre>{@code
 * CsvTable table = new CsvTable("bench", "cycles");
 * table.add("reciprocal", 1024);
 * table.writeTo(folder.resolve("summary.csv"));
 * }</pre>
 *
 * <p>Text that starts with {@code = + - @}, tab, carriage return or NUL gets an apostrophe before
 * it (OWASP ASVS 5.0, 1.2.10; CWE-1236); numbers stay numbers, negative ones too.
 */
public final class CsvTable {
  private static final CSVFormat FORMAT = CSVFormat.RFC4180;
  private static final String DANGEROUS = "=+-@\t\r\0";

  private final List<String> columns;
  private final List<List<String>> rows = new ArrayList<>();

  /**
   * Starts a table.
   *
   * @param columns headings
   */
  public CsvTable(String... columns) {
    this(Arrays.asList(columns));
  }

  /**
   * Starts a table.
   *
   * @param columns headings
   */
  public CsvTable(List<String> columns) {
    this.columns = columns.stream().map(CsvTable::safe).toList();
  }

  /**
   * A number that is already text, such as {@code -0.5} or {@code 1E-7}.
   *
   * @param decimal its digits
   * @return a cell that is written as it stands
   * @throws NumberFormatException when it is no number
   */
  public static Object number(String decimal) {
    return new Numeral(decimal);
  }

  /** Digits known to be a number. */
  private record Numeral(String digits) {
    Numeral {
      new BigDecimal(digits);
    }
  }

  /**
   * Adds a row.
   *
   * @param cells one a column: an Integer, a Long, {@link #number}, text, or null for an empty cell
   * @throws IllegalArgumentException when their number differs from that of the columns
   */
  public void add(List<?> cells) {
    if (cells.size() != columns.size()) {
      throw new IllegalArgumentException(
          "A row of "
              + cells.size()
              + " cells does not fit a table of "
              + columns.size()
              + " columns; give one cell a column.");
    }
    rows.add(cells.stream().map(CsvTable::cell).toList());
  }

  /**
   * Adds a row.
   *
   * @param cells one a column, as in {@link #add(List)}
   */
  public void add(Object... cells) {
    add(Arrays.asList(cells));
  }

  private static String cell(Object value) {
    if (value == null) {
      return "";
    }
    if (value instanceof Numeral numeral) {
      return numeral.digits();
    }
    if (value instanceof Integer || value instanceof Long) {
      return value.toString();
    }
    if (value instanceof String text) {
      return safe(text);
    }
    throw new IllegalArgumentException(
        "A "
            + value.getClass().getName()
            + " cannot be a cell; an Integer, a Long, number(...), text or null can.");
  }

  private static String safe(String text) {
    return !text.isEmpty() && DANGEROUS.indexOf(text.charAt(0)) >= 0 ? "'" + text : text;
  }

  /**
   * The table as text.
   *
   * @return lines that end in CR LF
   */
  public String text() {
    StringBuilder text = new StringBuilder();
    try (CSVPrinter printer = new CSVPrinter(text, FORMAT)) {
      printer.printRecord(columns);
      for (List<String> row : rows) {
        printer.printRecord(row);
      }
    } catch (IOException e) {
      throw new UncheckedIOException("A table could not be kept in memory.", e);
    }
    return text.toString();
  }

  /**
   * Writes the table, whole or not at all.
   *
   * @param file where
   */
  public void writeTo(Path file) {
    WholeFile.write(file, text());
  }

  /**
   * Reads a table back.
   *
   * @param file where
   * @return each row by column, cells as they stand in the file
   */
  public static List<Map<String, String>> read(Path file) {
    CSVFormat withHeader = FORMAT.builder().setHeader().setSkipHeaderRecord(true).get();
    try (CSVParser parser =
        CSVParser.parse(Files.readString(file, StandardCharsets.UTF_8), withHeader)) {
      return parser.getRecords().stream().map(CSVRecord::toMap).toList();
    } catch (IOException e) {
      throw new UncheckedIOException("Table " + file + " could not be read.", e);
    }
  }
}
