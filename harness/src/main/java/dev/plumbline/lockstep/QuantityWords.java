package dev.plumbline.lockstep;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Pattern;

/** Whether the name of a signal speaks of a quantity. */
final class QuantityWords {
  private static final int STEM = 5; // letters that tell a word

  private static final int SHORTEST = 4;

  /** Other words of the trade for words of ours. */
  private static final Map<String, List<String>> ALSO =
      Map.ofEntries(
          Map.entry("predictions", List.of("predict", "history", "counter")),
          Map.entry("predicted", List.of("predict", "taken")),
          Map.entry("prediction", List.of("predict")),
          Map.entry("stands", List.of("valid")),
          Map.entry("runs", List.of("busy", "state", "running")),
          Map.entry("dispatched", List.of("dispatch", "issue", "valid")),
          Map.entry("flight", List.of("flight", "pending", "outstanding")),
          Map.entry("wrongly", List.of("wrong", "mispredict", "redirect")),
          Map.entry("early", List.of("early")),
          Map.entry("missed", List.of("miss", "hit")),
          Map.entry("goes", List.of("redirect", "next", "early")),
          Map.entry("arrived", List.of("count", "fill", "level", "waiting")),
          Map.entry("waiting", List.of("waiting", "count", "fill", "level")),
          Map.entry("lists", List.of("height", "depth", "level")),
          Map.entry("nearer", List.of("nearer", "closer", "better")),
          Map.entry("ends", List.of("finish", "done", "last", "stop")),
          Map.entry("thought", List.of("wrong", "mispredict", "redirect")),
          Map.entry("taken", List.of("taken")),
          Map.entry("rightly", List.of("right")),
          Map.entry("margin", List.of("reach", "margin")),
          Map.entry("word", List.of("word", "instruction", "code")));

  private static final List<String> FILLERS = List.of("from", "that", "with");

  private static final Pattern BETWEEN = Pattern.compile("[^a-z]+");

  private QuantityWords() {}

  /** Whether they have a word in common. */
  static boolean agree(Quantity quantity, String path) {
    String signal = path.toLowerCase(Locale.ROOT);
    return words(quantity.name).stream().anyMatch(word -> signal.contains(word));
  }

  private static List<String> words(String name) {
    List<String> words = new ArrayList<>();
    for (String word : BETWEEN.splitAsStream(name).toList()) {
      if (word.length() >= SHORTEST && !FILLERS.contains(word)) {
        words.add(stem(word));
        ALSO.getOrDefault(word, List.of()).forEach(also -> words.add(stem(also)));
      }
    }
    return words;
  }

  private static String stem(String word) {
    return word.substring(0, Math.min(STEM, word.length()));
  }
}
