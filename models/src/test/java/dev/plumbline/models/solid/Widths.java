package dev.plumbline.models.solid;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;

/** How far apart bounds were, by kind, beside what the mathematics allows. */
final class Widths {
  private final String title;
  private final Map<String, List<Long>> widths = new TreeMap<>();
  private final Map<String, List<Double>> limits = new TreeMap<>();

  Widths(String title) {
    this.title = title;
  }

  void add(String kind, long width, double limit) {
    widths.computeIfAbsent(kind, s -> new ArrayList<>()).add(width);
    limits.computeIfAbsent(kind, s -> new ArrayList<>()).add(limit);
  }

  long median(String kind) {
    return median(widths.get(kind));
  }

  private static <T extends Comparable<T>> T median(List<T> values) {
    Collections.sort(values);
    return values.get(values.size() / 2);
  }

  /** One line a kind: cases, median and worst in LSB, median of the limits. */
  void print() {
    StringBuilder text = new StringBuilder(title).append(", widths in LSB\n");
    widths.forEach(
        (kind, all) ->
            text.append(
                String.format(
                    Locale.ROOT,
                    "  %-24s %6d cases, median %6d, worst %12d, median of limits %.1f%n",
                    kind,
                    all.size(),
                    median(all),
                    Collections.max(all),
                    median(limits.get(kind)))));
    System.out.print(text);
  }
}
