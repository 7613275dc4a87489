package dev.plumbline.models.traversal;

import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.span.Distances;
import dev.plumbline.models.span.SpanList;
import dev.plumbline.models.span.SpanOperator;
import java.util.function.Consumer;

/**
 * Runs scene programs for rays, operation by operation, and reports each as it retires.
 *
 * <pre>{@code
 * Traversal traversal = Traversal.exact(SceneUnits.of(formats), 4);
 * traversal.run(program, rays, 0, 100, null, retirement -> {
 *   if (retirement.isLast()) { ... retirement.distance() ... }
 * });
 * }</pre>
 *
 * <p>Spans of all a program's solids are found beforehand, some thousand cases at a time; what is
 * skipped is found and not used. A traversal belongs to one thread and allocates nothing for a ray.
 */
public final class Traversal {
  private static final int MOST_AGAIN = 16;

  private final SolidBlock solids;
  private final Distances distances;
  private final int spans;
  private final Retirement state;
  private final RayRules rules;
  private final Alteration altered;
  private long startBefore; // of the ray before
  private long limitBefore;
  private boolean wasAnyHit;
  private int again; // how often the skip at hand was done again

  private Traversal(
      SceneUnits units,
      Distances distances,
      int spans,
      SolidBlock.Maker maker,
      RayRules rules,
      Alteration altered) {
    this.rules = rules;
    this.altered = altered;
    this.solids = new SolidBlock(units, maker, 1);
    this.distances = distances;
    this.spans = spans;
    this.state = new Retirement(distances);
  }

  /**
   * A traversal in bits by {@link RayRules#standard}.
   *
   * @param units that find spans
   * @param spans most spans of a list
   * @return a traversal whose distances are word codes
   */
  public static Traversal exact(SceneUnits units, int spans) {
    return exact(units, spans, RayRules.standard());
  }

  /**
   * A traversal in bits.
   *
   * @param units that find spans
   * @param spans most spans of a list
   * @param rules of start and limit
   * @return a traversal whose distances are word codes
   */
  public static Traversal exact(SceneUnits units, int spans, RayRules rules) {
    return altered(units, spans, rules, Alteration.NONE);
  }

  /**
   * A traversal in bits that does one thing otherwise.
   *
   * @param units that find spans
   * @param spans most spans of a list
   * @param rules of start and limit
   * @param altered what is otherwise
   * @return a traversal whose distances are word codes
   */
  public static Traversal altered(SceneUnits units, int spans, RayRules rules, Alteration altered) {
    Distances codes = Distances.codes(units.formats().word());
    int less = altered == Alteration.SPAN_LESS && spans > 1 ? 1 : 0;
    int more = altered == Alteration.SPAN_MORE ? 1 : 0;
    SolidBlock.Maker maker = SolidColumns::bits;
    if (altered == Alteration.MISS_COUNTS || altered == Alteration.NEGATIVE_RADIUS_COUNTS) {
      maker = SolidColumns::bitsWhetherMet;
    }
    return new Traversal(units, codes, spans - less + more, maker, rules, altered);
  }

  /**
   * A traversal in reals by {@link RayRules#standard}.
   *
   * @param units whose ideals are meant
   * @return a traversal whose distances are {@link Distances#reals}
   */
  public static Traversal ideal(SceneUnits units) {
    return ideal(units, RayRules.standard());
  }

  /**
   * A traversal in reals: the mathematics, with as many spans as there are.
   *
   * @param units whose ideals are meant
   * @param rules of start and limit
   * @return a traversal whose distances are {@link Distances#reals}
   */
  public static Traversal ideal(SceneUnits units, RayRules rules) {
    Distances reals = Distances.reals();
    return new Traversal(
        units,
        reals,
        0,
        (unit, capacity) -> SolidColumns.ideal(unit, capacity, reals),
        rules,
        Alteration.NONE);
  }

  /**
   * Runs a program for rays.
   *
   * @param program of the units' formats
   * @param rays of the same formats
   * @param from the first ray
   * @param count how many
   * @param timing counts the cycles; null for none
   * @param observer receives each retirement, in order
   */
  public void run(
      Program program,
      Rays rays,
      int from,
      int count,
      ExecutorTiming timing,
      Consumer<Retirement> observer) {
    prepare(program);
    solids.run(
        program,
        rays,
        from,
        count,
        (ray, base) -> walk(program, rays, ray, solids.ends(0), base, timing, observer));
  }

  /**
   * What is known of the solids and skips of a program before they retire, whether a ray comes to
   * them or not; of the ray that was run last.
   *
   * @param program of the units' formats
   * @param rays of the same formats
   * @param ray which of them
   * @param observer receives each solid and skip, in the order of addresses
   */
  public void foresee(Program program, Rays rays, int ray, Consumer<Foreseen> observer) {
    solids.run(
        program,
        rays,
        ray,
        1,
        (same, base) -> {
          EndColumns ends = solids.ends(0);
          for (int address = 0; address < program.length(); address++) {
            OperationKind kind = program.at(address).kind();
            int at = base + address;
            if (kind == OperationKind.SKIP) {
              decide(ends.entry[at], !ends.hit[at]);
            }
            if (kind == OperationKind.SKIP || kind.isSolid()) {
              boolean empty = ends.isEmpty(at, program.at(address), altered);
              observer.accept(ends.foreseen(address, at, empty, state.skipEarly));
            }
          }
        });
  }

  /** Forgets what an alteration keeps from ray to ray, as a reset does. */
  public void reset() {
    state.overflow = false;
    state.found = false;
    wasAnyHit = false;
    startBefore = 0;
    limitBefore = 0;
  }

  private boolean is(Alteration other) {
    return altered == other;
  }

  /** Makes enough lists for a program. */
  void prepare(Program program) {
    int wanted = spans == 0 ? program.length() : spans;
    int depth = program.limits().depth();
    if (state.stack.length >= depth && state.stack[0].capacity() >= wanted) {
      return;
    }
    state.stack = new SpanList[depth];
    for (int i = 0; i < depth; i++) {
      state.stack[i] = SpanList.of(distances, wanted);
    }
  }

  private long distance(Rays rays, String name, int ray) {
    long code = rays.column(name)[ray];
    return spans == 0 ? distances.of(code * solids.formats().word().lsbs()) : code;
  }

  /** One ray by given ends, those of address 0 at the base. */
  void walk(
      Program program,
      Rays rays,
      int ray,
      EndColumns ends,
      int base,
      ExecutorTiming timing,
      Consumer<Retirement> observer) {
    Retirement s = state;
    s.program = program;
    s.ray = ray;
    s.anyHit = rays.column("any_hit")[ray] == 1;
    s.tag = rays.column("tag")[ray];
    s.height = 0;
    if (!is(Alteration.BEST_KEPT)) {
      s.found = false;
      s.distance = 0;
      s.surface = 0;
      s.reversed = false;
      s.inward = false;
    }
    s.overflow &= is(Alteration.OVERFLOW_KEPT);
    s.last = false;
    s.cycle = -1;
    long start = distance(rays, "start", ray);
    long limit = distance(rays, "limit", ray);
    boolean anyHit = s.anyHit;
    if (altered != Alteration.NONE) {
      long ownStart = start;
      long ownLimit = limit;
      boolean own = anyHit;
      boolean kept = is(Alteration.START_KEPT_FROM_ANY_HIT) && wasAnyHit;
      start = kept || is(Alteration.START_KEPT) ? startBefore : start;
      limit = is(Alteration.LIMIT_KEPT) ? limitBefore : limit;
      limit = is(Alteration.LIMIT_IGNORED) ? Long.MAX_VALUE : limit;
      anyHit |= is(Alteration.ANY_HIT_ALWAYS) || (is(Alteration.ANY_HIT_KEPT) && wasAnyHit);
      s.anyHit |= anyHit; // of its result, too
      anyHit &= !is(Alteration.ANY_HIT_IGNORED);
      startBefore = kept ? startBefore : ownStart;
      limitBefore = ownLimit;
      wasAnyHit = own || (is(Alteration.ANY_HIT_KEPT) && wasAnyHit);
    }
    if (rules.clipsAtStart() && !is(Alteration.START_BELOW_ZERO)) {
      start = Math.max(start, distances.of(0));
    }
    s.start = start;
    s.limit = limit;
    limit += is(Alteration.LIMIT_INCLUDED) ? 1 : 0; // of surfaces
    limit = is(Alteration.LIMIT_OF_BOXES_ALONE) ? Long.MAX_VALUE : limit;
    boolean isOpen = is(Alteration.OPEN_ENDS_COUNT) && limit >= distances.highest();
    limit = isOpen ? Long.MAX_VALUE : limit; // or no open end could count
    long beyond = is(Alteration.START_INCLUDED) ? start - 1 : start;
    long counted = rules.limitsEveryRay() ? limit : Long.MAX_VALUE;
    if (timing != null) {
      timing.accept();
    }
    int address = 0;
    int following = 1;
    again = 0;
    while (!s.last) {
      Operation operation = program.at(address);
      OperationKind kind = operation.kind();
      s.address = address;
      s.operation = operation;
      s.boxMissed = false;
      s.skipEarly = false;
      s.skipTaken = false;
      s.cost = 1;
      if (kind.isSolid()) {
        push(ends, base + address, address, start);
        if (is(Alteration.LIST_LESS) && s.height == program.limits().depth()) {
          s.stack[0].clear();
        }
      } else if (kind.isCombination()) {
        SpanList left = list(s.height - 2);
        s.cost += combine(kind.operator(), left, list(s.height - 1));
        s.height = Math.max(0, s.height - 1);
        s.overflow = (s.overflow && !is(Alteration.OVERFLOW_FORGOTTEN)) || left.overflowed();
        s.overflow &= !is(Alteration.OVERFLOW_NEVER);
      } else if (kind == OperationKind.CLOSE) {
        boolean before = s.found;
        // What an earlier object gave is no nearer than the limit, or it had ended the ray.
        boolean isMet = s.offer(list(s.height - 1), beyond, counted, altered) < limit;
        s.height = Math.max(0, s.height - 1);
        s.last = anyHit && isMet && (before || !is(Alteration.ANY_HIT_AFTER_ANOTHER));
        s.last |= is(Alteration.NEAREST_ENDS_AFTER_ANOTHER) && before && isMet;
      } else if (kind == OperationKind.SKIP) {
        decide(ends.entry[base + address], !ends.hit[base + address]);
      } else {
        s.last = kind == OperationKind.END;
      }
      if (timing != null) {
        s.cycle = retire(kind, timing);
      }
      observer.accept(s);
      if (is(Alteration.NEXT_BEFORE_THE_TARGET) && timing != null) {
        int next = following; // what was under way already, unless the way was a wrong one
        boolean foretold = kind == OperationKind.SKIP && timing.hasPredictedTaken();
        boolean turned =
            kind == OperationKind.SKIP && (foretold != s.skipEarly || s.skipEarly != s.skipTaken);
        next = turned ? (s.skipTaken ? operation.target() : address + 1) : next;
        following = foretold && !turned ? operation.target() : next + 1;
        address = next;
      } else {
        address = after(program, operation, timing);
      }
      if (is(Alteration.OVERFLOW_FORGOTTEN)) {
        s.overflow = false;
        for (int at = 0; at < s.height; at++) {
          s.stack[at].forgetOverflow();
        }
      }
    }
  }

  /** The address of the next operation. */
  private int after(Program program, Operation operation, ExecutorTiming timing) {
    if (state.skipTaken) {
      return target(program, operation);
    }
    boolean repeats =
        is(Alteration.SKIP_AGAIN)
            && timing != null
            && operation.kind() == OperationKind.SKIP
            && timing.hasPredictedTaken()
            && again < MOST_AGAIN; // where nothing is learnt it would never end
    again = repeats ? again + 1 : 0;
    return repeats ? state.address : state.address + 1;
  }

  private long retire(OperationKind kind, ExecutorTiming timing) {
    return switch (kind) {
      case SKIP -> timing.retireSkip(state.address, state.skipEarly, state.skipTaken);
      case CLOSE -> timing.retireClose();
      default -> timing.retire(state.cost);
    };
  }

  /** A list of the stack; one that is empty where an alteration has left out to push one. */
  private SpanList list(int at) {
    return at < 0 ? state.stack[state.stack.length - 1].clear() : state.stack[at];
  }

  /** Whether a skip is taken whose box is entered at a distance, or missed. */
  private void decide(long entry, boolean missed) {
    Retirement s = state;
    boolean passes = rules.passesOver();
    boolean byLimit = passes && rules.limitsEveryRay() && !is(Alteration.LIMIT_PASSES_NOTHING);
    boolean byBest = passes && s.found && !is(Alteration.BEST_PASSES_NOTHING);
    int margin = is(Alteration.MARGINS_LEFT_OUT) ? 0 : rules.passingMargin();
    int ofLimit = is(Alteration.LIMIT_MARGIN_LEFT_OUT) ? 0 : margin;
    int ofBest = is(Alteration.BEST_MARGIN_LEFT_OUT) ? 0 : margin;
    boolean tooFar =
        byLimit && isBeyond(entry, s.limit, ofLimit, is(Alteration.LIMIT_REACH_INCLUDED));
    boolean hidden =
        byBest && isBeyond(entry, s.distance, ofBest, is(Alteration.BEST_REACH_INCLUDED));
    s.boxMissed = missed;
    s.skipEarly =
        switch (altered) {
          case SKIP_NEVER -> false;
          case SKIP_ALWAYS -> true;
          case SKIP_INVERTED -> !(missed || tooFar);
          default -> missed || tooFar;
        };
    s.skipTaken = s.skipEarly || (hidden && !is(Alteration.SKIP_NEVER));
  }

  /** Whether a box is entered farther than a distance by more than a margin, or just by it. */
  private boolean isBeyond(long entry, long distance, int margin, boolean included) {
    if (spans == 0) {
      double reach = distances.toReal(distance) + margin * solids.formats().word().lsbs();
      return distances.toReal(entry) > reach;
    }
    // Their difference may not fit; as an unsigned number it does.
    int more = Long.compareUnsigned(entry - distance, margin);
    return included ? entry >= distance && more >= 0 : entry > distance && more > 0;
  }

  /** Puts the span of a solid on the stack. */
  private void push(EndColumns ends, int index, int address, long start) {
    boolean clips = rules.clipsAtStart() && !is(Alteration.CLIP_LEFT_OUT);
    boolean behind = clips && ends.entry[index] < start;
    int entryFace = ends.entryFace[index];
    int exitFace = ends.exitFace[index];
    int entrySurface =
        SurfaceNumber.of(address, is(Alteration.FACE_OF_THE_EXIT) ? exitFace : entryFace);
    int exitSurface =
        SurfaceNumber.of(address, is(Alteration.FACE_OF_THE_ENTRY) ? entryFace : exitFace);
    SpanList pushed = state.stack[state.height++];
    pushed.set(
        behind ? start : ends.entry[index],
        ends.exit[index],
        is(Alteration.SURFACE_OF_THE_ENTRY_LEFT_OUT) ? 0 : entrySurface,
        is(Alteration.SURFACE_OF_THE_EXIT_LEFT_OUT) ? 0 : exitSurface);
    if (altered != Alteration.NONE) {
      touch(pushed, ends, index, start, entrySurface, exitSurface);
    }
    if (is(Alteration.EMPTY_NOT_PUSHED) && pushed.count() == 0) {
      state.height--;
    }
  }

  /** Spans of no length, and those that a sign takes away. */
  private void touch(SpanList pushed, EndColumns ends, int index, long start, int into, int outOf) {
    long exit = ends.exit[index];
    boolean isAhead = !rules.clipsAtStart() || exit > start;
    if (ends.isEmpty(index, state.operation, altered)) {
      pushed.clear();
    } else if ((ends.entry[index] == exit && isAhead)
        || (is(Alteration.END_AT_THE_START_STAYS) && exit == start)) {
      pushed.touch(exit, into, outOf);
    }
  }

  private int target(Program program, Operation skip) {
    int later = is(Alteration.TARGET_LATER) ? 1 : 0;
    return Math.min(skip.target() + later, program.length() - 1);
  }

  /** Puts the combination of two lists in the place of the left one; gives its further cost. */
  private int combine(SpanOperator operator, SpanList left, SpanList right) {
    if (is(Alteration.EMPTY_EMPTIES) && (left.count() == 0 || right.count() == 0)) {
      left.clear();
      return 0;
    }
    SpanOperator applied =
        switch (altered) {
          case UNION_AS_INTERSECTION ->
              other(operator, SpanOperator.UNION, SpanOperator.INTERSECTION);
          case UNION_AS_DIFFERENCE -> other(operator, SpanOperator.UNION, SpanOperator.DIFFERENCE);
          case INTERSECTION_AS_UNION ->
              other(operator, SpanOperator.INTERSECTION, SpanOperator.UNION);
          case INTERSECTION_AS_DIFFERENCE ->
              other(operator, SpanOperator.INTERSECTION, SpanOperator.DIFFERENCE);
          case DIFFERENCE_AS_UNION -> other(operator, SpanOperator.DIFFERENCE, SpanOperator.UNION);
          case DIFFERENCE_AS_INTERSECTION ->
              other(operator, SpanOperator.DIFFERENCE, SpanOperator.INTERSECTION);
          default -> operator;
        };
    return is(Alteration.OPERANDS_EXCHANGED)
        ? left.combine(applied, right, left)
        : left.combine(applied, left, right);
  }

  private static SpanOperator other(SpanOperator given, SpanOperator from, SpanOperator to) {
    return given == from ? to : given;
  }
}
