package dev.plumbline.report;

import dev.plumbline.verdict.CycleBudget;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Verdict;
import java.util.List;
import java.util.Objects;
import java.util.Optional;

/**
 * What a run remembers of a verdict; all its tables and pages are views of such entries.
 *
 * @param bench the bench's name
 * @param outcome the verdict in one word
 * @param cases results that were compared
 * @param cycles cycles that were driven
 * @param mismatches rows that mismatch in the first segment that has some
 * @param firstCycle the cycle of the first of them in its segment; -1 when there is none
 * @param segment the number of that segment; -1 when there is none
 * @param words what went wrong, in words; empty for a pass
 * @param seconds wall-clock time
 * @param cyclesASecond the rate
 * @param seed the seed of the run
 * @param contentHash names the RTL
 * @param bounds how each output was compared
 * @param coverage how often each coverage point was met
 * @param folder the name of the evidence folder; empty when there is none
 * @param facts the facts of what is no pass, as lines; empty for a pass
 * @param lanes the cycles around the first mismatch; null when there is none
 * @param tables what else there is to show of it
 * @param charts what was counted
 * @param pictures that are in the folder, to be shown
 * @param budgets cycles that are promised, and those that were taken
 */
record LedgerEntry(
    String bench,
    Verdict.Outcome outcome,
    long cases,
    long cycles,
    long mismatches,
    long firstCycle,
    long segment,
    String words,
    double seconds,
    double cyclesASecond,
    long seed,
    String contentHash,
    List<Verdict.Bounds> bounds,
    List<Verdict.CoveragePoint> coverage,
    String folder,
    String facts,
    Lanes lanes,
    List<FactTable> tables,
    List<Bars> charts,
    List<Figure> pictures,
    List<CycleBudget> budgets) {

  LedgerEntry {
    // A ledger that somebody has changed may lack any of them.
    for (Object part : new Object[] {bench, outcome, words, contentHash, folder, facts}) {
      Objects.requireNonNull(part, "a part of the verdict is missing");
    }
    bounds = List.copyOf(bounds);
    coverage = List.copyOf(coverage);
    tables = tables == null ? List.of() : List.copyOf(tables); // older ledgers have none
    charts = charts == null ? List.of() : List.copyOf(charts);
    pictures = pictures == null ? List.of() : List.copyOf(pictures);
    budgets = budgets == null ? List.of() : List.copyOf(budgets);
  }

  /** A picture of the evidence: its file, what it shows, its size in pixels. */
  record Figure(String file, String caption, int width, int height) {}

  static LedgerEntry of(Verdict verdict, Optional<String> folder) {
    Optional<Mismatch> first = verdict.first();
    return new LedgerEntry(
        verdict.bench(),
        verdict.outcome(),
        verdict.cases(),
        verdict.cycles(),
        verdict.mismatches(),
        first.map(Mismatch::cycle).orElse(-1L),
        first.isPresent() ? verdict.findings().segment() : -1,
        first.map(Mismatch::words).orElse(verdict.explanation()),
        verdict.checked().seconds(),
        verdict.cyclesPerSecond(),
        verdict.origin().seed(),
        verdict.origin().contentHash(),
        verdict.bounds(),
        verdict.checked().coverage(),
        folder.orElse(""),
        words(verdict),
        Lanes.of(verdict).orElse(null),
        PageParts.tables(verdict),
        PageParts.charts(verdict),
        folder.isEmpty() ? List.of() : PageParts.figures(verdict),
        verdict.checked().budgets());
  }

  private static String words(Verdict verdict) {
    return switch (verdict.outcome()) {
      case PASS -> "";
      case UNCHANGED -> verdict.explanation();
      default -> verdict.facts();
    };
  }

  boolean isPass() {
    return outcome == Verdict.Outcome.PASS || outcome == Verdict.Outcome.UNCHANGED;
  }
}
