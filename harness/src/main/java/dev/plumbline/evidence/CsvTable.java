package dev.plumbline.evidence;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.text.IoText;
import dev.plumbline.text.PlainText;
import dev.plumbline.verdict.CodeText;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.math.BigInteger;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;
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
 * it (OWASP ASVS 5.0, 1.2.10; CWE-1236), and so does what follows upon a semicolon, tab or line
 * break, where some spreadsheets begin a cell (OWASP, CSV Injection: "take care of the field
 * separator"); numbers stay numbers, negative ones too.
 */
public final class CsvTable {
  private static final CSVFormat FORMAT = CSVFormat.RFC4180;

  /**
   * Where a formula would begin: at the start of the cell, or where a spreadsheet with another
   * separator starts a cell in the midst of it.
   */
  private static final Pattern FORMULA =
      Pattern.compile("(^|[;\\t\\r\\n]\"*)(?=[=+\\-@\\t\\r\\x00])");

  /** What spreadsheets put between the cells of a row, by their user's country. */
  private static final String SEPARATORS = ",;\t";

  /** The byte-order mark. */
  private static final String MARK = "\uFEFF";

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

  /**
   * The value of an operand's code.
   *
   * @param operand its formats
   * @param code a code of it, or null
   * @return a number, text where it is none, or null for an empty cell
   */
  public static Object real(Operand operand, BigInteger code) {
    if (code == null) {
      return null;
    }
    String text = CodeText.real(operand, code);
    return Character.isLetter(text.charAt(text.length() - 1)) ? text : number(text);
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
    return FORMULA.matcher(text).replaceAll("$1'");
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
      throw new AssertionError("a table in memory meets no disk", e);
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
   * Reads a table back, also one that a spreadsheet has saved again with a byte-order mark or with
   * semicolons or tabs between its cells.
   *
   * @param file where
   * @return each row by column, cells as they stand in the file
   * @throws ReportException when it cannot be read
   */
  public static List<Map<String, String>> read(Path file) {
    try {
      return rows(Files.readString(file, StandardCharsets.UTF_8));
    } catch (IOException e) {
      throw new ReportException(
          "Table "
              + file
              + " could not be read: "
              + IoText.of(e)
              + ". A file of CSV in UTF-8 is needed; remove it or mend it.",
          e);
    }
  }

  /** Each row of a text by column. */
  static List<Map<String, String>> rows(String text) throws IOException {
    String plain = text.startsWith(MARK) ? text.substring(MARK.length()) : text;
    CSVFormat withHeader =
        FORMAT.builder().setDelimiter(separator(plain)).setHeader().setSkipHeaderRecord(true).get();
    try (CSVParser parser = CSVParser.parse(plain, withHeader)) {
      return parser.getRecords().stream().map(CSVRecord::toMap).toList();
    } catch (IllegalArgumentException | UncheckedIOException e) {
      throw new IOException(PlainText.quoted(String.valueOf(e.getMessage())), e);
    }
  }

  /** The one that the headings have most of, outside of quotes. */
  private static char separator(String text) {
    String headings = text.lines().findFirst().orElse("").replaceAll("\"[^\"]*\"", "");
    char best = SEPARATORS.charAt(0);
    for (int i = 0; i < SEPARATORS.length(); i++) {
      char candidate = SEPARATORS.charAt(i);
      best = count(headings, candidate) > count(headings, best) ? candidate : best;
    }
    return best;
  }

  private static long count(String text, char wanted) {
    return text.chars().filter(c -> c == wanted).count();
  }
}
