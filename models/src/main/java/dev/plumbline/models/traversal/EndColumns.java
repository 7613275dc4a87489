package dev.plumbline.models.traversal;

/** One set of ends for every address of a program, ray by ray, and whether boxes are hit. */
final class EndColumns {
  long[] entry = new long[0];
  long[] exit = new long[0];
  boolean[] hit = new boolean[0];

  void makeRoom(int size) {
    if (entry.length < size) {
      entry = new long[size];
      exit = new long[size];
      hit = new boolean[size];
    }
  }
}
