package dev.plumbline.drive;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.stimulus.Stimulus;
import java.util.List;

/**
 * The source of cases of one thread, which begins anew for each segment where it can: to make one
 * takes long enough that the JVM would compile the making of it.
 */
public final class KeptSource {
  private Stimulus stimulus; // that the source is of; null where there is none yet
  private Stimulus.Source source;

  /** A source as {@link Stimulus#open} gives it; those opened before are used no more. */
  Stimulus.Source open(Stimulus of, List<Operand> operands, long seed, long firstCase) {
    if (stimulus != of || !source.restart(seed, firstCase)) {
      source = of.open(operands, seed, firstCase);
      stimulus = of;
    }
    return source;
  }
}
