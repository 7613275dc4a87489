package dev.plumbline.models.traversal;

import dev.plumbline.models.program.Program;
import dev.plumbline.models.span.Distances;
import java.util.Arrays;

/**
 * What hardware of unknown micro-architecture may find for one ray: surfaces, each with an interval
 * of distances, and whether it may find none; one object that a {@link BoundedTraversal} fills
 * again and again, valid during the call that hands it out.
 *
 * <p>A surface may stand here several times, with intervals apart from each other.
 */
public final class AdmissibleHits {
  private final Distances distances;
  private int[] places = new int[8]; // of the solids; complemented where they are exits
  private long[] least = new long[8];
  private long[] greatest = new long[8];

  /** Whether the least distance itself was found, or only those just above it. */
  private boolean[] attained = new boolean[8];

  private int count;
  Program program;
  boolean[] reversed;
  private EndColumns ends; // for their faces
  private int base;
  int ray;
  boolean missAdmissible;
  boolean complete;
  boolean[] mayTake = new boolean[0];
  boolean[] mayPass = new boolean[0];

  AdmissibleHits(Distances distances) {
    this.distances = distances;
  }

  /** Begins anew for a ray. */
  void clear(Program of, boolean[] reversedSolids, int number, EndColumns faces, int baseOfRay) {
    ends = faces;
    base = baseOfRay;
    program = of;
    reversed = reversedSolids;
    ray = number;
    count = 0;
    missAdmissible = false;
    complete = true;
    if (mayTake.length < of.length()) {
      mayTake = new boolean[of.length()];
      mayPass = new boolean[of.length()];
    }
    Arrays.fill(mayTake, false);
    Arrays.fill(mayPass, false);
  }

  /**
   * Adds distances of a surface, or puts them to what is known of it from a number of hits on.
   *
   * @param from hits before this one are others
   * @param place of {@link #place}
   */
  void add(int from, int place, long low, long high) {
    for (int i = count - 1; i >= from; i--) {
      if (places[i] == place) {
        if (greatest[i] >= low) {
          greatest[i] = Math.max(greatest[i], high);
          return;
        }
        break;
      }
    }
    if (count == places.length) {
      places = Arrays.copyOf(places, 2 * count);
      least = Arrays.copyOf(least, 2 * count);
      greatest = Arrays.copyOf(greatest, 2 * count);
      attained = Arrays.copyOf(attained, 2 * count);
    }
    places[count] = place;
    least[count] = low;
    greatest[count] = high;
    attained[count++] = low == high;
  }

  static int place(int address, boolean inward) {
    return inward ? ~address : address;
  }

  boolean isLeastAttained(int hit) {
    return attained[hit];
  }

  /** Moves a hit to a lower index, with a greatest distance of its own. */
  void keep(int hit, int as, long high) {
    places[as] = places[hit];
    least[as] = least[hit];
    attained[as] = attained[hit];
    greatest[as] = high;
  }

  void truncate(int to) {
    count = to;
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
   * Whether finding no surface is admissible.
   *
   * @return false when some surface has to be found
   */
  public boolean isMissAdmissible() {
    return missAdmissible;
  }

  /**
   * Whether nothing is open but the distance: one surface of one interval, or none.
   *
   * @return true where every choice within the bounds sees the same
   */
  public boolean isUnambiguous() {
    return missAdmissible ? count == 0 : count == 1;
  }

  /**
   * Whether every choice was followed. An object with more than some ten thousand is not, and then
   * every surface of it is admissible wherever it may be.
   *
   * @return true where the result is as narrow as the bounds of solids allow
   */
  public boolean isComplete() {
    return complete;
  }

  /**
   * How many admissible hits there are.
   *
   * @return 0 or more
   */
  public int count() {
    return count;
  }

  /**
   * The operation whose surface is hit.
   *
   * @param hit 0 to the count, exclusive
   * @return address of a solid
   */
  public int address(int hit) {
    return places[hit] < 0 ? ~places[hit] : places[hit];
  }

  /**
   * The material of the surface.
   *
   * @param hit 0 to the count, exclusive
   * @return as the program gives it
   */
  public int material(int hit) {
    return program.at(address(hit)).material();
  }

  /**
   * Which faces of the solid it may be, as {@link SurfaceNumber} number them.
   *
   * @param hit 0 to the count, exclusive
   * @return bit k for face k
   */
  public int faces(int hit) {
    int at = base + address(hit);
    return isInward(hit) == isReversed(hit) ? ends.entryFace[at] : ends.exitFace[at];
  }

  /**
   * Whether the surface belongs to a solid that is cut away, so that its normal is reversed.
   *
   * @param hit 0 to the count, exclusive
   * @return after an odd number of cuts
   */
  public boolean isReversed(int hit) {
    return reversed[address(hit)];
  }

  /**
   * Whether the ray leaves the object there.
   *
   * @param hit 0 to the count, exclusive
   * @return true when it is an exit
   */
  public boolean isInward(int hit) {
    return places[hit] < 0;
  }

  /**
   * The least distance.
   *
   * @param hit 0 to the count, exclusive
   * @return a word code
   */
  public long least(int hit) {
    return least[hit];
  }

  /**
   * The greatest distance.
   *
   * @param hit 0 to the count, exclusive
   * @return a word code, included
   */
  public long greatest(int hit) {
    return greatest[hit];
  }

  /**
   * Whether a hit is admissible.
   *
   * @param distance a word code
   * @param address of the solid
   * @param face of it, as {@link SurfaceNumber} number them
   * @param isReversed as {@link #isReversed}
   * @param inward as {@link #isInward}
   * @return true when one of the hits is such, with the distance in its interval
   */
  public boolean admits(long distance, int address, int face, boolean isReversed, boolean inward) {
    for (int i = 0; i < count; i++) {
      if (holds(i, distance, isReversed, inward)
          && address(i) == address
          && (faces(i) >> face & 1) == 1) {
        return true;
      }
    }
    return false;
  }

  private boolean holds(int hit, long distance, boolean isReversed, boolean inward) {
    return least[hit] <= distance
        && distance <= greatest[hit]
        && isReversed(hit) == isReversed
        && isInward(hit) == inward;
  }

  /**
   * Whether a hit of an executor that tells materials is admissible.
   *
   * @param distance a word code
   * @param material of the surface
   * @param isReversed as {@link #isReversed}
   * @param inward as {@link #isInward}
   * @return true when one of the hits is such, with the distance in its interval
   */
  public boolean admits(long distance, int material, boolean isReversed, boolean inward) {
    for (int i = 0; i < count; i++) {
      if (holds(i, distance, isReversed, inward) && material(i) == material) {
        return true;
      }
    }
    return false;
  }

  /**
   * Whether some choice takes a skip, its box being missed.
   *
   * @param address of the skip
   * @return false also where the ray never comes to it
   */
  public boolean mayTake(int address) {
    return mayTake[address];
  }

  /**
   * Whether some choice passes on behind a skip, its box being hit.
   *
   * @param address of the skip
   * @return false also where the ray never comes to it
   */
  public boolean mayPass(int address) {
    return mayPass[address];
  }

  /** All hits with real distances, and the miss: 1 sphere m7 inward 3.99 to 4.01, or a miss. */
  @Override
  public String toString() {
    StringBuilder text = new StringBuilder("ray ").append(ray).append(": ");
    for (int i = 0; i < count; i++) {
      text.append(i == 0 ? "" : ", or ")
          .append(address(i))
          .append(' ')
          .append(program.at(address(i)).kind())
          .append(" m")
          .append(material(i))
          .append(isReversed(i) ? "'" : "")
          .append(isInward(i) ? " inward " : " ")
          .append(distances.toReal(least[i]))
          .append(" to ")
          .append(distances.toReal(greatest[i]));
    }
    text.append(missAdmissible ? (count == 0 ? "a miss" : ", or a miss") : "");
    return text.append(complete ? "" : ", not every choice followed").toString();
  }
}
