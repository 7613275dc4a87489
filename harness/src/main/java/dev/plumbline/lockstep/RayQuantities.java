package dev.plumbline.lockstep;

import dev.plumbline.lockstep.Quantity.Flow;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.traversal.Rays;

/** What an executor has of the ray in hand, and how it stands. */
final class RayQuantities {
  private final Executor executor;
  private final Quantities all;

  RayQuantities(Executor executor, Quantities all) {
    this.executor = executor;
    this.all = all;
  }

  void runs(long row, boolean running) {
    all.bit(Flow.RAY, "a ray runs").set(all.at(row), running);
  }

  void handshake(long row, boolean ready, boolean offering) {
    long at = all.at(row);
    all.atPort(Flow.RESULT, "ray_ready", 1, -1).set(at, ready);
    all.atPort(Flow.RESULT, "result_valid", 1, -1).set(at, offering);
  }

  void inHand(long row, RayInHand ray) {
    long at = all.at(row);
    for (String name : Rays.names()) {
      Format format = Ports.rayFormat(name, executor.formats());
      all.of(Flow.RAY, name, format.width()).set(at, ray.code(name));
    }
    int word = executor.formats().word().width();
    all.of(Flow.RAY, "start that counts", word).set(at, ray.start);
    all.of(Flow.RAY, "limit that counts", word).set(at, ray.limit);
    all.bit(Flow.RAY, "ends at any hit").set(at, ray.anyHit);
    int margin = executor.rules().passingMargin();
    if (margin >= 0 && word < Long.SIZE) {
      all.of(Flow.RAY, "limit and margin", word + 1).set(at, ray.limit + margin);
    }
    for (String axis : new String[] {"x", "y", "z"}) {
      long inverse = ray.code("inverse_" + axis);
      Format format = executor.formats().inverse();
      boolean saturated =
          inverse == format.minCode().longValueExact()
              || inverse == format.maxCode().longValueExact();
      all.bit(Flow.RAY, "parallel or saturated " + axis)
          .set(at, saturated || ray.code("parallel_" + axis) == 1);
    }
  }
}
