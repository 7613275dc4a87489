package dev.plumbline.report;

import dev.plumbline.evidence.CsvTable;
import dev.plumbline.evidence.ReportException;
import dev.plumbline.evidence.WholeFile;
import java.io.IOException;
import java.nio.charset.CharacterCodingException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;

/**
 * {@code history.csv} beside the runs: a row for each bench of each run, the newest last. Whoever
 * reads and writes it holds the {@link RunLock} of the folder of all runs. One that a spreadsheet
 * has saved again is taken as it is meant; one that is no table any more is put aside, and kept.
 */
final class History {
  static final String FILE = "history.csv";

  /** Where there are more lines, the oldest rows go but for so many: a year of nights. */
  static final int MOST_LINES = 20_000;

  static final int KEPT = 15_000;

  private static final String HEADINGS = new CsvTable(HistoryRow.COLUMNS).text();

  private final List<HistoryRow> rows;
  private final String remark;

  private History(List<HistoryRow> rows, String remark) {
    this.rows = rows;
    this.remark = remark;
  }

  static History empty() {
    return new History(new ArrayList<>(), "");
  }

  /** In the order in which they were added. */
  List<HistoryRow> rows() {
    return rows;
  }

  /** What happened to a file that could not be read; empty where all is well. */
  String remark() {
    return remark;
  }

  /** Reads what there is, and removes what a process left that was killed as it wrote. */
  static History begin(Path reports) throws IOException {
    try (Stream<Path> all = Files.list(reports)) {
      for (Path file : all.toList()) {
        String name = file.getFileName().toString();
        if (name.startsWith("." + FILE) && name.endsWith(".part")) {
          Files.deleteIfExists(file);
        }
      }
    }
    return read(reports);
  }

  /** Reads what there is, and puts aside what is no table of this kind. */
  static History read(Path reports) throws IOException {
    Path file = reports.resolve(FILE);
    if (!Files.exists(file)) {
      return empty();
    }
    List<HistoryRow> rows = new ArrayList<>();
    try {
      for (Map<String, String> cells : CsvTable.read(file)) {
        if (!cells.keySet().containsAll(List.of("run", "bench", "verdict"))) {
          return spoilt(file);
        }
        rows.add(HistoryRow.of(cells));
      }
    } catch (ReportException e) {
      return spoilt(file);
    }
    return new History(rows, "");
  }

  private static History spoilt(Path file) throws IOException {
    for (int number = 1; ; number++) {
      Path aside = file.resolveSibling("history-unreadable-" + number + ".csv");
      if (Files.notExists(aside)) {
        Files.move(file, aside);
        return new History(
            new ArrayList<>(),
            FILE
                + " was no table of runs any more; it is kept as "
                + aside.getFileName()
                + ", and history begins anew. Save it as CSV with its headings, rename it back.");
      }
    }
  }

  /** Adds a row at the end: written aside and renamed, whatever is there stays whole. */
  static void add(Path reports, HistoryRow row) throws IOException {
    RunLock.hold(
        reports,
        () -> {
          String table = asItWasWritten(reports.resolve(FILE));
          if (table.isEmpty()) {
            List<HistoryRow> all = read(reports).rows();
            table = HEADINGS + lines(all.subList(Math.max(0, all.size() - KEPT), all.size()));
          }
          WholeFile.write(reports.resolve(FILE), table + lines(List.of(row)));
          return null;
        });
  }

  /** The file where it needs no reading; empty where it does, or has grown long. */
  private static String asItWasWritten(Path file) throws IOException {
    if (Files.notExists(file)) {
      return HEADINGS;
    }
    try {
      String text = Files.readString(file);
      boolean whole = text.startsWith(HEADINGS) && text.endsWith("\r\n");
      return whole && text.lines().count() <= MOST_LINES ? text : "";
    } catch (CharacterCodingException e) {
      return "";
    }
  }

  private static String lines(List<HistoryRow> rows) {
    CsvTable table = new CsvTable(HistoryRow.COLUMNS);
    rows.forEach(row -> table.add(row.cells()));
    return table.text().substring(HEADINGS.length());
  }

  /** The rows of one bench in other runs than this one. */
  List<HistoryRow> of(String bench, String exceptRun) {
    return rows.stream()
        .filter(row -> row.bench().equals(bench) && !row.run().equals(exceptRun))
        .toList();
  }
}
