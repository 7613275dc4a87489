package dev.plumbline.models.span;

import java.util.function.IntFunction;

/**
 * Where a ray is inside a solid: spans in ascending order, apart from each other, each end with the
 * number of the surface that is there. What a number stands for is the caller's: a solid, one of
 * its faces, a material.
 *
 * <pre>{@code
 * Distances codes = Distances.codes(Format.signed(16, 16));
 * SpanList disc = SpanList.of(codes, 4).set(65536, 131072, 7, 8);    // [1, 2), surfaces 7 and 8
 * SpanList hole = SpanList.of(codes, 4).set(98304, 98305, 9, 9);
 * int ends = disc.combine(SpanOperator.DIFFERENCE, disc, hole);      // two spans
 * int end = disc.nearestBeyond(0);                                   // 0, the entry at 1
 * }</pre>
 *
 * <p><b>Half open.</b> A span is [entry, exit) with entry below exit; one without length is empty,
 * so that a tangent leaves nothing. An entry at the lowest number and an exit at the highest are
 * open: the solid goes on for ever and no surface is there.
 *
 * <p><b>Combination.</b> All ends at one distance act together: membership of either solid just
 * before and just after gives that of the combination by the point rule of {@link SpanOperator},
 * and where it changes there is an end. Touching spans merge in a union, equal ends cancel. The
 * surface is the left list's end at that distance if there is one, otherwise the right's; what
 * comes from the right of a difference is reversed, since a solid that is cut away is seen from
 * inside (J. Buck, The Ray Tracer Challenge, 2019, ch. 16; the rule for ties is ours).
 *
 * <p><b>Capacity.</b> Once so many spans are complete, further entries are dropped with their exits
 * and {@link #overflowed} is set. A list belongs to one thread; nothing allocates but {@link #of}.
 */
public final class SpanList {
  /** The highest number of a surface. */
  public static final int MOST_SURFACE = (1 << 30) - 1;

  private final Distances distances;
  private final long lowest;
  private final long highest;
  private final int capacity;
  private final long[] at;
  private final int[] surface; // its number * 2 + reversed

  // Where a combination is put together, since the list itself may be an operand.
  private final long[] newAt;
  private final int[] newSurface;
  private int ends;
  private boolean overflowed;

  private SpanList(Distances distances, int capacity) {
    this.distances = distances;
    this.lowest = distances.lowest();
    this.highest = distances.highest();
    this.capacity = capacity;
    this.at = new long[2 * capacity];
    this.surface = new int[2 * capacity];
    this.newAt = new long[2 * capacity];
    this.newSurface = new int[2 * capacity];
  }

  /**
   * An empty list.
   *
   * @param distances what its numbers stand for
   * @param capacity most spans it holds, 1 or more
   * @return a list
   * @throws IllegalArgumentException when it should hold none
   */
  public static SpanList of(Distances distances, int capacity) {
    if (capacity < 1) {
      throw new IllegalArgumentException(
          "Span list for " + capacity + " spans: it has to hold 1 or more.");
    }
    return new SpanList(distances, capacity);
  }

  /**
   * Makes the list empty, with no overflow.
   *
   * @return this list
   */
  public SpanList clear() {
    ends = 0;
    overflowed = false;
    return this;
  }

  /**
   * Makes the list one solid's: one span, or none where it has no length.
   *
   * @param entry where the ray comes in
   * @param exit where it leaves
   * @param entrySurface number of the surface it comes in by, 0 to {@value #MOST_SURFACE}
   * @param exitSurface number of the one it leaves by
   * @return this list
   */
  public SpanList set(long entry, long exit, int entrySurface, int exitSurface) {
    clear();
    return add(entry, exit, entrySurface, exitSurface);
  }

  /**
   * Makes the list one span without length, as no solid has it: what a unit gives that takes a
   * tangent for a span.
   *
   * @param touch where the ray touches the solid
   * @param entrySurface number of the surface it would come in by, 0 to {@value #MOST_SURFACE}
   * @param exitSurface number of the one it would leave by
   * @return this list
   */
  public SpanList touch(long touch, int entrySurface, int exitSurface) {
    clear();
    at[0] = touch;
    surface[0] = 2 * entrySurface;
    at[1] = touch;
    surface[1] = 2 * exitSurface;
    ends = 2;
    return this;
  }

  /**
   * Adds a span beyond the last one; one without length adds nothing.
   *
   * @param entry where the ray comes in
   * @param exit where it leaves
   * @param entrySurface number of the surface it comes in by, 0 to {@value #MOST_SURFACE}
   * @param exitSurface number of the one it leaves by
   * @return this list
   * @throws IllegalArgumentException when it does not lie beyond the last span, or the list is full
   */
  public SpanList add(long entry, long exit, int entrySurface, int exitSurface) {
    if (entry >= exit) {
      return this;
    }
    if (ends == 2 * capacity || (ends > 0 && entry <= at[ends - 1])) {
      throw new IllegalArgumentException(
          "Span ["
              + entry
              + ", "
              + exit
              + ") after "
              + this
              + " of capacity "
              + capacity
              + ": it has to begin beyond the last span, and the list must not be full.");
    }
    at[ends] = entry;
    surface[ends++] = 2 * entrySurface;
    at[ends] = exit;
    surface[ends++] = 2 * exitSurface;
    return this;
  }

  /**
   * Makes the list a copy of another one's spans; the overflow of the other is kept.
   *
   * @param other of the same capacity or a smaller one
   * @return this list
   */
  public SpanList copy(SpanList other) {
    System.arraycopy(other.at, 0, at, 0, other.ends);
    System.arraycopy(other.surface, 0, surface, 0, other.ends);
    ends = other.ends;
    overflowed = other.overflowed;
    return this;
  }

  /**
   * Makes the list the combination of two.
   *
   * @param operator how
   * @param left a list of the same distances; may be this one
   * @param right another; may be this one
   * @return at how many different distances the two have ends, open ones included
   */
  public int combine(SpanOperator operator, SpanList left, SpanList right) {
    int i = 0;
    int j = 0;
    int made = 0;
    int walked = 0;
    boolean inside = false;
    boolean dropped = false;
    while (i < left.ends || j < right.ends) {
      long d = Math.min(left.at(i), right.at(j));
      boolean leftEnd = i < left.ends && left.at[i] == d;
      boolean rightEnd = j < right.ends && right.at[j] == d;
      int chosen = leftEnd ? left.surface[i] : right.surface[j];
      if (!leftEnd && operator == SpanOperator.DIFFERENCE) {
        chosen ^= 1;
      }
      i += leftEnd ? 1 : 0;
      j += rightEnd ? 1 : 0;
      walked++;
      boolean after = operator.contains((i & 1) == 1, (j & 1) == 1);
      if (after != inside) {
        inside = after;
        if (made == 2 * capacity) {
          dropped = true;
        } else {
          newAt[made] = d;
          newSurface[made++] = chosen;
        }
      }
    }
    boolean before = left.overflowed || right.overflowed;
    System.arraycopy(newAt, 0, at, 0, made);
    System.arraycopy(newSurface, 0, surface, 0, made);
    ends = made;
    overflowed = before || dropped;
    return walked;
  }

  private long at(int end) {
    return end < ends ? at[end] : Long.MAX_VALUE;
  }

  /**
   * The nearest surface beyond a start.
   *
   * @param start the surface has to lie strictly beyond
   * @return index of its end, or -1 when there is none
   */
  public int nearestBeyond(long start) {
    for (int end = 0; end < ends; end++) {
      if (at[end] > start && !isOpen(end)) {
        return end;
      }
    }
    return -1;
  }

  /**
   * How many spans there are.
   *
   * @return 0 to the capacity
   */
  public int count() {
    return ends / 2;
  }

  /**
   * Most spans the list can hold.
   *
   * @return as made
   */
  public int capacity() {
    return capacity;
  }

  /**
   * Whether spans were dropped because a list was full, here or in a list that this one was
   * combined of.
   *
   * @return true until {@link #clear}
   */
  public boolean overflowed() {
    return overflowed;
  }

  /** Takes the spans that are there for all there ever were: {@link #overflowed} is false. */
  public void forgetOverflow() {
    overflowed = false;
  }

  /**
   * Where an end is; end 2k is the entry of span k and end 2k + 1 its exit.
   *
   * @param end 0 to twice the count, exclusive
   * @return a distance
   */
  public long distance(int end) {
    return at[end];
  }

  /**
   * The number of the surface at an end; it means nothing where the end is open.
   *
   * @param end 0 to twice the count, exclusive
   * @return as given
   */
  public int surface(int end) {
    return surface[end] >> 1;
  }

  /**
   * Whether the surface at an end belongs to a solid that was cut away, so that its normal points
   * the other way.
   *
   * @param end 0 to twice the count, exclusive
   * @return after an odd number of cuts
   */
  public boolean isReversed(int end) {
    return (surface[end] & 1) == 1;
  }

  /**
   * Whether no surface is at an end since the solid goes on for ever.
   *
   * @param end 0 to twice the count, exclusive
   * @return true at the lowest and at the highest number
   */
  public boolean isOpen(int end) {
    return (end & 1) == 0 ? at[end] == lowest : at[end] == highest;
  }

  /** The spans in real units with their surfaces, a prime where reversed: [1.0 s7, 2.0 s8'). */
  @Override
  public String toString() {
    return text(surfaceAt -> "s" + surfaceAt);
  }

  /**
   * The spans in real units.
   *
   * @param surfaceNames what a surface's number is called
   * @return such as {@code [1.0 s7, 2.0 s8')}, with a prime where reversed, or {@code []}
   */
  public String text(IntFunction<String> surfaceNames) {
    StringBuilder text = new StringBuilder();
    for (int end = 0; end < 2 * count(); end += 2) {
      text.append(end == 0 ? "" : " ").append('[').append(describe(end, surfaceNames));
      text.append(", ").append(describe(end + 1, surfaceNames)).append(')');
    }
    return text.isEmpty() ? "[]" : text.toString();
  }

  private String describe(int end, IntFunction<String> surfaceNames) {
    return isOpen(end)
        ? "open"
        : distances.toReal(at[end])
            + " "
            + surfaceNames.apply(surface(end))
            + (isReversed(end) ? "'" : "");
  }
}
