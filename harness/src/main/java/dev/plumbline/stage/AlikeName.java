package dev.plumbline.stage;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Set;

/** What is left of a name without the words that tell, and these in order. */
record AlikeName(String rest, List<String> told) {
  static AlikeName of(String name, Set<String> telling) {
    StringBuilder rest = new StringBuilder();
    List<String> told = new ArrayList<>();
    for (String word : name.split("(?<=[_.\\[\\]])|(?=[_.\\[\\]])", -1)) {
      if (telling.contains(word)) {
        told.add(word);
        rest.append('*');
      } else {
        rest.append(word);
      }
    }
    told.sort(Comparator.naturalOrder());
    return new AlikeName(rest.toString(), told);
  }
}
