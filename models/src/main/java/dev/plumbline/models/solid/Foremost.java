package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;

/**
 * The last of the entries or the first of the exits, and the face it belongs to: the first face at
 * that distance, or none where every distance is the sentinel.
 */
record Foremost(Value distance, Value face) {
  /** The largest distance; the sentinel is the lowest code. */
  static Foremost largest(
      Datapath.Builder b, String name, Value sentinel, Value none, Value[] all, Value[] faces) {
    return of(b, name, sentinel, none, all, faces, true);
  }

  /** The smallest distance; the sentinel is the highest code. */
  static Foremost smallest(
      Datapath.Builder b, String name, Value sentinel, Value none, Value[] all, Value[] faces) {
    return of(b, name, sentinel, none, all, faces, false);
  }

  private static Foremost of(
      Datapath.Builder b,
      String name,
      Value sentinel,
      Value none,
      Value[] all,
      Value[] faces,
      boolean larger) {
    Value distance = sentinel;
    Value face = none;
    for (int i = 0; i < all.length; i++) {
      String suffix = "_up_to_" + i;
      Value beyond =
          larger
              ? b.lessThan(name + "_by" + suffix, distance, all[i])
              : b.lessThan(name + "_by" + suffix, all[i], distance);
      face = b.select(name + "_face" + suffix, beyond, faces[i], face);
      distance =
          larger
              ? b.maximum(name + suffix, distance, all[i])
              : b.minimum(name + suffix, distance, all[i]);
    }
    return new Foremost(distance, face);
  }
}
