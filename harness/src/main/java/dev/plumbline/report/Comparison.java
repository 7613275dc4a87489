package dev.plumbline.report;

import dev.plumbline.text.PlainText;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.ToDoubleFunction;
import java.util.stream.Collectors;

/**
 * A run against those before it: what changed since the last one and the last green one.
 *
 * @param isThere whether there is anything to compare with
 * @param since what it is compared with, in words
 * @param changes bench by bench
 */
record Comparison(boolean isThere, String since, List<Change> changes) {
  /** Runs of a bench that its noise is taken from, and how few are too few. */
  private static final int RECENT = 20;

  private static final int FEWEST = 5;

  /** How many times the spread of earlier runs is beyond noise, and the least share that counts. */
  private static final double SPREADS = 5;

  private static final double LEAST_SLOWER = 0.10;
  private static final double LEAST_CYCLES = 0.02;

  /** Scales a median absolute deviation to a standard deviation (Rousseeuw, Croux 1993). */
  private static final double OF_NORMAL = 1.4826;

  private static final String MORE_CYCLES = "more cycles";
  private static final String COVERAGE_LOST = "coverage lost";

  static final Comparison NONE = new Comparison(false, "", List.of());

  /**
   * What changed of a bench.
   *
   * @param kind in a word or two
   * @param bench which
   * @param words the figures
   * @param bad whether somebody should look
   */
  record Change(String kind, String bench, String words, boolean bad) {}

  Comparison {
    changes = List.copyOf(changes);
  }

  static Comparison of(String run, List<LedgerEntry> entries, History history) {
    List<Change> changes = new ArrayList<>();
    Set<String> compared = new HashSet<>();
    for (LedgerEntry entry : entries) {
      List<HistoryRow> before = history.of(entry.bench(), run);
      if (!before.isEmpty() && compared.add(entry.bench())) {
        changes(HistoryRow.of(run, "", entry), before, changes);
      }
    }
    if (compared.isEmpty() && history.remark().isEmpty()) {
      return NONE;
    }
    return new Comparison(true, since(run, history), changes);
  }

  private static String since(String run, History history) {
    Map<String, Boolean> runs = new LinkedHashMap<>(); // whether all of it passed
    for (HistoryRow row : history.rows()) {
      if (!row.run().equals(run)) {
        runs.merge(row.run(), row.isPass(), Boolean::logicalAnd);
      }
    }
    String last = runs.keySet().stream().reduce("", (a, b) -> b);
    String green = runs.keySet().stream().filter(runs::get).reduce((a, b) -> b).orElse("");
    String words =
        last.isEmpty()
            ? ""
            : "Since run "
                + last
                + (green.isEmpty()
                    ? "; no run before was green."
                    : green.equals(last)
                        ? ", which was green."
                        : "; the last green one is " + green + ".");
    return history.remark().isEmpty() ? words : (history.remark() + " " + words).strip();
  }

  private static void changes(HistoryRow now, List<HistoryRow> before, List<Change> changes) {
    HistoryRow last = before.get(before.size() - 1);
    List<HistoryRow> green = before.stream().filter(HistoryRow::isPass).toList();
    if (!now.isPass()) {
      String lastGreen =
          green.isEmpty()
              ? "never green before"
              : "green in run " + named(green.get(green.size() - 1));
      add(changes, now, last.isPass() ? "newly red" : "still red", lastGreen, true);
      return;
    }
    if (!last.isPass()) {
      add(changes, now, "newly green", last.verdict() + " in run " + named(last), false);
    }
    slower(now, green, changes);
    moreCycles(now, green, changes);
    if (!green.isEmpty()) {
      coverageLost(now, green, changes);
    }
  }

  private static String named(HistoryRow row) {
    return row.run() + (row.revision().isEmpty() ? "" : " (revision " + row.revision() + ")");
  }

  private static void slower(HistoryRow now, List<HistoryRow> green, List<Change> changes) {
    double[] recent = recent(now, green, HistoryRow::rate);
    if (recent.length < FEWEST) {
      return;
    }
    double usual = median(recent);
    double noise = Math.max(SPREADS * spread(recent, usual), LEAST_SLOWER * usual);
    if (now.rate() < usual - noise) {
      add(
          changes,
          now,
          "slower",
          String.format(
              Locale.ROOT,
              "%.0f cycles a second, usually %.0f give or take %.0f",
              now.rate(),
              usual,
              noise),
          true);
    }
  }

  /** The same cases take the same cycles; others are compared as rates are. */
  private static void moreCycles(HistoryRow now, List<HistoryRow> green, List<Change> changes) {
    HistoryRow last = green.isEmpty() ? now : green.get(green.size() - 1);
    if (last.seed().equals(now.seed()) && last.cases() == now.cases()) {
      if (now.cycles() > last.cycles()) {
        add(changes, now, MORE_CYCLES, now.cycles() + " where there were " + last.cycles(), true);
      }
      return;
    }
    double[] counts = recent(now, green, HistoryRow::cyclesPerCase);
    if (counts.length < FEWEST) {
      return;
    }
    double usual = median(counts);
    double noise = Math.max(SPREADS * spread(counts, usual), LEAST_CYCLES * usual);
    if (now.cyclesPerCase() > usual + noise) {
      add(
          changes,
          now,
          MORE_CYCLES,
          String.format(
              Locale.ROOT,
              "%.3f a case, usually %.3f give or take %.3f",
              now.cyclesPerCase(),
              usual,
              noise),
          true);
    }
  }

  /** A figure in the last runs of like size. */
  private static double[] recent(
      HistoryRow now, List<HistoryRow> green, ToDoubleFunction<HistoryRow> figure) {
    double[] all =
        green.stream()
            .filter(row -> row.cases() <= 2 * now.cases() && now.cases() <= 2 * row.cases())
            .mapToDouble(figure)
            .filter(value -> value > 0)
            .toArray();
    return Arrays.copyOfRange(all, Math.max(0, all.length - RECENT), all.length);
  }

  /**
   * Points that no case met today, though some did in each of the last green runs of no more than
   * twice as many cases: a short night misses what a long one met, and a rare point comes and goes
   * from seed to seed.
   */
  private static void coverageLost(HistoryRow now, List<HistoryRow> green, List<Change> changes) {
    HistoryRow last = green.get(green.size() - 1);
    List<HistoryRow> alike = green.stream().filter(row -> row.cases() <= 2 * now.cases()).toList();
    Set<String> lost = new TreeSet<>(missed(now));
    alike.stream()
        .skip(Math.max(0, alike.size() - RECENT))
        .map(Comparison::missed)
        .forEach(lost::removeAll);
    if (!lost.isEmpty() && !alike.isEmpty()) {
      add(changes, now, COVERAGE_LOST, String.join("; ", lost), true);
    } else if (now.points() < last.points()) {
      String words = now.points() + " points where there were " + last.points();
      add(changes, now, COVERAGE_LOST, words, true);
    }
  }

  private static List<String> missed(HistoryRow row) {
    return row.missed().isEmpty() ? List.of() : Arrays.asList(row.missed().split("; "));
  }

  private static void add(
      List<Change> changes, HistoryRow now, String kind, String words, boolean bad) {
    changes.add(new Change(kind, PlainText.line(now.bench()), PlainText.line(words), bad));
  }

  private static double median(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    int middle = sorted.length / 2;
    return sorted.length % 2 == 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
  }

  /** A standard deviation that outliers do not move: from the median absolute deviation. */
  private static double spread(double[] values, double middle) {
    return OF_NORMAL
        * median(Arrays.stream(values).map(value -> Math.abs(value - middle)).toArray());
  }

  /** For the console: empty where there is nothing to say. */
  String lines() {
    return changes.stream()
        .map(
            change ->
                String.format(
                    Locale.ROOT, "%-13s  %s: %s%n", change.kind(), change.bench(), change.words()))
        .collect(Collectors.joining());
  }
}
