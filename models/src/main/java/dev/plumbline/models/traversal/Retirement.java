package dev.plumbline.models.traversal;

import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.span.Distances;
import dev.plumbline.models.span.SpanList;
import java.util.Objects;

/**
 * The state of an executor when an operation retires; one object that a traversal fills again and
 * again, valid during the call that hands it out.
 */
public final class Retirement {
  final Distances distances;
  private final SpanList nothing;
  SpanList[] stack = new SpanList[0];
  Program program;
  int ray;
  boolean anyHit;
  long start;
  long limit;
  long tag;
  int address;
  Operation operation;
  boolean boxMissed;
  boolean skipEarly;
  boolean skipTaken;
  int height;
  int cost;
  long cycle;
  boolean last;
  boolean overflow;
  boolean found;
  long distance;
  int surface;
  boolean reversed;
  boolean inward;
  private int closedEnd = -1;
  private boolean closedInward;
  private boolean replaced;

  Retirement(Distances distances) {
    this.distances = distances;
    this.nothing = SpanList.of(distances, 1);
  }

  /**
   * Which ray.
   *
   * @return index in the columns
   */
  public int ray() {
    return ray;
  }

  /**
   * Whether the ray ends at any surface.
   *
   * @return as the ray says
   */
  public boolean isAnyHit() {
    return anyHit;
  }

  /**
   * What surfaces have to lie beyond.
   *
   * @return a number of the traversal's {@link Distances}; 0 or more where {@link
   *     RayRules#clipsAtStart}
   */
  public long start() {
    return start;
  }

  /**
   * The ray's limit.
   *
   * @return a number of the traversal's {@link Distances}
   */
  public long limit() {
    return limit;
  }

  /**
   * What the ray brings along for its result.
   *
   * @return as the ray says
   */
  public long tag() {
    return tag;
  }

  /**
   * Which operation by address.
   *
   * @return from 0
   */
  public int address() {
    return address;
  }

  /**
   * Which operation.
   *
   * @return the program's
   */
  public Operation operation() {
    return operation;
  }

  /**
   * Whether it was a skip that is taken: its box was missed, or it lies too far away by {@link
   * RayRules#passingMargin}.
   *
   * @return true when the next operation is the target
   */
  public boolean isSkipTaken() {
    return skipTaken;
  }

  /**
   * Whether it was a skip whose box was missed.
   *
   * @return by the box alone, its margin included
   */
  public boolean isBoxMissed() {
    return boxMissed;
  }

  /**
   * Whether it was a skip that is taken whatever was found: its box was missed, or lies beyond the
   * limit.
   *
   * @return what is known before it retires
   */
  public boolean isTakenEarly() {
    return skipEarly;
  }

  /**
   * The top list after it.
   *
   * @return an empty list when the stack is empty
   */
  public SpanList top() {
    return height == 0 ? nothing : stack[height - 1];
  }

  /**
   * A list on the stack after it.
   *
   * @param place 0 for the lowest, to {@link #height}, exclusive
   * @return that list
   */
  public SpanList list(int place) {
    return stack[Objects.checkIndex(place, height)];
  }

  /**
   * Lists on the stack after it.
   *
   * @return 0 or more
   */
  public int height() {
    return height;
  }

  /**
   * Cycles its retirement takes by its lists: 1, and 1 for each different distance of a
   * combination's ends.
   *
   * @return 1 or more
   */
  public int cost() {
    return cost;
  }

  /**
   * The last cycle of its retirement, counted from the ray's acceptance.
   *
   * @return -1 for a traversal without timing
   */
  public long cycle() {
    return cycle;
  }

  /**
   * Whether the ray is finished with it.
   *
   * @return true for an end, and for a close that found any hit
   */
  public boolean isLast() {
    return last;
  }

  /**
   * Whether spans were dropped anywhere on the ray's way so far.
   *
   * @return true until the next ray
   */
  public boolean hasOverflowed() {
    return overflow;
  }

  /**
   * Whether a surface was found so far; the others mean something only then.
   *
   * @return true after the first
   */
  public boolean isFound() {
    return found;
  }

  /**
   * The distance of the nearest surface so far.
   *
   * @return a number of the traversal's {@link Distances}
   */
  public long distance() {
    return distance;
  }

  /**
   * The number of that surface, which {@link SurfaceNumber} takes apart.
   *
   * @return its solid and face
   */
  public int surface() {
    return surface;
  }

  /**
   * Its material.
   *
   * @return as the program gives it
   */
  public int material() {
    return SurfaceNumber.material(surface, program);
  }

  /**
   * The material of an end of the top list.
   *
   * @param end 0 to twice the count, exclusive
   * @return as the program gives it
   */
  public int material(int end) {
    return SurfaceNumber.material(top().surface(end), program);
  }

  /**
   * Whether it belongs to a solid that was cut away.
   *
   * @return true when its normal is reversed
   */
  public boolean isReversed() {
    return reversed;
  }

  /**
   * Whether the ray leaves the object there.
   *
   * @return true when it is an exit
   */
  public boolean isInward() {
    return inward;
  }

  /**
   * Of a close, the end of the list it takes down that is the object's surface.
   *
   * @return index in that list; -1 where no end counts
   */
  public int closedEnd() {
    return closedEnd;
  }

  /**
   * Of a close whose object has a surface, whether the ray leaves the object there.
   *
   * @return as {@link #isInward} would have it, were that surface the nearest
   */
  public boolean isClosedInward() {
    return closedInward;
  }

  /**
   * Of a close, whether its object's surface is the nearest so far.
   *
   * @return true when it takes the place of an earlier one, or is the first
   */
  public boolean isNearer() {
    return replaced;
  }

  /**
   * Keeps an object's nearest surface before a limit when it is strictly nearer; gives how far the
   * object's own is, the highest number where it has none.
   */
  long offer(SpanList list, long start, long limit, Alteration altered) {
    int end =
        altered == Alteration.OPEN_ENDS_COUNT
            ? firstBeyond(list, start)
            : list.nearestBeyond(start);
    closedEnd = -1;
    closedInward = false;
    replaced = false;
    if (end < 0 || list.distance(end) >= limit) {
      return Long.MAX_VALUE; // those behind it are farther
    }
    closedEnd = end;
    closedInward = (end & 1) == (altered == Alteration.INWARD_INVERTED ? 0 : 1);
    boolean last = altered == Alteration.LAST_IS_KEPT;
    boolean tie = altered == Alteration.TIE_TO_THE_LATER && found && list.distance(end) == distance;
    replaced = last || tie || !found || list.distance(end) < distance;
    if (replaced) {
      found = true;
      distance = list.distance(end);
      surface = list.surface(end);
      reversed = list.isReversed(end);
      inward = closedInward;
    }
    return list.distance(end);
  }

  /** The first end beyond a start, open or not; -1 where there is none. */
  private static int firstBeyond(SpanList list, long start) {
    int end = 0;
    while (end < 2 * list.count() && list.distance(end) <= start) {
      end++;
    }
    return end < 2 * list.count() ? end : -1;
  }

  private String name(int of) {
    String face = SurfaceNumber.faceText(of, program);
    return "m" + SurfaceNumber.material(of, program) + (face.isEmpty() ? "" : " " + face);
  }

  /** Address, operation, list, best hit and cycle on one line. */
  @Override
  public String toString() {
    return "ray "
        + ray
        + ", "
        + address
        + " "
        + operation
        + (skipTaken ? " taken" : "")
        + ": "
        + top().text(this::name)
        + ", height "
        + height
        + (found
            ? ", best "
                + distances.toReal(distance)
                + " "
                + name(surface)
                + (reversed ? "'" : "")
                + (inward ? " inward" : "")
            : ", no hit")
        + (overflow ? ", overflow" : "")
        + (cycle < 0 ? "" : ", cycle " + cycle);
  }
}
