package dev.plumbline.lockstep;

import dev.plumbline.lockstep.Quantity.Flow;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.Deque;
import java.util.HashMap;
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

  /** Bits of a quantity that tell it from others by themselves. */
  private static final int MANY_BITS = 6;

  private final SignalSlices slices;
  private final Map<String, List<String>> sources;
  private final Set<Integer> given;
  private final List<QuantityMatch> right = new ArrayList<>();
  private final Map<Integer, List<QuantityMatch>> rightBySignal = new HashMap<>();
  private final List<QuantityMatch> differing = new ArrayList<>();

  /**
   * Of some matches.
   *
   * @param given ports that are driven: what they have is none of the DUT's doing
   */
  FirstDifference(
      SignalSlices slices,
      Map<String, List<String>> sources,
      Set<Integer> given,
      List<QuantityMatch> matches) {
    this.slices = slices;
    this.sources = sources;
    this.given = given;
    Map<Quantity, List<QuantityMatch>> byQuantity = new HashMap<>();
    for (QuantityMatch match : matches) {
      byQuantity.computeIfAbsent(match.quantity(), key -> new ArrayList<>()).add(match);
      if (match.isRight()) {
        right.add(match);
        rightBySignal
            .computeIfAbsent(slices.firstAlike(match.g()), key -> new ArrayList<>())
            .add(match);
      }
    }
    boolean fromTheTop =
        matches.stream()
            .anyMatch(match -> match.quantity().name.startsWith(RetirementQuantities.TOP));
    for (QuantityMatch match : matches) {
      // Lists are found from the top of the stack, or else by their places there.
      boolean counts =
          !fromTheTop || !match.quantity().name.startsWith(RetirementQuantities.IN_PLACE);
      if (!match.isRight()
          && (match.isPort()
              || (counts
                  && isRecent(match)
                  && !isRightOtherwise(match)
                  && !isOutlasted(match, byQuantity.get(match.quantity()))))) {
        for (int g : match.isPort() ? List.of(match.g()) : made(match.g())) {
          differing.add(match.at(g));
        }
      }
    }
  }

  /** Signals that are alike, but for what is given and for what goes with it. */
  private List<Integer> made(int g) {
    List<Integer> alike = slices.alike(slices.firstAlike(g));
    boolean isGiven = alike.stream().anyMatch(given::contains);
    return isGiven && !slices.isConstant(g)
        ? List.of()
        : alike.stream().filter(one -> !given.contains(one)).toList();
  }

  /**
   * Whether another signal has the quantity for longer: any other of what stands in one place,
   * those that have it later of what goes along with an operation. Those that have it in a changed
   * model throughout are all meant.
   */
  private static boolean isOutlasted(QuantityMatch match, List<QuantityMatch> ofSame) {
    if (match.by() == QuantityMatch.By.CHANGE) {
      return false;
    }
    boolean goes = match.quantity().goesAlong() && match.quantity().bits >= MANY_BITS;
    for (QuantityMatch other : ofSame) {
      if (!other.isPort()
          && lasts(other) > lasts(match)
          && (!goes || other.delay() >= match.delay())) {
        return true;
      }
    }
    return false;
  }

  /** What is wrong as operations retire shows outside soon, or was never meant to be right. */
  private boolean isRecent(QuantityMatch match) {
    return match.quantity().flow.compareTo(Flow.RETIREMENT) < 0
        || match.differs() >= slices.rows() - RECENT;
  }

  private static int lasts(QuantityMatch match) {
    return match.isRight() ? Integer.MAX_VALUE : match.differs() - match.delay();
  }

  /** Whether its bits are right as something else. */
  private boolean isRightOtherwise(QuantityMatch match) {
    for (QuantityMatch other :
        rightBySignal.getOrDefault(slices.firstAlike(match.g()), List.of())) {
      if (match.isWithin(other) && other.quantity().isDefined(match.differs() - other.delay())) {
        return true;
      }
    }
    return false;
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
    if (sure.isEmpty() || !mayComeFromElsewhere(sure.get().quantity())) {
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
          known.add(slices.firstAlike(match.g()));
        }
      }
    }
    boolean predictions = !knowsPredictions;
    List<Quantity> unknown =
        quantities.stream()
            .filter(quantity -> predictions || quantity.flow != Flow.PREDICTION)
            .filter(quantity -> !found.contains(quantity.name) && isOnItsWay(quantity))
            .filter(quantity -> quantity.flow.compareTo(sure.get().quantity().flow) <= 0)
            .toList();
    return new Suspects(slices, sources, matches, unknown, known).before(wrong, row).or(() -> sure);
  }

  /** What comes late or takes a wrong way may do so by what was foretold or fetched before. */
  private static boolean mayComeFromElsewhere(Quantity quantity) {
    return quantity.flow.compareTo(Flow.RETIREMENT) < 0 || quantity.name.equals("retire_valid");
  }

  private static boolean isOnItsWay(Quantity quantity) {
    return quantity.flow == Flow.PREDICTION || quantity.flow == Flow.FETCH;
  }

  private Optional<QuantityMatch> find() {
    int row = differing.stream().mapToInt(QuantityMatch::differs).min().orElse(-1);
    List<QuantityMatch> there = differing.stream().filter(match -> match.differs() == row).toList();
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
