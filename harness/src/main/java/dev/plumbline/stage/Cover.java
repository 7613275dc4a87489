package dev.plumbline.stage;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.stage.Candidates.Candidate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.BiPredicate;

/**
 * One piece of RTL that is wrong in several places: a module that stands there several times, or
 * hardware that serves several operations of a case in turn. None of its signals explains every
 * wrong result, but each explains some; together, each in the place of a step of its own, they
 * explain all.
 */
final class Cover {
  /** Most signals together. */
  private static final int MOST_TOGETHER = 16;

  /** Most that explain a part of a few results, of which all are then looked at. */
  private static final int MOST_TRIED = 256;

  /** Most pairs of signals that are tried for every two steps. */
  private static final int MOST_PAIRS = 48;

  private final Onward onward;
  private final List<Operand> steps;
  private final BiPredicate<Integer, Candidate> fits;
  private final Map<String, List<String>> operands;
  private final Map<String, Set<String>> madeFrom = new HashMap<>(); // by step

  /**
   * Looks among steps.
   *
   * @param operands of each step, by name
   * @param fits whether a signal may be a step, by its index
   */
  Cover(
      Onward onward,
      List<Operand> steps,
      Map<String, List<String>> operands,
      BiPredicate<Integer, Candidate> fits) {
    this.operands = operands;
    this.onward = onward;
    this.steps = steps;
    this.fits = fits;
  }

  /**
   * What was found.
   *
   * @param steps in whose place the signals stand
   * @param place the signals, the first first
   */
  record Found(List<Operand> steps, Place place) {}

  private record Part(Operand step, Place place, int helped) {}

  /** The signals of one name that explain everything together; empty where they do not. */
  Optional<Found> of(List<Candidate> alike) {
    List<Part> parts = new ArrayList<>(); // of each step the one that helps most
    int tried = 0;
    for (int s = 0; s < steps.size(); s++) {
      Operand step = steps.get(s);
      List<Place> places = new ArrayList<>();
      for (Candidate one : alike) {
        if (fits.test(s, one)) {
          places.add(Place.of(one.signal(), one.delay(), Reading.PLAIN));
        }
      }
      Part best = null;
      for (Place place : onward.helpAtFirst(List.of(step), places)) {
        int helped = tried++ < MOST_TRIED ? helped(List.of(step), place, onward.right()) : 0;
        if (helped > (best == null ? 0 : best.helped())) {
          best = new Part(step, place, helped);
        }
      }
      if (best != null) {
        parts.add(best);
      }
    }
    return together(parts).or(() -> inPairs(alike));
  }

  /**
   * Two of them at one time, neither of which explains anything alone: where both are wrong in
   * nearly every case, to have one of them right helps no result. Of two steps neither is made from
   * the other, since both are there at once.
   */
  private Optional<Found> inPairs(List<Candidate> alike) {
    List<List<Candidate>> pairs = pairs(alike);
    for (int s = 0; s < steps.size() && !pairs.isEmpty(); s++) {
      for (int t = s + 1; t < steps.size(); t++) {
        if (isMadeFrom(s, t) || isMadeFrom(t, s)) {
          continue;
        }
        List<Operand> both = List.of(steps.get(s), steps.get(t));
        List<Place> places = new ArrayList<>();
        for (List<Candidate> pair : pairs) {
          Candidate one = pair.get(0);
          Candidate other = pair.get(1);
          if (fits.test(s, one) && fits.test(t, other)) {
            places.add(Place.of(List.of(one.signal(), other.signal()), one.delay()));
          }
        }
        for (Place place : onward.agreeAtFirst(both, places)) {
          if (onward.resembles(both, place) && onward.agrees(both, place)) {
            return Optional.of(new Found(both, place));
          }
        }
      }
    }
    return Optional.empty();
  }

  /** None where there are too many for an answer in time. */
  private static List<List<Candidate>> pairs(List<Candidate> alike) {
    List<List<Candidate>> pairs = new ArrayList<>();
    for (Candidate one : alike) {
      for (Candidate other : alike) {
        if (one.delay() == other.delay() && one.signal() != other.signal()) {
          pairs.add(List.of(one, other));
        }
      }
      if (pairs.size() > MOST_PAIRS) {
        return List.of();
      }
    }
    return pairs;
  }

  private boolean isMadeFrom(int step, int other) {
    return madeFrom
        .computeIfAbsent(steps.get(step).name(), name -> Blame.wayTo(name, operands))
        .contains(steps.get(other).name());
  }

  /** How many more results agree than did; 0 where too many differ that agreed. */
  private int helped(List<Operand> replaced, Place place, boolean[] before) {
    boolean[] now = onward.holds(replaced, place);
    int helped = 0;
    int spoilt = 0;
    for (int i = 0; i < now.length; i++) {
      spoilt += before[i] && !now[i] ? 1 : 0;
      helped += now[i] && !before[i] ? 1 : 0;
    }
    return helped > Onward.SPOILT * spoilt ? helped - spoilt : 0;
  }

  /** The first that helps, then the first that helps beside it, until all is explained. */
  private Optional<Found> together(List<Part> parts) {
    List<Part> inOrder = new ArrayList<>(parts);
    inOrder.sort(
        Comparator.comparingInt((Part part) -> part.place().delay())
            .thenComparingInt(part -> -part.helped()));
    List<Operand> replaced = new ArrayList<>();
    Place place = null;
    boolean[] agree = onward.right();
    for (Part part : inOrder) {
      if (replaced.contains(part.step()) || replaced.size() == MOST_TOGETHER) {
        continue;
      }
      List<Operand> with = new ArrayList<>(replaced);
      with.add(part.step());
      Place both = place == null ? part.place() : place.and(part.place());
      if (helped(with, both, agree) == 0) {
        continue;
      }
      replaced = with;
      place = both;
      agree = onward.holds(replaced, place);
      if (all(agree)) {
        return replaced.size() < 2 || !onward.resembles(replaced, place)
            ? Optional.empty()
            : Optional.of(new Found(replaced, place));
      }
    }
    return Optional.empty();
  }

  private static boolean all(boolean[] agree) {
    for (boolean one : agree) {
      if (!one) {
        return false;
      }
    }
    return true;
  }
}
