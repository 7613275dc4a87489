package dev.plumbline.models.solid;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;

/** How far apart bounds were, by situation, beside what the mathematics allows. */
final class Widths {
  private final String title;
  private final Map<String, List<Long>> widths = new TreeMap<>();
  private final Map<String, List<Double>> limits = new TreeMap<>();

  Widths(String title) {
    this.title = title;
  }

  void add(String situation, long width, double limit) {
    widths.computeIfAbsent(situation, s -> new ArrayList<>()).add(width);
    limits.computeIfAbsent(situation, s -> new ArrayList<>()).add(limit);
  }

  long median(String situation) {
    return median(widths.get(situation));
  }

  private static <T extends Comparable<T>> T median(List<T> values) {
    Collections.sort(values);
    return values.get(values.size() / 2);
  }

  /** One line a situation: cases, median and worst in LSBs, median of the limits. */
  void print() {
    StringBuilder text = new StringBuilder(title).append(", widths in LSBs\n");
    widths.forEach(
        (situation, all) ->
            text.append(
                String.format(
                    Locale.ROOT,
                    "  %-24s %6d cases, median %6d, worst %12d, median of limits %.1f%n",
                    situation,
                    all.size(),
                    median(all),
                    Collections.max(all),
                    median(limits.get(situation)))));
    System.out.print(text);
  }
}
