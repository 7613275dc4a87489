package dev.plumbline.report;

import dev.plumbline.evidence.CsvTable;
import dev.plumbline.evidence.EvidenceFolder;
import dev.plumbline.evidence.WholeFile;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;

/**
 * One run of a regression: a folder under {@code reports/} to which benches add their verdicts.
 *
 * <pre>{@code
 * Bench.of(model).contract(contract).recorder(Run.current()).check();
 * }</pre>
 *
 * <p>Several threads and several processes may add to one run. {@code reports/latest} points at the
 * run that was begun last. The files are explained in {@code reports/README.md}.
 */
public final class Run implements Recorder {
  private static final DateTimeFormatter NAME =
      DateTimeFormatter.ofPattern("yyyy-MM-dd'T'HH-mm-ss'Z'", Locale.ROOT).withZone(ZoneOffset.UTC);

  private static final Map<Path, Run> OPEN = new ConcurrentHashMap<>();

  private final Path reports;
  private final Path folder;
  private final List<SummaryRow> own = new ArrayList<>();
  private boolean begun;

  private Run(Path reports, String name) {
    this.reports = reports;
    this.folder = reports.resolve(name);
  }

  /**
   * The run of this process, as the properties {@code plumbline.reports} and {@code plumbline.run}
   * say.
   *
   * @return what {@link #of} gives for them
   */
  public static Run current() {
    return of(
        Optional.ofNullable(System.getProperty("plumbline.reports")),
        Optional.ofNullable(System.getProperty("plumbline.run")));
  }

  /**
   * A run by what is said of it.
   *
   * @param reports the folder of all runs; else {@code reports} of the checkout
   * @param name the run's name; else the time at which this process began
   * @return the run
   */
  public static Run of(Optional<String> reports, Optional<String> name) {
    return open(
        ReportFolder.find(reports.orElse(""), Path.of("")),
        name.filter(text -> !text.isEmpty())
            .orElseGet(
                () ->
                    NAME.format(
                        Instant.ofEpochMilli(
                            ManagementFactory.getRuntimeMXBean().getStartTime()))));
  }

  /**
   * Opens a run; writes nothing before the first verdict.
   *
   * @param reports the folder of all runs
   * @param name the run's name, which becomes a folder
   * @return the run; the same object for the same folder
   */
  public static Run open(Path reports, String name) {
    if (!name.matches("[A-Za-z0-9][A-Za-z0-9._-]*") || name.equals("latest")) {
      throw new IllegalArgumentException(
          "A run cannot be named \""
              + name
              + "\"; letters, digits, points, hyphens and underscores are allowed, the first a"
              + " letter or digit, and \"latest\" is taken.");
    }
    Path all = reports.toAbsolutePath().normalize();
    return OPEN.computeIfAbsent(all.resolve(name), folder -> new Run(all, name));
  }

  /**
   * Where the run's files are.
   *
   * @return the folder, there once a verdict was recorded
   */
  public Path folder() {
    return folder;
  }

  @Override
  public synchronized Optional<Path> record(Verdict verdict) {
    Optional<Path> evidenceFolder =
        verdict.rows().isEmpty()
            ? Optional.empty()
            : Optional.of(EvidenceFolder.write(folder, verdict));
    SummaryRow row =
        SummaryRow.of(verdict, evidenceFolder.map(path -> path.getFileName().toString()));
    own.add(row);
    try {
      RunLock.hold(folder, () -> add(row, verdict));
      if (!begun) {
        begun = true;
        pointLatestHere();
      }
    } catch (IOException e) {
      throw new UncheckedIOException(
          "Run "
              + folder
              + " could not be added to; a place with room and leave to write is needed. Property"
              + " plumbline.reports names another.",
          e);
    }
    return evidenceFolder;
  }

  private void add(SummaryRow row, Verdict verdict) {
    if (!verdict.coverage().isEmpty()) {
      CoverageTable.add(folder.resolve("coverage.csv"), verdict);
    }
    Path summary = folder.resolve("summary.csv");
    List<SummaryRow> rows = new ArrayList<>();
    if (Files.exists(summary)) {
      CsvTable.read(summary).forEach(cells -> rows.add(SummaryRow.of(cells)));
    }
    rows.add(row);
    rows.sort(Comparator.comparing(SummaryRow::bench)); // whoever came first, the same file
    CsvTable table = new CsvTable(SummaryRow.COLUMNS);
    rows.forEach(each -> table.add(each.cells()));
    table.writeTo(summary);
    WholeFile.write(folder.resolve("index.html"), IndexPage.of(folder, rows));
  }

  /**
   * A link is made aside and renamed, so that there is one at every moment. Where there can be
   * none, on a file system without links or where a folder of that name stands, the newest run is
   * found by its name: a verdict is not lost for a link.
   */
  private void pointLatestHere() {
    Path aside = reports.resolve(".latest-" + ProcessHandle.current().pid());
    try {
      Files.deleteIfExists(aside);
      Files.createSymbolicLink(aside, folder.getFileName());
      try {
        Files.move(
            aside,
            reports.resolve("latest"),
            StandardCopyOption.ATOMIC_MOVE,
            StandardCopyOption.REPLACE_EXISTING);
      } finally {
        Files.deleteIfExists(aside);
      }
    } catch (IOException | UnsupportedOperationException e) {
      // no link
    }
  }

  /**
   * The verdicts that this process added.
   *
   * @return a table for the console; empty when there are none
   */
  public synchronized String consoleTable() {
    if (own.isEmpty()) {
      return "";
    }
    List<SummaryRow> rows = new ArrayList<>(own);
    rows.sort(Comparator.comparing(SummaryRow::bench));
    return ConsoleTable.of(rows, "Files: " + folder);
  }
}
