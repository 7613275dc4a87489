package dev.plumbline.stage;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Where a right signal came into a wrong cycle. Behind a delay that is short all is right in
 * itself, so that only what the RTL says of itself can tell: registers are named after their clock,
 * as {@code radius_s11_q}, and one that holds its step at another than the others of its scope keep
 * to is the first; else it is a delay, several copies one after the other, that lies on the way.
 */
final class StageClues {
  private static final Pattern CLOCK = Pattern.compile(".*_s(\\d+)(?:_q|_r|_reg)?");

  /** Signals of a scope that have to agree on where it counts from. */
  private static final int MANY = 3;

  private final SignalSample sample;
  private final Map<String, List<String>> sources;
  private final Map<Integer, Integer> rightAt = new HashMap<>(); // of steps, the first delay
  private final Map<String, Integer> offsets = new HashMap<>(); // by scope

  StageClues(SignalSample sample, Map<String, List<String>> sources, List<List<Station>> stations) {
    this.sample = sample;
    this.sources = sources;
    Map<String, Map<Integer, Integer>> votes = new HashMap<>();
    for (List<Station> some : stations) {
      for (Station one : some) {
        if (one.isExact()) {
          rightAt.merge(one.signal(), one.delay(), Math::min);
        }
      }
    }
    rightAt.forEach(
        (g, delay) ->
            clock(g)
                .ifPresent(
                    clock ->
                        votes
                            .computeIfAbsent(
                                sample.signals().get(g).scope(), key -> new HashMap<>())
                            .merge(delay - clock, 1, Integer::sum)));
    votes.forEach(
        (scope, count) ->
            count.entrySet().stream()
                .max(Map.Entry.comparingByValue())
                .filter(most -> most.getValue() >= MANY)
                .ifPresent(most -> offsets.put(scope, most.getKey())));
  }

  private Optional<Integer> clock(int g) {
    Matcher named = CLOCK.matcher(sample.signals().get(g).name());
    return named.matches() && named.group(1).length() < 5
        ? Optional.of(Integer.parseInt(named.group(1)))
        : Optional.empty();
  }

  /** The first signal on the way to one that is out of its own cycle; empty where nothing tells. */
  Optional<Integer> before(int late) {
    Set<String> way = Blame.wayTo(sample.name(late), sources);
    return way.stream()
        .map(sample::find)
        .filter(g -> g >= 0 && isOffItsClock(g))
        .min((a, b) -> Integer.compare(rightAt.get(a), rightAt.get(b)))
        .or(() -> delay(sample.name(late)));
  }

  private boolean isOffItsClock(int g) {
    Integer delay = rightAt.get(g);
    Integer offset = offsets.get(sample.signals().get(g).scope());
    return delay != null
        && offset != null
        && clock(g).filter(clock -> clock + offset != delay).isPresent();
  }

  /**
   * The end of the nearest row of two registers or more of which each has what the last one had.
   */
  private Optional<Integer> delay(String path) {
    Set<String> seen = new LinkedHashSet<>(List.of(path));
    Deque<String> open = new ArrayDeque<>(seen);
    while (!open.isEmpty()) {
      String here = open.poll();
      if (isDelayed(here, 2)) {
        return Optional.of(sample.find(here));
      }
      sources.getOrDefault(here, List.of()).stream().filter(seen::add).forEach(open::add);
    }
    return Optional.empty();
  }

  private boolean isDelayed(String path, int copies) {
    int own = sample.find(path);
    if (own < 0 || !sample.signals().get(own).register()) {
      return false;
    }
    for (String before : registersBehind(path)) {
      int g = sample.find(before);
      if (g >= 0 && isCopy(own, g)) {
        return copies == 1 || isDelayed(before, copies - 1);
      }
    }
    return false;
  }

  /** Registers that a register is made from, through wires. */
  private Set<String> registersBehind(String path) {
    Set<String> found = new LinkedHashSet<>();
    Set<String> seen = new LinkedHashSet<>();
    Deque<String> open = new ArrayDeque<>(sources.getOrDefault(path, List.of()));
    while (!open.isEmpty()) {
      String here = open.poll();
      if (!seen.add(here)) {
        continue;
      }
      int g = sample.find(here);
      if (g >= 0 && sample.signals().get(g).register()) {
        found.add(here);
      } else {
        open.addAll(sources.getOrDefault(here, List.of()));
      }
    }
    return found;
  }

  /** Whether a register has in each row what another had in the row before. */
  private boolean isCopy(int own, int before) {
    long[][] now = sample.columns(own);
    long[][] then = sample.columns(before);
    if (own == before || now.length != then.length) {
      return false;
    }
    for (int word = 0; word < now.length; word++) {
      for (int row = 1; row < sample.rows(); row++) {
        if (now[word][row] != then[word][row - 1]) {
          return false;
        }
      }
    }
    return true;
  }
}
