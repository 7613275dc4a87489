package dev.plumbline.report;

import dev.plumbline.evidence.CsvTable;
import dev.plumbline.evidence.EvidenceFolder;
import dev.plumbline.evidence.ReportException;
import dev.plumbline.evidence.WholeFile;
import dev.plumbline.text.IoText;
import dev.plumbline.verdict.KeptCase;
import dev.plumbline.verdict.Passes;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import dev.plumbline.verdict.Waveform;
import java.io.IOException;
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
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * One run of a regression: a folder under {@code reports/} to which benches add their verdicts.
 *
 * <pre>{@code
 * Bench.of(model).contract(contract).recorder(RunReport.current()).check();
 * }</pre>
 *
 * <p>Several threads and several processes may add to one run. {@code reports/latest} points at the
 * run that was begun last. The files are explained in {@code reports/README.md}.
 */
public final class RunReport implements Recorder {
  private static final String ROOM =
      "A place with room and leave to write is needed; property plumbline.reports names another.";

  private static final DateTimeFormatter NAME =
      DateTimeFormatter.ofPattern("yyyy-MM-dd'T'HH-mm-ss'Z'", Locale.ROOT).withZone(ZoneOffset.UTC);

  private static final Comparator<LedgerEntry> BY_BENCH = Comparator.comparing(LedgerEntry::bench);

  /** What the link of a process is called before it is renamed. */
  private static final Pattern ASIDE = Pattern.compile("\\.latest-(\\d{1,18})");

  private static final Map<Path, RunReport> OPEN = new ConcurrentHashMap<>();

  private static volatile Consumer<String> listener = bench -> {};

  private final Path reports;
  private final Path folder;
  private final List<LedgerEntry> own = new ArrayList<>();
  private boolean begun;
  private History earlier = History.empty(); // what there was before this process
  private String revision = "";

  private RunReport(Path reports, String name) {
    this.reports = reports;
    this.folder = reports.resolve(name);
  }

  /**
   * The run of this process, as the properties {@code plumbline.reports} and {@code plumbline.run}
   * say.
   *
   * @return what {@link #of} gives for them
   */
  public static RunReport current() {
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
  public static RunReport of(Optional<String> reports, Optional<String> name) {
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
  public static RunReport open(Path reports, String name) {
    if (!name.matches("[A-Za-z0-9][A-Za-z0-9._-]*") || name.equals("latest")) {
      throw new IllegalArgumentException(
          "A run cannot be named \""
              + name
              + "\"; letters, digits, points, hyphens and underscores are allowed, the first a"
              + " letter or digit, and \"latest\" is taken.");
    }
    Path all = reports.toAbsolutePath().normalize();
    return OPEN.computeIfAbsent(all.resolve(name), folder -> new RunReport(all, name));
  }

  /**
   * Where the run's files are.
   *
   * @return the folder, there once a verdict was recorded
   */
  public Path folder() {
    return folder;
  }

  /**
   * Keeps a verdict.
   *
   * @throws ReportException when it, or its evidence, cannot be written; {@link #consoleTable}
   *     shows it all the same
   */
  @Override
  public synchronized Optional<Path> record(Verdict verdict) {
    if (verdict.outcome() == Verdict.Outcome.UNCHANGED) {
      System.out.println(verdict.bench() + ": not run again, since it " + verdict.explanation());
    }
    Optional<Path> evidenceFolder = Optional.empty();
    try {
      evidenceFolder = RunLock.hold(folder, () -> keep(verdict));
    } catch (IOException e) {
      throw new ReportException(
          "Run " + folder + " could not be added to: " + IoText.of(e) + ". " + ROOM, e);
    } finally {
      own.add(entry(verdict, evidenceFolder));
    }
    return evidenceFolder;
  }

  /**
   * Sets who is told of benches that are red, in any run of this process, before their evidence is
   * there; nobody is unless set.
   *
   * @param who takes the bench's name, by any thread
   */
  public static void tellOfRed(Consumer<String> who) {
    listener = who;
  }

  @Override
  public void turnsRed(String bench) {
    listener.accept(bench);
  }

  /** Where property {@code plumbline.passed} names a file. */
  @Override
  public Optional<Passes> passes() {
    return PassTable.fromProperties(reports, name());
  }

  /** It does. */
  @Override
  public boolean keepsInside() {
    return !System.getProperty("plumbline.inside", "").equals("false");
  }

  /**
   * Keeps what a test left that drove its DUT by hand.
   *
   * @param test the test's name
   * @param tables by the names of their files
   * @param cases what DUTs were given, by the names of their files
   * @param waveforms of its DUTs
   * @param facts what is known of it
   * @return the folder
   * @throws ReportException when it cannot be written
   */
  public synchronized Path keepTraces(
      String test,
      Map<String, CsvTable> tables,
      Map<String, KeptCase> cases,
      List<Waveform> waveforms,
      String facts) {
    try {
      return RunLock.hold(
          folder,
          () -> {
            begin();
            if (Files.notExists(folder.resolve(Ledger.FILE))) {
              Ledger.write(folder, List.of()); // else nobody knows later that this was a run
            }
            Path kept = EvidenceFolder.write(folder, test, tables, cases, waveforms, facts);
            writePage(Ledger.read(folder));
            return kept;
          });
    } catch (IOException e) {
      throw new ReportException(
          "Run " + folder + " could not be added to: " + IoText.of(e) + ". " + ROOM, e);
    }
  }

  /** Where the evidence finds no room, the row of the bench may. */
  private Optional<Path> keep(Verdict verdict) throws IOException {
    begin();
    Optional<Path> evidenceFolder = Optional.empty();
    ReportException without = null;
    if (!verdict.rows().isEmpty()
        || verdict.findings().inside().waveform().isPresent()
        || !verdict.pictures().isEmpty()
        || verdict.groups().stream().anyMatch(group -> group.smallest().isPresent())) {
      try {
        evidenceFolder = Optional.of(EvidenceFolder.write(folder, verdict));
      } catch (ReportException e) {
        without = e;
      }
    }
    try {
      add(entry(verdict, evidenceFolder));
    } catch (ReportException e) {
      without = without == null ? e : without;
    }
    if (without != null) {
      throw without;
    }
    return evidenceFolder;
  }

  private static LedgerEntry entry(Verdict verdict, Optional<Path> evidenceFolder) {
    return LedgerEntry.of(verdict, evidenceFolder.map(path -> path.getFileName().toString()));
  }

  private void add(LedgerEntry entry) throws IOException {
    List<LedgerEntry> entries = Ledger.read(folder);
    entries.add(entry);
    entries.sort(BY_BENCH); // whoever came first, the same file
    Ledger.write(folder, entries);
    SummaryTable.of(entries).writeTo(folder.resolve("summary.csv"));
    if (entries.stream().anyMatch(each -> !each.coverage().isEmpty())) {
      CoverageTable.of(entries).writeTo(folder.resolve("coverage.csv"));
    }
    writePage(entries);
    if (entry.outcome() != Verdict.Outcome.UNCHANGED) {
      History.add(reports, HistoryRow.of(name(), revision, entry));
    }
  }

  private void writePage(List<LedgerEntry> entries) {
    WholeFile.write(
        folder.resolve("index.html"),
        IndexPage.of(name(), entries, compared(entries), HandTests.of(folder), this::toOpen));
  }

  /** Files of a bench's folder that the page does not show by itself. */
  private List<String> toOpen(String bench) {
    try (Stream<Path> files = Files.list(folder.resolve(bench))) {
      return files
          .filter(Files::isRegularFile)
          .map(file -> file.getFileName().toString())
          .filter(file -> !file.endsWith(".png"))
          .sorted()
          .toList();
    } catch (IOException e) {
      return List.of(); // taken away meanwhile
    }
  }

  private String name() {
    return folder.getFileName().toString();
  }

  private Comparison compared(List<LedgerEntry> entries) {
    return Comparison.of(name(), entries, earlier);
  }

  /** Before the first verdict: what processes left that were killed goes, and the link comes. */
  private void begin() throws IOException {
    if (begun) {
      return;
    }
    begun = true;
    revision = GitRevision.around(reports);
    earlier = RunLock.hold(reports, () -> History.begin(reports));
    EvidenceFolder.removeLeftovers(folder);
    try (Stream<Path> all = Files.list(reports)) {
      for (Path one : all.toList()) {
        if (one.equals(folder)) {
          continue;
        }
        try {
          if (Files.isSymbolicLink(one)) {
            removeLink(one);
            continue;
          }
          RunLock.holdIfFree(
              one,
              () -> {
                EvidenceFolder.removeLeftovers(one);
                return null;
              });
        } catch (IOException e) {
          // Another's folder, perhaps: it disturbs nobody.
        }
      }
    }
    pointLatestHere();
    Pruning.fromProperties().prune(reports, folder);
  }

  /**
   * What history has of a bench, from runs before this one.
   *
   * @param bench its name
   * @return the newest last; empty where there is nothing
   * @throws ReportException when history cannot be read
   */
  public List<BenchRecord> before(String bench) {
    try {
      return RunLock.hold(reports, () -> History.read(reports)).of(bench, name()).stream()
          .map(row -> new BenchRecord(row.run(), row.isPass(), row.rarest()))
          .toList();
    } catch (IOException e) {
      throw new ReportException(
          "History of " + reports + " could not be read: " + IoText.of(e) + ". " + ROOM, e);
    }
  }

  /** Removes the link that a process was about to rename when it was killed. */
  private static void removeLink(Path link) throws IOException {
    Matcher name = ASIDE.matcher(link.getFileName().toString());
    if (name.matches() && ProcessHandle.of(Long.parseLong(name.group(1))).isEmpty()) {
      Files.deleteIfExists(link);
    }
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
    return ofOwn(entries -> ConsoleTable.of(entries, files()));
  }

  /**
   * The verdicts that this process added, in brief: a table of those that are no pass, and how many
   * there were.
   *
   * @return lines for the console; empty when there are none
   */
  public synchronized String consoleSummary() {
    return ofOwn(entries -> compared(entries).lines() + ConsoleTable.brief(entries, files()));
  }

  private String files() {
    return "Files: " + folder;
  }

  private String ofOwn(Function<List<LedgerEntry>, String> text) {
    if (own.isEmpty()) {
      return "";
    }
    List<LedgerEntry> entries = new ArrayList<>(own);
    entries.sort(BY_BENCH);
    return text.apply(entries);
  }
}
