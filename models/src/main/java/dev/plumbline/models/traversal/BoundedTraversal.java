package dev.plumbline.models.traversal;

import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.span.Distances;
import dev.plumbline.models.span.SpanList;
import java.util.Arrays;
import java.util.function.Consumer;

/**
 * What executors of unknown micro-architecture may find for rays, given bounds of their units: the
 * bounded level of a whole traversal.
 *
 * <pre>{@code
 * BoundedTraversal bounded = BoundedTraversal.of(SceneUnits.budgeted(formats), 2);
 * bounded.run(program, rays, 0, 100, hits -> {
 *   boolean right =
 *       found
 *           ? hits.admits(distance, address, face, reversed, inward)
 *           : hits.isMissAdmissible();
 * });
 * }</pre>
 *
 * <p>Each end of each solid may lie anywhere in its interval, whatever the others do; a sphere
 * whose silhouette is open may be missed, and a span without length is empty. All that follows is
 * as {@link SpanList} and {@link Traversal} have it, ties included: two ends coincide only where
 * both intervals allow it, and then the left one's surface is seen; of two objects at one distance
 * the earlier is seen. A result is admissible when some choice gives it, and no other is, but that
 * a distance at either end of an interval always counts: hardware may compare more precisely than a
 * word holds, and round what it puts out.
 *
 * <p>Ends in different places are independent even where two operations are the same solid. Lists
 * are taken to hold all spans. A skip is open where its box is neither hit without any margin nor
 * missed by more than the greatest, and where it may lie beyond the limit or what was found.
 *
 * <p>A ray that takes any hit ends where {@link Traversal} ends it, so that it may see a surface
 * beyond another, but none beyond its limit when there has to be one before. Where every ray is
 * limited, none beyond it is seen at all; clipping at the start changes no surface.
 *
 * <p>It belongs to one thread and allocates nothing for a ray.
 */
public final class BoundedTraversal {
  private static final long NOWHERE = Long.MIN_VALUE;
  private final SolidBlock solids;
  private final RayRules rules;
  private final AdmissibleHits hits;
  private final ObjectSearch search;
  private Program program;
  private EndColumns low;
  private EndColumns high;
  private boolean[] reversed = new boolean[0];
  private int[] closes = new int[0]; // by address of a begin
  private long[] farthest = new long[0]; // by address of a begin: what its object allows

  // By address between objects: the farthest surface that still may be seen, for all that the way
  // there allows, and for all that the way on from there allows.
  private long[] before = new long[0];
  private long[] after = new long[0];
  private long[] taken = new long[0]; // by address of a skip: the same where it is taken

  private BoundedTraversal(SceneUnits units, int margin, RayRules rules) {
    this.rules = rules;
    Distances codes = Distances.codes(units.formats().word());
    this.solids =
        new SolidBlock(units, (unit, capacity) -> SolidColumns.bounds(unit, capacity, margin), 2);
    this.hits = new AdmissibleHits(codes);
    this.search = new ObjectSearch(codes);
  }

  /**
   * A traversal in bounds by {@link RayRules#standard}.
   *
   * @param units whose bounds are meant, as {@link SceneUnits#budgeted}
   * @param margin the most that an executor takes a culling box to be deeper, in LSB of a word; 0
   *     or more
   * @return a traversal whose distances are word codes
   * @throws IllegalArgumentException when the margin is negative
   */
  public static BoundedTraversal of(SceneUnits units, int margin) {
    return of(units, margin, RayRules.standard());
  }

  /**
   * A traversal in bounds.
   *
   * @param units whose bounds are meant, as {@link SceneUnits#budgeted}
   * @param margin the most that an executor takes a culling box to be deeper, in LSB of a word; 0
   *     or more
   * @param rules of start and limit
   * @return a traversal whose distances are word codes
   * @throws IllegalArgumentException when the margin is negative
   */
  public static BoundedTraversal of(SceneUnits units, int margin, RayRules rules) {
    if (margin < 0) {
      throw new IllegalArgumentException(
          "Bounded traversal with a margin of " + margin + " LSB: it has to be 0 or more.");
    }
    return new BoundedTraversal(units, margin, rules);
  }

  /**
   * Runs a program for rays.
   *
   * @param of a program of the units' formats
   * @param rays of the same formats
   * @param from the first ray
   * @param count how many
   * @param observer receives what each ray may find, in order
   * @throws IllegalArgumentException when formats differ, or a box's faces are not in order
   */
  public void run(Program of, Rays rays, int from, int count, Consumer<AdmissibleHits> observer) {
    prepare(of, solids.ends(0), solids.ends(1));
    solids.run(of, rays, from, count, (ray, base) -> observer.accept(walk(rays, ray, base)));
  }

  /** Finds objects and their closes, and which solids are reversed. */
  void prepare(Program of, EndColumns least, EndColumns greatest) {
    search.prepare(of, least, greatest);
    low = least;
    high = greatest;
    if (of.equals(program)) {
      return;
    }
    program = null; // until every operation is found right
    int length = of.length();
    reversed = new boolean[length];
    closes = new int[length];
    farthest = new long[length];
    before = new long[length];
    after = new long[length];
    taken = new long[length];
    int[] firsts = new int[of.limits().depth()];
    int height = 0;
    int begun = 0;
    for (int address = 0; address < length; address++) {
      OperationKind kind = of.at(address).kind();
      requireOrder(of.at(address), address);
      if (kind == OperationKind.BEGIN) {
        begun = address;
        height = 0;
      } else if (kind == OperationKind.CLOSE) {
        closes[begun] = address;
      } else if (kind.isSolid()) {
        firsts[height++] = address;
      } else if (kind.isCombination()) {
        height--;
        for (int i = firsts[height]; kind == OperationKind.DIFFERENCE && i < address; i++) {
          reversed[i] = !reversed[i];
        }
      }
    }
    program = of;
  }

  /**
   * Hardware may put crossed faces in order or find nothing between them; bounds are of neither.
   */
  private static void requireOrder(Operation box, int address) {
    boolean isBox = box.kind() == OperationKind.BOX || box.kind() == OperationKind.SKIP;
    for (int axis = 0; isBox && axis < 3; axis++) {
      if (box.operand(axis) > box.operand(axis + 3)) {
        throw new IllegalArgumentException(
            "Bounds of \""
                + box
                + "\" at address "
                + address
                + ": "
                + box.kind().operands().get(axis)
                + " is above "
                + box.kind().operands().get(axis + 3)
                + ", which executors take one way or another; put the faces in order.");
      }
    }
  }

  /** One ray by the ends that {@link #prepare} took, those of address 0 at the base. */
  AdmissibleHits walk(Rays rays, int ray, int base) {
    hits.clear(program, reversed, ray, low, base);
    boolean anyHit = rays.column("any_hit")[ray] == 1;
    long limit = rays.column("limit")[ray];
    long start = rays.column("start")[ray];
    forwards(base, rules.clipsAtStart() ? Math.max(0, start) : start, limit, anyHit);
    backwards();
    if (rules.limitsEveryRay()) {
      hits.missAdmissible = after[0] >= limit;
      keepNearer(limit, anyHit);
    } else {
      hits.missAdmissible = after[0] == ObjectSearch.NEVER;
      keep(anyHit ? limit : NOWHERE);
    }
    return hits;
  }

  private void forwards(int base, long start, long limit, boolean anyHit) {
    Arrays.fill(before, NOWHERE);
    before[0] = ObjectSearch.NEVER;
    for (int address = 0; address < program.length(); address++) {
      Operation operation = program.at(address);
      long here = before[address];
      if (here == NOWHERE) {
        continue;
      }
      if (operation.kind() == OperationKind.SKIP) {
        search.skip(address, base, hits);
        passOver(address, high.entry[base + address], limit, anyHit);
        reach(operation.target(), Math.min(here, taken[address]));
        if (hits.mayPass(address)) {
          reach(address + 1, here);
        }
      } else if (operation.kind() == OperationKind.BEGIN) {
        int close = closes[address];
        farthest[address] = search.run(address, close, base, start, hits);
        reach(close + 1, Math.min(here, farthest[address]));
      }
    }
  }

  /**
   * How far a surface may be that is seen where a skip is taken: anywhere where its box may be
   * missed or lie beyond the limit, and before the box where that lies beyond what was found.
   */
  private void passOver(int skip, long entry, long limit, boolean anyHit) {
    taken[skip] = hits.mayTake(skip) ? ObjectSearch.NEVER : NOWHERE;
    if (hits.mayTake(skip) || !rules.passesOver()) {
      return;
    }
    if (rules.limitsEveryRay() && entry > limit) {
      taken[skip] = ObjectSearch.NEVER;
    } else if (!(anyHit && rules.limitsEveryRay())) {
      long found = rules.limitsEveryRay() ? Math.min(entry, limit) : entry;
      for (int hit = 0; hit < hits.count(); hit++) {
        taken[skip] = hits.least(hit) < found ? found - 1 : taken[skip];
      }
    }
    hits.mayTake[skip] = taken[skip] != NOWHERE;
  }

  private void reach(int address, long distance) {
    before[address] = Math.max(before[address], distance);
  }

  private void backwards() {
    for (int address = program.length() - 1; address >= 0; address--) {
      if (before[address] == NOWHERE) {
        continue;
      }
      Operation operation = program.at(address);
      switch (operation.kind()) {
        case END -> after[address] = ObjectSearch.NEVER;
        case SKIP ->
            after[address] =
                Math.max(
                    Math.min(after[operation.target()], taken[address]),
                    hits.mayPass(address) ? after[address + 1] : NOWHERE);
        default -> after[address] = Math.min(farthest[address], after[closes[address] + 1]);
      }
    }
  }

  /**
   * Leaves out what lies at the limit or beyond, and what lies beyond a surface that has to be seen
   * in its stead; an any-hit ray comes as far as nothing before the limit has to be there.
   */
  private void keepNearer(long limit, boolean anyHit) {
    int kept = 0;
    int begin = 0;
    for (int hit = 0; hit < hits.count(); hit++) {
      begin = begin(begin, hits.address(hit));
      long least = hits.least(hit);
      long earlier = before[begin];
      boolean seen = anyHit ? limit <= earlier : isSeen(hit, begin);
      if (seen && least < limit) {
        long most = anyHit ? limit : Math.min(limit, Math.min(earlier, after[closes[begin] + 1]));
        hits.keep(hit, kept++, Math.min(hits.greatest(hit), most));
      }
    }
    hits.truncate(kept);
  }

  /** The first object from a begin on that a solid may be in. */
  private int begin(int from, int address) {
    int begin = from;
    while (before[begin] == NOWHERE || closes[begin] < address) {
      begin++;
    }
    return begin;
  }

  /** Whether a hit may be nearer than the surfaces of other objects. */
  private boolean isSeen(int hit, int begin) {
    long least = hits.least(hit);
    long later = after[closes[begin] + 1];
    return least < before[begin]
        && (least < later || (least == later && hits.isLeastAttained(hit)));
  }

  /** Leaves out what lies beyond a surface that has to be seen in its stead. */
  private void keep(long limit) {
    int kept = 0;
    int begin = 0;
    for (int hit = 0; hit < hits.count(); hit++) {
      begin = begin(begin, hits.address(hit));
      long earlier = before[begin];
      boolean ends = hits.least(hit) < limit && limit <= earlier;
      if (ends || (isSeen(hit, begin) && limit <= earlier)) {
        long most = Math.max(limit, Math.min(earlier, after[closes[begin] + 1]));
        hits.keep(hit, kept++, Math.min(hits.greatest(hit), most));
      }
    }
    hits.truncate(kept);
  }
}
