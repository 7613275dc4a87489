package dev.plumbline.evidence;

import dev.plumbline.text.IoText;
import dev.plumbline.text.PlainText;
import dev.plumbline.verdict.CodeText;
import dev.plumbline.verdict.KeptCase;
import dev.plumbline.verdict.KeptCase.Column;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.math.BigInteger;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;

/**
 * A case as a small file, {@code case-1.csv}: what a DUT is given cycle by cycle from its start, to
 * be run again after an edit, or kept beside a test.
 *
 * <p>RFC 4180. The first rows have a label and what it says: bench, module, parameters, reference,
 * shows, seed, initial state. Then comes the row of headings, which begins with {@code cycle}, and
 * a row a cycle: ports as 0 or 1, operands as hexadecimal codes, empty where there is none. Of a
 * scene executor rows are steps instead, a reset, an operation or a ray each; the headings begin
 * with {@code step}, and each step waits for those before it. Columns whose heading ends in {@code
 * (real)} are for people, and are not read.
 */
public final class CaseFile {
  private static final String CYCLE = "cycle";
  private static final String STEP = "step";
  private static final String OPERATION = "operation";
  private static final String REAL = " (real)";
  private static final Set<String> LABELS =
      Set.of("bench", "module", "parameters", "reference", "shows", "seed", "initial state");

  private final String name; // of the file, in messages
  private final Map<String, String> facts = new LinkedHashMap<>();
  private final List<Integer> places = new ArrayList<>(); // of the columns in a row
  private final List<Column> columns = new ArrayList<>();
  private final List<List<BigInteger>> cycles = new ArrayList<>();
  private final List<String> operations = new ArrayList<>();
  private int operationAt = -1; // place in a row; -1 where there is none

  private CaseFile(String name) {
    this.name = name;
  }

  /**
   * A case as text.
   *
   * @param kept the case
   * @return lines that end in CR LF
   */
  public static String text(KeptCase kept) {
    boolean steps = !kept.operations().isEmpty();
    List<String> headings = new ArrayList<>(steps ? List.of(STEP, OPERATION) : List.of(CYCLE));
    for (Column column : kept.columns()) {
      headings.add(column.name());
      if (hasReal(column)) {
        headings.add(column.name() + REAL);
      }
    }
    int width = Math.max(2, headings.size());
    List<Object> first = padded(width, "bench", kept.bench());
    CsvTable table =
        new CsvTable(first.stream().map(cell -> cell == null ? "" : "" + cell).toList());
    table.add(padded(width, "module", kept.module()));
    List<String> parameters = new ArrayList<>();
    kept.parameters().forEach((parameter, value) -> parameters.add(parameter + "=" + value));
    table.add(padded(width, "parameters", String.join(" ", parameters)));
    table.add(padded(width, "reference", kept.reference()));
    table.add(padded(width, "shows", kept.shows()));
    // In hexadecimal, since a spreadsheet keeps 15 digits of a number.
    table.add(padded(width, "seed", "0x" + Long.toHexString(kept.seed())));
    table.add(padded(width, "initial state", start(kept)));
    table.add(padded(width, headings.toArray()));
    for (int cycle = 0; cycle < kept.cycles().size(); cycle++) {
      table.add(padded(width, row(kept, cycle)));
    }
    return table.text();
  }

  private static Object[] row(KeptCase kept, int cycle) {
    List<Object> cells = new ArrayList<>(List.of(cycle));
    if (!kept.operations().isEmpty()) {
      String operation = kept.operations().get(cycle);
      cells.add(operation.isEmpty() ? null : operation);
    }
    for (int c = 0; c < kept.columns().size(); c++) {
      Column column = kept.columns().get(c);
      BigInteger code = kept.cycles().get(cycle).get(c);
      boolean isPort = column.operand() == null;
      cells.add(
          code == null
              ? null
              : isPort
                  ? code.intValueExact()
                  : (Object) CodeText.hex(column.operand().format(), code));
      if (hasReal(column)) {
        cells.add(CsvTable.real(column.operand(), code));
      }
    }
    return cells.toArray();
  }

  private static boolean hasReal(Column column) {
    return column.operand() != null && column.operand().format().width() > 1;
  }

  private static List<Object> padded(int width, Object... cells) {
    List<Object> row = new ArrayList<>(Arrays.asList(cells));
    row.addAll(Collections.nCopies(width - cells.length, null));
    return row;
  }

  private static String start(KeptCase kept) {
    String word = kept.start().name().toLowerCase(Locale.ROOT);
    return kept.start() == KeptCase.Start.RANDOM ? word + " " + kept.state() : word;
  }

  /**
   * Reads a case.
   *
   * @param file where
   * @return the case
   * @throws ReportException when it cannot be read, or is no case
   */
  public static KeptCase read(Path file) {
    try {
      return parse(Files.readString(file, StandardCharsets.UTF_8), file.toString());
    } catch (IOException e) {
      throw new ReportException(
          "Case "
              + file
              + " could not be read: "
              + IoText.of(e)
              + ". A file of an evidence folder is needed, case-1.csv or the like; give its path.",
          e);
    }
  }

  /**
   * Reads a case.
   *
   * @param text of a file
   * @param name what messages call the file
   * @return the case
   * @throws ReportException when it is no case
   */
  public static KeptCase parse(String text, String name) {
    CaseFile file = new CaseFile(name);
    try (CSVParser parser = CSVParser.parse(text, CSVFormat.RFC4180)) {
      for (CSVRecord row : parser) {
        file.row(row);
      }
    } catch (IOException | UncheckedIOException | IllegalStateException e) {
      throw new ReportException(
          "Case "
              + name
              + " is no CSV: "
              + PlainText.quoted(String.valueOf(e.getMessage()))
              + ". A table as RFC 4180 has it is needed; take the file that was written.",
          e);
    }
    return file.kept();
  }

  private void row(CSVRecord row) {
    String first = row.get(0);
    if (!columns.isEmpty()) {
      cycle(row);
    } else if (first.equals(CYCLE) || first.equals(STEP)) {
      headings(row);
    } else if (LABELS.contains(first) && row.size() > 1) {
      facts.put(first, row.get(1).replaceFirst("^'(?=[=+\\-@\\t\\r])", ""));
    } else {
      throw spoilt(
          row,
          "row \"" + PlainText.quoted(first) + "\" is not known",
          String.join(", ", LABELS.stream().sorted().toList())
              + ", then a row that begins with cycle");
    }
  }

  private void headings(CSVRecord row) {
    for (int place = 1; place < row.size(); place++) {
      String heading = row.get(place);
      if (place == 1 && row.get(0).equals(STEP) && heading.equals(OPERATION)) {
        operationAt = place;
      } else if (!heading.isEmpty() && !heading.endsWith(REAL)) {
        places.add(place);
        columns.add(Column.port(heading));
      }
    }
    if (columns.isEmpty()) {
      throw spoilt(row, "there is no column of a port or operand", "one or more");
    }
    if (columns.stream().map(Column::name).distinct().count() < columns.size()) {
      throw spoilt(row, "two columns have one name", "one column a port or operand");
    }
  }

  private void cycle(CSVRecord row) {
    List<BigInteger> codes = new ArrayList<>();
    for (int i = 0; i < places.size(); i++) {
      String cell = places.get(i) < row.size() ? row.get(places.get(i)).strip() : "";
      codes.add(cell.isEmpty() ? null : code(row, columns.get(i).name(), cell));
    }
    cycles.add(codes);
    if (operationAt >= 0) {
      operations.add(operationAt < row.size() ? row.get(operationAt).strip() : "");
    }
  }

  private BigInteger code(CSVRecord row, String column, String cell) {
    try {
      boolean hex = cell.regionMatches(true, 0, "0x", 0, 2);
      return hex ? new BigInteger(cell.substring(2), 16) : new BigInteger(cell);
    } catch (NumberFormatException e) {
      throw spoilt(
          row,
          "column " + column + " has \"" + PlainText.quoted(cell) + "\"",
          "a code, such as 0x1f or 31, or nothing");
    }
  }

  private KeptCase kept() {
    for (String label : new String[] {"bench", "module", "reference", "seed", "initial state"}) {
      if (!facts.containsKey(label)) {
        throw new ReportException(
            "Case "
                + name
                + " has no row \""
                + label
                + "\"; one with a label and what it says is needed. Take the file that was"
                + " written.",
            null);
      }
    }
    if (columns.isEmpty()) {
      throw new ReportException(
          "Case "
              + name
              + " has no row of headings; one that begins with cycle is needed. Take the file that"
              + " was written.",
          null);
    }
    String[] state = facts.get("initial state").split(" ", 2);
    return new KeptCase(
        facts.get("bench"),
        facts.get("module"),
        parameters(),
        facts.get("reference"),
        facts.getOrDefault("shows", ""),
        number("seed", facts.get("seed")),
        start(state[0]),
        state.length < 2 ? 0 : (int) number("initial state", state[1]),
        columns,
        cycles,
        operations);
  }

  private Map<String, String> parameters() {
    Map<String, String> parameters = new LinkedHashMap<>();
    for (String one : facts.getOrDefault("parameters", "").split(" ", -1)) {
      String[] sides = one.split("=", 2);
      if (sides.length == 2) {
        parameters.put(sides[0], sides[1]);
      }
    }
    return parameters;
  }

  private KeptCase.Start start(String word) {
    for (KeptCase.Start start : KeptCase.Start.values()) {
      if (start.name().toLowerCase(Locale.ROOT).equals(word)) {
        return start;
      }
    }
    throw new ReportException(
        "Case "
            + name
            + " has initial state \""
            + PlainText.quoted(word)
            + "\"; zeros, ones, or random and a number are allowed. Mend it.",
        null);
  }

  private long number(String label, String text) {
    try {
      String plain = text.strip();
      boolean hex = plain.regionMatches(true, 0, "0x", 0, 2);
      return hex ? Long.parseUnsignedLong(plain.substring(2), 16) : Long.parseLong(plain);
    } catch (NumberFormatException e) {
      throw new ReportException(
          "Case "
              + name
              + " has "
              + label
              + " \""
              + PlainText.quoted(text)
              + "\"; a whole number of 64 bits is needed. Mend it.",
          e);
    }
  }

  private ReportException spoilt(CSVRecord row, String what, String allowed) {
    return new ReportException(
        name
            + ":"
            + row.getRecordNumber()
            + ": "
            + what
            + "; allowed is "
            + allowed
            + ". Mend it, or take the file that was written.",
        null);
  }
}
