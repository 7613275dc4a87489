package dev.plumbline.models.traversal;

import java.util.Arrays;

/** Different numbers in the order in which they came, to be walked while more are added. */
final class PhaseSet {
  private static final int SMALLEST = 64;
  private long[] members = new long[SMALLEST / 2];
  private int[] places = new int[SMALLEST]; // a member's index plus 1, 0 where none is
  private int size;

  void clear() {
    size = 0;
    Arrays.fill(places, 0);
  }

  int size() {
    return size;
  }

  long get(int index) {
    return members[index];
  }

  void add(long member) {
    int place = place(member);
    if (places[place] != 0) {
      return;
    }
    if (size == members.length) {
      grow();
      place = place(member);
    }
    members[size++] = member;
    places[place] = size;
  }

  /** Where a member is, or where it would be. */
  private int place(long member) {
    int mask = places.length - 1;
    int place = Long.hashCode(member * 0x9E3779B97F4A7C15L) & mask;
    while (places[place] != 0 && members[places[place] - 1] != member) {
      place = (place + 1) & mask;
    }
    return place;
  }

  private void grow() {
    members = Arrays.copyOf(members, 2 * members.length);
    places = new int[2 * places.length];
    for (int i = 0; i < size; i++) {
      places[place(members[i])] = i + 1;
    }
  }
}
