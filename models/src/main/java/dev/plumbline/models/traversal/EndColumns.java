package dev.plumbline.models.traversal;

/**
 * One set of ends for every address of a program, ray by ray, their faces, and whether boxes are
 * hit. In bounds a face is a set, bit k for face k.
 */
final class EndColumns {
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

  /** What stands in a place, of the operation of an address. */
  Foreseen foreseen(int address, int at, boolean early) {
    return new Foreseen(address, entry[at], exit[at], entryFace[at], exitFace[at], !hit[at], early);
  }
}
