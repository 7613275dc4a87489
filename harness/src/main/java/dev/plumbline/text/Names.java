package dev.plumbline.text;

import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;

/** Finds the names that somebody may have meant. */
public final class Names {
  private static final int MOST = 3;

  private Names() {}

  /**
   * A sentence about what there is: the nearest names, or that there are none.
   *
   * @param wanted what was looked for
   * @param names what there is
   * @return the sentence, without a full stop
   */
  public static String hint(String wanted, Collection<String> names) {
    List<String> nearest =
        names.stream()
            .sorted(Comparator.comparingInt((String name) -> distance(wanted, name)))
            .limit(MOST)
            .toList();
    return nearest.isEmpty() ? "there are none" : "the nearest are " + String.join(", ", nearest);
  }

  /** Levenshtein distance, case ignored. */
  static int distance(String left, String right) {
    String a = left.toLowerCase(Locale.ROOT);
    String b = right.toLowerCase(Locale.ROOT);
    int[] above = new int[b.length() + 1];
    for (int j = 0; j <= b.length(); j++) {
      above[j] = j;
    }
    for (int i = 1; i <= a.length(); i++) {
      int diagonal = above[0];
      above[0] = i;
      for (int j = 1; j <= b.length(); j++) {
        int change = diagonal + (a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1);
        diagonal = above[j];
        above[j] = Math.min(change, 1 + Math.min(above[j], above[j - 1]));
      }
    }
    return above[b.length()];
  }
}
