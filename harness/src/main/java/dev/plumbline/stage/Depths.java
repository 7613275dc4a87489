package dev.plumbline.stage;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Predicate;

/**
 * How many registers lie between the ports and a signal, at least and at most: it cannot have a
 * case earlier, and where no path leads back, nor later.
 */
final class Depths {
  private static final int NO_END = Integer.MAX_VALUE;

  private final Map<String, Integer> least = new HashMap<>();
  private final Map<String, Integer> most = new HashMap<>();

  Depths(Map<String, List<String>> sources, Predicate<String> isRegister) {
    Map<String, List<String>> readers = new HashMap<>();
    Map<String, Integer> open = new HashMap<>(); // sources that are not done
    sources.forEach(
        (signal, from) -> {
          open.merge(signal, from.size(), Integer::sum);
          for (String source : from) {
            readers.computeIfAbsent(source, key -> new ArrayList<>()).add(signal);
            open.putIfAbsent(source, 0);
          }
        });
    Deque<String> next = new ArrayDeque<>();
    open.forEach(
        (signal, count) -> {
          if (count == 0) {
            next.add(signal);
            least.put(signal, 0);
            most.put(signal, 0);
          }
        });
    Deque<String> near = new ArrayDeque<>(next);
    while (!next.isEmpty()) { // in the order of the flow; what is part of a circle is never reached
      String here = next.poll();
      for (String reader : readers.getOrDefault(here, List.of())) {
        int depth = most.get(here) + (isRegister.test(reader) ? 1 : 0);
        most.merge(reader, depth, Math::max);
        if (open.merge(reader, -1, Integer::sum) == 0) {
          next.add(reader);
        }
      }
    }
    open.forEach((signal, count) -> most.compute(signal, (key, own) -> count > 0 ? NO_END : own));
    while (!near.isEmpty()) { // wires first, so that the least comes first
      String here = near.poll();
      for (String reader : readers.getOrDefault(here, List.of())) {
        int step = isRegister.test(reader) ? 1 : 0;
        int depth = least.get(here) + step;
        if (depth < least.getOrDefault(reader, NO_END)) {
          least.put(reader, depth);
          if (step == 0) {
            near.addFirst(reader);
          } else {
            near.addLast(reader);
          }
        }
      }
    }
  }

  /** Registers on the shortest way; 0 where nothing is known. */
  int least(String signal) {
    return least.getOrDefault(signal, 0);
  }

  /** Registers on the longest way; the largest number where a way leads back. */
  int most(String signal) {
    return most.getOrDefault(signal, NO_END);
  }
}
