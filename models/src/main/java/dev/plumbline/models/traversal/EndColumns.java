package dev.plumbline.models.traversal;

import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.OperationKind;

/**
 * One set of ends for every address of a program, ray by ray, their faces, and whether boxes are
 * hit. In bounds a face is a set, bit k for face k.
 */
final class EndColumns {
  private static final int FOURTH = 3; // the radius of a sphere

  long[] entry = new long[0];
  long[] exit = new long[0];
  int[] entryFace = new int[0];
  int[] exitFace = new int[0];
  boolean[] hit = new boolean[0];

  void makeRoom(int size) {
    if (entry.length < size) {
      entry = new long[size];
      exit = new long[size];
      entryFace = new int[size];
      exitFace = new int[size];
      hit = new boolean[size];
    }
  }

  /** Whether nothing lies between the ends in a place, of a solid, as an alteration has it. */
  boolean isEmpty(int at, Operation solid, Alteration altered) {
    boolean isNegative = altered != Alteration.NONE && solid.operand(FOURTH) < 0;
    boolean touched = altered == Alteration.TOUCH_COUNTS || altered == Alteration.MISS_COUNTS;
    boolean isEmptied =
        solid.kind() == OperationKind.SPHERE
            ? touched || (altered == Alteration.NEGATIVE_RADIUS_COUNTS && entry[at] < 0)
            : altered == Alteration.NEGATIVE_FOURTH_EMPTIES;
    return (isNegative && isEmptied) || (touched ? entry[at] > exit[at] : entry[at] >= exit[at]);
  }

  /** What stands in a place, of the operation of an address. */
  Foreseen foreseen(int address, int at, boolean empty, boolean early) {
    return new Foreseen(
        address, entry[at], exit[at], entryFace[at], exitFace[at], empty, !hit[at], early);
  }
}
