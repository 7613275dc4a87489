package dev.plumbline.models.datapath;

import java.util.List;

/** One pass of a loop that is unrolled by {@link Datapath.Builder#unrolled}. */
@FunctionalInterface
public interface UnrolledStage {
  /**
   * Describes the steps of one pass.
   *
   * @param number of the pass, from 0 on; names of steps have to have it in them
   * @param state what the pass before gave, or what the loop began with
   * @return what this pass gives, as many values as it was given
   */
  List<Value> next(int number, List<Value> state);
}
