package dev.plumbline.stage;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.Deque;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;

/**
 * Follows a wrong signal against the flow of data to the registers that are the first on its way to
 * equal no step, though all they are made from does.
 */
final class Blame {
  /**
   * Such a register.
   *
   * @param signal its place in the sample
   * @param from the delays of the signals it is made from that are steps, by name
   */
  record Root(int signal, Map<String, Integer> from) {
    /** Cycles from the case to the register; 1 where nothing is known of what it is made from. */
    int delay() {
      return from.values().stream().mapToInt(Integer::intValue).max().orElse(0) + 1;
    }

    /** Whether it is made from different cases. */
    boolean mixes() {
      return from.values().stream().distinct().count() > 1;
    }
  }

  private final SignalSample sample;
  private final Map<String, List<String>> sources;
  private final Map<Integer, Set<Integer>> delays = new HashMap<>(); // of signals that are steps

  Blame(SignalSample sample, Map<String, List<String>> sources, List<List<Station>> stations) {
    this.sample = sample;
    this.sources = sources;
    stations.stream()
        .flatMap(List::stream)
        .filter(Station::isExact)
        .forEach(
            station ->
                delays
                    .computeIfAbsent(station.signal(), key -> new LinkedHashSet<>())
                    .add(station.delay()));
  }

  /** Every signal that a signal is made from, through any number of registers, and itself. */
  static Set<String> wayTo(String path, Map<String, List<String>> sources) {
    Set<String> seen = new LinkedHashSet<>(List.of(path));
    Deque<String> open = new ArrayDeque<>(seen);
    while (!open.isEmpty()) {
      sources.getOrDefault(open.poll(), List.of()).stream().filter(seen::add).forEach(open::add);
    }
    return seen;
  }

  /** The first registers on the way to a signal, the earliest first. */
  List<Root> rootsOf(String path) {
    Set<String> seen = new LinkedHashSet<>(List.of(path));
    Deque<String> open = new ArrayDeque<>(seen);
    List<Root> roots = new ArrayList<>();
    while (!open.isEmpty()) {
      String here = open.poll();
      if (!here.equals(path) && isStep(here)) {
        continue;
      }
      if (here.equals(path) || isRegister(here)) {
        root(here).ifPresent(roots::add);
      }
      sources.getOrDefault(here, List.of()).stream().filter(seen::add).forEach(open::add);
    }
    roots.sort(
        Comparator.comparing((Root root) -> root.from().isEmpty())
            .thenComparingInt(Root::delay)
            .thenComparing(root -> !root.mixes())
            .thenComparing(root -> sample.name(root.signal())));
    return roots;
  }

  private boolean isStep(String path) {
    return delays.containsKey(sample.find(path));
  }

  private boolean isRegister(String path) {
    int g = sample.find(path);
    return g >= 0 && sample.signals().get(g).register();
  }

  /** A register is a root where all registers it is made from are steps. */
  private java.util.Optional<Root> root(String register) {
    int own = sample.find(register);
    if (own < 0) {
      return java.util.Optional.empty();
    }
    Map<String, Integer> from = new TreeMap<>();
    Map<String, Set<Integer>> several = new TreeMap<>();
    Set<String> seen = new LinkedHashSet<>(List.of(register));
    Deque<String> open = new ArrayDeque<>(sources.getOrDefault(register, List.of()));
    while (!open.isEmpty()) {
      String here = open.poll();
      if (!seen.add(here)) {
        continue;
      }
      if (isStep(here)) {
        several.put(here, delays.get(sample.find(here)));
      } else if (isRegister(here)) {
        return java.util.Optional.empty();
      } else {
        open.addAll(sources.getOrDefault(here, List.of()));
      }
    }
    if (several.isEmpty()) {
      return java.util.Optional.empty();
    }
    Set<Integer> common =
        several.values().stream()
            .map(LinkedHashSet::new)
            .reduce(
                (a, b) -> {
                  a.retainAll(b);
                  return a;
                })
            .orElseThrow();
    several.forEach(
        (path, all) ->
            from.put(path, common.isEmpty() ? all.iterator().next() : common.iterator().next()));
    return java.util.Optional.of(new Root(own, from));
  }

  /** The signals that a root is made from, with their delays, as text. */
  static String from(Root root) {
    return root.from().entrySet().stream()
        .map(entry -> entry.getKey() + " after " + entry.getValue())
        .collect(Collectors.joining(", "));
  }
}
