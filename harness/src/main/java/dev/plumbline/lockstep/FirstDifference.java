package dev.plumbline.lockstep;

import dev.plumbline.lockstep.Quantity.Flow;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.Deque;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Of all signals that have quantities the one that is wrong first: in the earliest cycle, and there
 * the one that no other one drives.
 */
final class FirstDifference {
  /** Rows after which what is wrong in a retirement has shown. */
  private static final int RECENT = 256;

  private final SignalSlices slices;
  private final Map<String, List<String>> sources;
  private final List<QuantityMatch> right = new ArrayList<>();
  private final List<QuantityMatch> differing = new ArrayList<>();

  FirstDifference(
      SignalSlices slices, Map<String, List<String>> sources, List<QuantityMatch> matches) {
    this.slices = slices;
    this.sources = sources;
    matches.stream().filter(QuantityMatch::isRight).forEach(right::add);
    matches.stream()
        .filter(match -> !match.isRight())
        .filter(
            match ->
                match.isPort()
                    || (isRecent(match)
                        && !isAlternative(match, matches)
                        && !isRightOtherwise(match)
                        && !isOutlasted(match, matches)))
        .forEach(differing::add);
  }

  /**
   * Whether another signal has the quantity for longer: any other of what stands in one place,
   * those that have it later of what goes along with an operation.
   */
  private static boolean isOutlasted(QuantityMatch match, List<QuantityMatch> matches) {
    boolean goes = match.quantity().goesAlong();
    return matches.stream()
        .anyMatch(
            other ->
                other.quantity() == match.quantity()
                    && !other.isPort()
                    && lasts(other) > lasts(match)
                    && (!goes || other.delay() >= match.delay()));
  }

  /** What is wrong as operations retire shows outside soon, or was never meant to be right. */
  private boolean isRecent(QuantityMatch match) {
    return match.quantity().flow.compareTo(Flow.RETIREMENT) < 0
        || match.differs() >= slices.rows() - RECENT;
  }

  /** Lists are found from the top of the stack or by their places there. */
  private static boolean isAlternative(QuantityMatch match, List<QuantityMatch> matches) {
    return match.quantity().name.startsWith(RetirementQuantities.IN_PLACE)
        && matches.stream()
            .anyMatch(other -> other.quantity().name.startsWith(RetirementQuantities.TOP));
  }

  private static int lasts(QuantityMatch match) {
    return match.isRight() ? Integer.MAX_VALUE : match.differs() - match.delay();
  }

  /** Whether its bits are right as something else, or something else is right in its place. */
  private boolean isRightOtherwise(QuantityMatch match) {
    return right.stream()
        .anyMatch(
            other ->
                match.isWithin(other));
  }

  List<QuantityMatch> right() {
    return right;
  }

  List<QuantityMatch> differing() {
    return differing;
  }

  /** The first that is wrong, or what goes before it without being known for sure. */
  Optional<QuantityMatch> find(QuantityMatches matches, List<Quantity> quantities) {
    Optional<QuantityMatch> sure = find();
    if (sure.isEmpty()) {
      return sure;
    }
    int row = sure.get().differs();
    Set<Integer> wrong = new HashSet<>();
    differing.stream()
        .filter(match -> match.differs() == row)
        .forEach(match -> wrong.add(match.g()));
    Set<String> found = new HashSet<>();
    Set<Integer> known = new HashSet<>();
    boolean knowsPredictions = false;
    for (List<QuantityMatch> all : List.of(right, differing)) {
      for (QuantityMatch match : all) {
        knowsPredictions |= match.quantity().flow == Flow.PREDICTION;
        found.add(match.quantity().name);
        if (match.width() == slices.signal(match.g()).width()) {
          known.add(match.g());
        }
      }
    }
    boolean predictions = !knowsPredictions;
    List<Quantity> unknown =
        quantities.stream()
            .filter(quantity -> predictions || quantity.flow != Flow.PREDICTION)
            .filter(quantity -> !found.contains(quantity.name))
            .filter(quantity -> quantity.flow.compareTo(sure.get().quantity().flow) <= 0)
            .toList();
    return new Suspects(slices, sources, matches, unknown, known).before(wrong, row).or(() -> sure);
  }

  private Optional<QuantityMatch> find() {
    int row = differing.stream().mapToInt(QuantityMatch::differs).min().orElse(-1);
    List<QuantityMatch> there =
        differing.stream().filter(match -> match.differs() == row).toList();
    Set<Integer> signals = new HashSet<>();
    there.forEach(match -> signals.add(match.g()));
    return there.stream()
        .filter(match -> !isDriven(match.g(), signals))
        .min(
            Comparator.comparing((QuantityMatch match) -> match.quantity().flow)
                .thenComparing(match -> !slices.signal(match.g()).register())
                .thenComparing(match -> -match.agreed())
                .thenComparing(match -> slices.name(match.g())))
        .or(() -> there.stream().findFirst());
  }

  /** Whether another one of some signals goes into a signal without a register between. */
  private boolean isDriven(int g, Set<Integer> by) {
    if (slices.signal(g).register()) {
      return false;
    }
    Set<String> seen = new LinkedHashSet<>(List.of(slices.name(g)));
    Deque<String> open = new ArrayDeque<>(seen);
    while (!open.isEmpty()) {
      for (String source : sources.getOrDefault(open.poll(), List.of())) {
        int at = slices.find(source);
        if (at >= 0 && at != g && by.contains(at)) {
          return true;
        }
        boolean isRegister = at >= 0 && slices.signal(at).register();
        if (!isRegister && seen.add(source)) {
          open.add(source);
        }
      }
    }
    return false;
  }
}
