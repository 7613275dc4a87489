package dev.plumbline.lockstep;

import dev.plumbline.cases.DirectedScenes;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.span.SpanList;
import dev.plumbline.models.span.SpanOperator;
import dev.plumbline.models.traversal.Pace;
import dev.plumbline.models.traversal.Predictor;
import dev.plumbline.models.traversal.RayRules;
import dev.plumbline.models.traversal.Retirement;
import dev.plumbline.models.traversal.SurfaceNumber;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

/**
 * Counts what the programs and rays of a bench came to: which operations follow each other, how the
 * ends of two lists lie to each other where they are combined, what the predictor held when a skip
 * went one way or the other, and the ends of the executor's room. Allocates nothing per operation.
 */
final class SceneCoverage {
  private static final OperationKind[] KINDS = OperationKind.values();

  /** What comes before an operation: its kind, or one of these. */
  private static final int AFTER_TAKEN = KINDS.length;

  private static final int FIRST = KINDS.length + 1;

  /** How two spans [a, b) and [c, d) lie to each other, and lists of none and of several. */
  private static final String[] ORDERS = {
    "left before right",
    "left meets right", // b = c
    "left overlaps right", // a < c < b < d
    "left contains right, both end", // a < c, b = d
    "left contains right",
    "both begin, left ends first",
    "both the same",
    "both begin, right ends first",
    "right contains left",
    "right contains left, both end",
    "right overlaps left",
    "right meets left",
    "right before left",
    "left empty",
    "right empty",
    "both empty",
    "lists of several spans"
  };

  /** Cycles that a counter of 12 bits does not hold. */
  private static final int LONG_RAY = 4096;

  /** Operations of the longest program that shows an order of two or of two lists, with its end. */
  private static final int SHORT = 8;

  private static final int NONE_LEFT = 13;
  private static final int SEVERAL = 16;

  private enum Other {
    DROPPED("combination that drops spans"),
    FULL_LIST("list of as many spans as there is room for"),
    DEEPEST("stack of as many lists as there is room for"),
    LAST_WORD("end in the last word of the memory"),
    OPEN_ENTRY("list that begins for ever"),
    OPEN_EXIT("list that goes on for ever"),
    TURNED("surface of a solid cut away"),
    TIE("surface as near as the best one"),
    INWARD("nearest surface seen from inside"),
    NO_HIT("ray without a hit"),
    ANY_HIT_STOPS("any-hit ray that stops at a close"),
    ANY_HIT_GOES_ON("any-hit ray that goes on with a hit"),
    CLIPPED("solid that the start lies in"),
    TOO_FAR("surface at the limit or beyond, and none before it"),
    PASSED_LIMIT("box that is met beyond the limit"),
    PASSED_BEST("box that is met beyond the nearest surface"),
    LONG("ray of " + LONG_RAY + " cycles or more"),
    LOW_X("box entered at its face -x"),
    HIGH_X("box entered at its face +x"),
    LOW_Y("box entered at its face -y"),
    HIGH_Y("box entered at its face +y"),
    LOW_Z("box entered at its face -z"),
    HIGH_Z("box entered at its face +z"),
    TAG_AGAIN("ray with the tag of the one before"),
    ABORTED("ray aborted");

    private final String words;

    Other(String words) {
      this.words = words;
    }
  }

  private static final Map<OperationKind, Integer> PLACE = places(OperationKind.class);
  private static final Map<SpanOperator, Integer> OPERATOR = places(SpanOperator.class);
  private static final Map<Other, Integer> OTHER = places(Other.class);

  /** By the number of the face. */
  private static final Other[] FACES = {
    Other.LOW_X, Other.HIGH_X, Other.LOW_Y, Other.HIGH_Y, Other.LOW_Z, Other.HIGH_Z
  };

  private static final int PAIRS = (KINDS.length + 2) * KINDS.length;
  private static final int ORDERED = PAIRS + SpanOperator.values().length * ORDERS.length;
  private static final int PREDICTED = ORDERED + 4 * 2;

  private final Executor executor;
  private final boolean anyHit;
  private final boolean limited;
  private final boolean tagged;
  private final boolean aborts;
  private final long highest; // distance: for ever
  private final long[] counts = new long[PREDICTED + Other.values().length];

  private final List<String> declared; // by count; null where it cannot come up

  // The lists on the stack as they were seen: how many spans, and where the first one lies.
  private final int[] spans;
  private final long[] entry;
  private final long[] exit;
  private int before = FIRST;
  private boolean overflowed;
  private boolean found;
  private long best;

  SceneCoverage(Executor executor, boolean anyHit, boolean limits, boolean tagged, boolean aborts) {
    this.executor = executor;
    this.anyHit = anyHit;
    this.tagged = tagged;
    this.aborts = aborts;
    this.limited = limits && executor.rules().limitsEveryRay();
    this.highest = executor.formats().word().maxCode().longValueExact();
    int depth = executor.limits().depth() + 1;
    spans = new int[depth];
    entry = new long[depth];
    exit = new long[depth];
    declared = declared();
  }

  /** Each constant's place among the counts of its kind. */
  private static <E extends Enum<E>> Map<E, Integer> places(Class<E> type) {
    Map<E, Integer> places = new EnumMap<>(type);
    for (E constant : type.getEnumConstants()) {
      places.put(constant, places.size());
    }
    return places;
  }

  /** Looks at an operation; the predictor is as it was when a skip was predicted. */
  void see(Retirement observed, Predictor predictor, boolean anyHitRay) {
    OperationKind kind = observed.operation().kind();
    int place = PLACE.get(kind);
    counts[before * KINDS.length + place]++;
    before = place;
    SpanList top = observed.top();
    int height = observed.height();
    if (kind.isCombination()) {
      counts[PAIRS + OPERATOR.get(kind.operator()) * ORDERS.length + order(height, height + 1)]++;
      add(Other.DROPPED, observed.hasOverflowed() && !overflowed);
      overflowed = observed.hasOverflowed();
    } else if (kind == OperationKind.SKIP) {
      before = observed.isSkipTaken() ? AFTER_TAKEN : before;
      add(Other.PASSED_LIMIT, observed.isTakenEarly() && !observed.isBoxMissed());
      add(Other.PASSED_BEST, observed.isSkipTaken() && !observed.isTakenEarly());
      if (predictor != null) {
        counts[
            ORDERED + 2 * predictor.state(observed.address()) + (observed.isSkipTaken() ? 1 : 0)]++;
      }
    } else if (kind == OperationKind.CLOSE) {
      seeClose(observed, anyHitRay);
    }
    if (kind == OperationKind.BOX && top.count() > 0 && top.distance(0) > observed.start()) {
      add(FACES[SurfaceNumber.face(top.surface(0))], true);
    }
    if (kind.isSolid()) {
      add(Other.CLIPPED, top.count() > 0 && top.distance(0) == observed.start());
    }
    spans[height] = top.count();
    if (height > 0 && top.count() > 0) {
      entry[height] = top.distance(0);
      exit[height] = top.distance(1);
      add(Other.FULL_LIST, top.count() == executor.spans());
      add(Other.OPEN_ENTRY, top.isOpen(0));
      add(Other.OPEN_EXIT, top.isOpen(2 * top.count() - 1));
      add(Other.TURNED, top.isReversed(0) || top.isReversed(1));
    }
    add(Other.DEEPEST, height == executor.limits().depth());
    if (observed.isLast()) {
      add(Other.LAST_WORD, observed.address() == executor.limits().length() - 1);
      add(Other.LONG, observed.cycle() + 1 >= LONG_RAY);
      add(Other.NO_HIT, !observed.isFound());
      add(Other.INWARD, observed.isFound() && observed.isInward());
      before = FIRST;
      overflowed = false;
      found = false;
    }
  }

  /** Looks at the tags of rays that follow each other, each counted when its result is due. */
  void seeTags(long[] tags, int count) {
    for (int ray = 1; ray < count; ray++) {
      add(Other.TAG_AGAIN, tags[ray] == tags[ray - 1]);
    }
  }

  /** A ray was aborted. */
  void seeAbort() {
    add(Other.ABORTED, true);
  }

  private void seeClose(Retirement observed, boolean anyHitRay) {
    add(Other.ANY_HIT_STOPS, observed.isLast());
    add(Other.ANY_HIT_GOES_ON, anyHitRay && observed.isFound() && !observed.isLast());
    // The list that was closed has its first end, or its second, where the best surface is already.
    boolean there = spans[1] > 0 && (entry[1] == best || exit[1] == best);
    add(Other.TIE, found && there && best == observed.distance());
    long nearest = entry[1] > observed.start() ? entry[1] : exit[1];
    boolean tooFar = spans[1] > 0 && nearest >= observed.limit();
    add(Other.TOO_FAR, tooFar && nearest < highest && !observed.isFound());
    found = observed.isFound();
    best = observed.distance();
  }

  private void add(Other what, boolean met) {
    counts[PREDICTED + OTHER.get(what)] += met ? 1 : 0;
  }

  private int order(int left, int right) {
    if (spans[left] == 0 || spans[right] == 0) {
      return NONE_LEFT + (spans[right] > 0 ? 0 : spans[left] > 0 ? 1 : 2);
    }
    if (spans[left] > 1 || spans[right] > 1) {
      return SEVERAL;
    }
    if (exit[left] <= entry[right]) {
      return exit[left] < entry[right] ? 0 : 1;
    }
    if (exit[right] <= entry[left]) {
      return exit[right] < entry[left] ? 12 : 11;
    }
    int starts = Long.compare(entry[left], entry[right]);
    int ends = Long.compare(exit[left], exit[right]);
    return 2 + 3 * (starts + 1) + ends + 1; // overlaps, ends with, contains, and so on
  }

  /** What was counted since the last call, in the order of {@link #names}. */
  List<Long> take() {
    List<Long> taken = new ArrayList<>();
    for (int i = 0; i < counts.length; i++) {
      if (declared.get(i) != null) {
        taken.add(counts[i]);
      }
    }
    Arrays.fill(counts, 0);
    return taken;
  }

  /** The coverage points declared: those that can come up. */
  List<String> names() {
    return declared.stream().filter(name -> name != null).toList();
  }

  /** What each count is of; null where it cannot come up. */
  private List<String> declared() {
    List<String> names = new ArrayList<>();
    int length = executor.limits().length();
    boolean isShort = length >= SHORT;
    for (int first = 0; first < KINDS.length + 2; first++) {
      for (OperationKind then : KINDS) {
        names.add(isShort && canFollow(first, then) ? then + " " + afterWhat(first) : null);
      }
    }
    boolean combines = executor.limits().depth() > 1 && isShort;
    for (SpanOperator operator : SpanOperator.values()) {
      for (int order = 0; order < ORDERS.length; order++) {
        boolean there = combines && (order < SEVERAL || executor.spans() > 1);
        names.add(there ? operator + ", " + ORDERS[order] : null);
      }
    }
    boolean predicts = executor.timing() != null && length > 1; // a skip and an end
    for (int state = 0; state < 4; state++) {
      for (String outcome : List.of("not taken", "taken")) {
        boolean there = predicts && executor.timing().states() > state;
        names.add(there ? "predictor at " + state + ", skip " + outcome : null);
      }
    }
    for (Other other : Other.values()) {
      names.add(isPossible(other, combines) ? other.words : null);
    }
    return names;
  }

  private boolean isPossible(Other other, boolean combines) {
    int length = executor.limits().length();
    int spans = executor.spans();
    int depth = executor.limits().depth();
    return switch (other) {
      case DROPPED -> combines && length >= 2 * spans + 4;
      case FULL_LIST -> spans == 1 ? length >= 4 : combines && length >= 2 * spans + 2;
      case DEEPEST -> length >= 2 * depth + 2;
      case TURNED -> combines;
      case OPEN_ENTRY -> !executor.rules().clipsAtStart() && length >= 4;
      case CLIPPED -> executor.rules().clipsAtStart() && length >= 4;
      case TOO_FAR -> limited && length >= 4;
      case PASSED_LIMIT -> limited && passesOver() && length >= 5;
      case PASSED_BEST -> passesOver() && length >= 5;
      case OPEN_EXIT, INWARD -> length >= 4;
      case TIE -> length >= SHORT;
      case ANY_HIT_STOPS -> anyHit && length >= 4;
      case ANY_HIT_GOES_ON -> anyHit && !executor.rules().limitsEveryRay() && length >= 4;
      case LONG -> executor.timing() != null && surelyWaits(length) >= LONG_RAY;
      case LOW_X, HIGH_X, LOW_Y, HIGH_Y, LOW_Z, HIGH_Z -> length >= 4;
      case TAG_AGAIN -> tagged;
      case ABORTED -> aborts;
      case LAST_WORD, NO_HIT -> true;
    };
  }

  /** Whether constructed boxes lie far enough away. */
  private boolean passesOver() {
    int margin = executor.rules().passingMargin();
    long apart = DirectedScenes.apart(executor.formats(), executor.spans());
    return margin != RayRules.NEVER && margin < apart;
  }

  /**
   * Cycles that the longest constructed ray takes at least: half of its skips are mispredicted,
   * where each is learnt of before the next one with its entry is predicted.
   */
  private long surelyWaits(int length) {
    Pace pace = executor.timing().pace();
    int back = pace.decision() + pace.redirection();
    boolean isLearnt =
        pace.decision() == 0
            || (long) executor.entries() * back >= pace.latency() + pace.learning();
    long skips = Math.min(length - 1, DirectedScenes.LONGEST);
    return isLearnt ? (skips - 6L * executor.entries()) / 2 * executor.timing().wrong() : 0;
  }

  private static String afterWhat(int first) {
    return first == FIRST
        ? "first of all"
        : first == AFTER_TAKEN
            ? "after skip taken"
            : "after " + KINDS[first] + (KINDS[first] == OperationKind.SKIP ? " not taken" : "");
  }

  private boolean canFollow(int first, OperationKind then) {
    boolean between =
        first >= KINDS.length
            || KINDS[first] == OperationKind.CLOSE
            || KINDS[first] == OperationKind.SKIP;
    boolean outside =
        then == OperationKind.BEGIN || then == OperationKind.SKIP || then == OperationKind.END;
    if (between || outside) {
      return between && outside;
    }
    if (KINDS[first] == OperationKind.END) {
      return false;
    }
    int depth = executor.limits().depth();
    if (KINDS[first] == OperationKind.BEGIN) {
      return then.isSolid();
    }
    if (then == OperationKind.CLOSE) {
      return depth > 1 || !KINDS[first].isCombination();
    }
    // After a combination of two there is one list; to combine again there has to be a third.
    boolean needsThree = KINDS[first].isCombination() && then.isCombination();
    return depth > (needsThree ? 2 : 1);
  }
}
