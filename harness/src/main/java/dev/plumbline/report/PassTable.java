package dev.plumbline.report;

import dev.plumbline.evidence.CsvTable;
import dev.plumbline.evidence.ReportException;
import dev.plumbline.evidence.WholeFile;
import dev.plumbline.text.IoText;
import dev.plumbline.verdict.Passes;
import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * The file that property {@code plumbline.passed} names: a table of benches that passed, each with
 * the key of all that bears on its verdict. A file that is no such table counts as empty: then all
 * benches run, and it is written anew.
 *
 * @param file where it is
 * @param run the run in whose name passes are kept
 * @param all whether all benches run whatever it has
 */
record PassTable(Path file, String run, boolean all) implements Passes {
  private static final List<String> COLUMNS =
      List.of("bench", "date", "run", "cases", "cycles", "key");

  /** Of a bench so many keys are kept: branches of a repository take turns. */
  private static final int KEPT = 16;

  private static final String KEY = "key-"; // bare digits may look like a number

  /** As the properties say; a name that is no absolute one counts from the checkout. */
  static Optional<Passes> fromProperties(Path reports, String run) {
    String file = System.getProperty("plumbline.passed", "");
    boolean all = System.getProperty("plumbline.again", "").equals("true");
    return file.isEmpty()
        ? Optional.empty()
        : Optional.of(new PassTable(reports.resolveSibling(file).normalize(), run, all));
  }

  @Override
  public Optional<Pass> find(String bench, String key) {
    return all
        ? Optional.empty()
        : rows().stream().filter(row -> isOf(row, bench, key)).findFirst().flatMap(PassTable::pass);
  }

  private static Optional<Pass> pass(Map<String, String> row) {
    try {
      return Optional.of(
          new Pass(
              row.get("run"),
              row.get("date"),
              Long.parseLong(row.get("cases")),
              Long.parseLong(row.get("cycles"))));
    } catch (NumberFormatException e) {
      return Optional.empty(); // somebody has changed it
    }
  }

  private static boolean isOf(Map<String, String> row, String bench, String key) {
    return isOf(row, bench) && row.get("key").equals(KEY + key);
  }

  private static boolean isOf(Map<String, String> row, String bench) {
    return HistoryRow.text(row, "bench").equals(bench);
  }

  @Override
  public void add(Verdict verdict, String key) {
    String today = LocalDate.now(ZoneOffset.UTC).toString();
    change(
        verdict.bench(),
        key,
        List.of(verdict.bench(), today, run, verdict.cases(), verdict.cycles(), KEY + key));
  }

  @Override
  public void forget(String bench, String key) {
    if (rows().stream().anyMatch(row -> isOf(row, bench, key))) {
      change(bench, key, List.of());
    }
  }

  /** Puts a row, or none, in the place of that of a key. */
  private void change(String bench, String key, List<?> row) {
    try {
      RunLock.hold(
          file.toAbsolutePath().getParent(),
          () -> {
            WholeFile.write(file, changed(bench, key, row).text());
            return null;
          });
    } catch (IOException e) {
      throw new ReportException(
          "The table of passes "
              + file
              + " could not be written: "
              + IoText.of(e)
              + ". A place with room and leave to write is needed; property plumbline.passed names"
              + " another.",
          e);
    }
  }

  private CsvTable changed(String bench, String key, List<?> row) {
    CsvTable table = new CsvTable(COLUMNS);
    if (!row.isEmpty()) {
      table.add(row);
    }
    long kept = row.isEmpty() ? 0 : 1;
    for (Map<String, String> other : rows()) {
      boolean isOwn = isOf(other, bench);
      if (!isOf(other, bench, key) && (!isOwn || kept++ < KEPT)) {
        table.add(COLUMNS.stream().map(column -> HistoryRow.text(other, column)).toList());
      }
    }
    return table;
  }

  /** Newest first. */
  private List<Map<String, String>> rows() {
    if (!Files.exists(file)) {
      return new ArrayList<>();
    }
    try {
      List<Map<String, String>> rows = new ArrayList<>(CsvTable.read(file));
      rows.removeIf(row -> !row.keySet().containsAll(COLUMNS));
      return rows;
    } catch (ReportException e) {
      return new ArrayList<>();
    }
  }
}
