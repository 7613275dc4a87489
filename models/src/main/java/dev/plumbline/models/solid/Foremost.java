package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;

/**
 * The last of several entries or the first of several exits, and the face it belongs to: the first
 * face at that distance, or none where every distance is the sentinel.
 */
final class Foremost {
  private final Datapath.Builder b;
  private final Value none;
  private final Value[] faces;
  private final boolean tiesEitherWay;

  /**
   * A search.
   *
   * @param none what to call no face
   * @param faces what to call each
   * @param tiesEitherWay whether, in bounds, a tie may go to either face
   */
  Foremost(Datapath.Builder b, Value none, Value[] faces, boolean tiesEitherWay) {
    this.b = b;
    this.none = none;
    this.faces = faces;
    this.tiesEitherWay = tiesEitherWay;
  }

  /** A distance and its face. */
  record Crossing(Value distance, Value face) {}

  /** The largest distance; the sentinel is the lowest code. */
  Crossing largest(String name, Value sentinel, Value[] all) {
    return find(name, sentinel, all, true);
  }

  /** The smallest distance; the sentinel is the highest code. */
  Crossing smallest(String name, Value sentinel, Value[] all) {
    return find(name, sentinel, all, false);
  }

  private Crossing find(String name, Value sentinel, Value[] all, boolean larger) {
    Value distance = sentinel;
    Value face = none;
    for (int i = 0; i < all.length; i++) {
      String suffix = "_up_to_" + i;
      Value beyond = less(name + "_by" + suffix, distance, all[i], larger);
      if (tiesEitherWay) {
        Value least = larger ? distance : all[i];
        Value most = larger ? all[i] : distance;
        Value tie = b.atMost(name + "_tie" + suffix, least, most);
        Value real = less(name + "_real" + suffix, sentinel, all[i], larger);
        Value perhaps = b.and(name + "_perhaps" + suffix, tie, real);
        beyond = b.either(name + "_either" + suffix, beyond, perhaps);
      }
      face = b.select(name + "_face" + suffix, beyond, faces[i], face);
      distance =
          larger
              ? b.maximum(name + suffix, distance, all[i])
              : b.minimum(name + suffix, distance, all[i]);
    }
    return new Crossing(distance, face);
  }

  private Value less(String name, Value sofar, Value candidate, boolean larger) {
    return larger ? b.lessThan(name, sofar, candidate) : b.lessThan(name, candidate, sofar);
  }
}
