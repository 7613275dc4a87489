package dev.plumbline.lockstep;

import dev.plumbline.lockstep.QuantityMatch.By;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.Deque;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Signals on the way to what differs first that go with a quantity no signal is known of for sure:
 * some are wrong before they have been right for long. They are looked for where data comes from.
 */
final class Suspects {
  /** Registers between such a signal and what differs. */
  private static final int REGISTERS = 3;

  /** Cycles after which something wrong would have shown. */
  private static final int RECENT = 64;

  /** How often a quantity has to change with a signal that differs while both stand still. */
  private static final int FEW = 4;

  private final SignalSlices slices;
  private final Map<String, List<String>> sources;
  private final QuantityMatches matches;
  private final List<Quantity> unknown;
  private final Set<Integer> known; // signals

  Suspects(
      SignalSlices slices,
      Map<String, List<String>> sources,
      QuantityMatches matches,
      List<Quantity> unknown,
      Set<Integer> known) {
    this.slices = slices;
    this.sources = sources;
    this.matches = matches;
    this.unknown = unknown;
    this.known = known;
  }

  /** The one that is most likely what makes some signals wrong in a row. */
  Optional<QuantityMatch> before(Set<Integer> wrong, int row) {
    List<QuantityMatch> found = new ArrayList<>();
    Map<Integer, Integer> way = way(wrong);
    for (Quantity quantity : unknown) {
      List<QuantityMatch> likely = new ArrayList<>();
      List<QuantityMatch> others = new ArrayList<>();
      for (Map.Entry<Integer, Integer> one : way.entrySet()) {
        int g = one.getKey();
        if (slices.signal(g).width() != quantity.bits
            || known.contains(slices.firstAlike(g))
            || !QuantityWords.agree(quantity, slices.name(g))) {
          continue;
        }
        for (int delay = quantity.delays.least(); delay <= quantity.delays.most(); delay++) {
          QuantityMatch match = matches.compared(quantity, g, 0, quantity.bits, delay, By.PROMISE);
          (isLikely(match, row - one.getValue()) ? likely : others).add(match);
        }
      }
      // Where another one has it for longer, it is that one.
      likely.stream()
          .filter(match -> others.stream().noneMatch(other -> outlasts(other, match)))
          .forEach(found::add);
    }
    return found.stream()
        .max(
            Comparator.comparing(QuantityMatch::agreed)
                .thenComparing(match -> -way.get(match.g()))
                .thenComparing(match -> -match.delay()));
  }

  /** It differs by then, in a row in which one of both changes, and has been right until then. */
  private boolean isLikely(QuantityMatch match, int latest) {
    boolean lasts = match.quantity().flow == Quantity.Flow.PREDICTION;
    if (match.isRight()
        || match.differs() > latest
        || (!lasts && match.differs() < latest - RECENT)) {
      return false;
    }
    boolean isLong = match.agreed() >= 1 && match.differs() >= RECENT; // if it did not change
    return match.agreed() >= FEW || (isLong && changes(match));
  }

  private static boolean outlasts(QuantityMatch other, QuantityMatch match) {
    return other.agreed() >= Math.max(FEW, match.agreed())
        && (other.isRight() || other.differs() - other.delay() > match.differs() - match.delay());
  }

  private boolean changes(QuantityMatch match) {
    int row = match.differs();
    int own = row - match.delay();
    Quantity quantity = match.quantity();
    boolean signal =
        row > 0
            && slices.bits(match.g(), match.offset(), match.width(), row)
                != slices.bits(match.g(), match.offset(), match.width(), row - 1);
    boolean other =
        own > 0 && quantity.isDefined(own - 1) && quantity.value(own) != quantity.value(own - 1);
    return signal || other;
  }

  /** Signals that some are made from, with the registers between. */
  private Map<Integer, Integer> way(Set<Integer> to) {
    Map<Integer, Integer> way = new LinkedHashMap<>();
    Map<String, Integer> crossed = new LinkedHashMap<>();
    Deque<String> open = new ArrayDeque<>();
    for (int g : to) {
      crossed.put(slices.name(g), slices.signal(g).register() ? 1 : 0);
      open.add(slices.name(g));
    }
    Set<String> done = new HashSet<>();
    while (!open.isEmpty()) {
      String here = open.poll();
      if (!done.add(here)) {
        continue;
      }
      int registers = crossed.get(here);
      for (String source : sources.getOrDefault(here, List.of())) {
        int g = slices.find(source);
        if (g >= 0) {
          way.putIfAbsent(g, registers);
        }
        int more = registers + (g >= 0 && slices.signal(g).register() ? 1 : 0);
        if (more <= REGISTERS && crossed.getOrDefault(source, Integer.MAX_VALUE) > more) {
          crossed.put(source, more);
          open.add(source);
        }
      }
    }
    return way;
  }
}
