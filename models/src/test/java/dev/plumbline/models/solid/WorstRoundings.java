package dev.plumbline.models.solid;

import java.util.Random;
import java.util.function.Function;
import java.util.function.ToLongFunction;

/**
 * Roundings as bad as they can be in one case: each operation of a circuit goes to the neighbour,
 * up or down, that takes a result further out. Tried one operation at a time, from a start by
 * chance.
 */
final class WorstRoundings<T> {
  private static final int STARTS = 2;
  private static final int KICKS = 30;
  private static final int KICKED = 3;

  private final Script script = new Script();
  private final T circuit;
  private final Random random;

  /** Takes the place of chance in a circuit that asks it for every rounding. */
  private static final class Script extends Random {
    private static final long serialVersionUID = 1;
    private static final int MOST = 128;

    private final boolean[] up = new boolean[MOST];
    private int asked;

    /** Down is the first of all roundings, up the third; of two ways either. */
    @Override
    public int nextInt(int bound) {
      return nextBoolean() ? Math.min(2, bound - 1) : 0;
    }

    @Override
    public boolean nextBoolean() {
      return up[asked++];
    }
  }

  WorstRoundings(Function<Random, T> circuit, Random random) {
    this.circuit = circuit.apply(script);
    this.random = random;
  }

  /** Leaves the circuit with roundings that make a result as large as they can, or nearly so. */
  T largest(ToLongFunction<T> result) {
    long best = Long.MIN_VALUE;
    boolean[] chosen = null;
    for (int start = 0; start < STARTS; start++) {
      for (int site = 0; site < Script.MOST; site++) {
        script.up[site] = random.nextBoolean();
      }
      long climbed = kickedOn(result, climb(result));
      if (chosen == null || climbed > best) {
        best = climbed;
        chosen = script.up.clone();
      }
    }
    take(chosen);
    run(result);
    return circuit;
  }

  /** Climbs again from a few roundings changed at once, and goes back where that was no better. */
  private long kickedOn(ToLongFunction<T> result, long reached) {
    long best = reached;
    boolean[] kept = script.up.clone();
    for (int kick = 0; kick < KICKS; kick++) {
      run(result);
      for (int i = 0; i < KICKED; i++) {
        script.up[random.nextInt(script.asked)] ^= true;
      }
      long climbed = climb(result);
      if (climbed < best) {
        take(kept);
      } else {
        best = climbed;
        kept = script.up.clone();
      }
    }
    return best;
  }

  private void take(boolean[] roundings) {
    System.arraycopy(roundings, 0, script.up, 0, roundings.length);
  }

  /** Turns one rounding after the other, as long as that makes the result larger. */
  private long climb(ToLongFunction<T> result) {
    long best = run(result);
    boolean better;
    do {
      better = false;
      for (int site = 0; site < script.asked; site++) {
        int asked = script.asked;
        script.up[site] ^= true;
        long other = run(result);
        if (other > best) {
          best = other;
          better = true;
        } else {
          script.up[site] ^= true;
          script.asked = asked; // another way may ask for more, or fewer
        }
      }
    } while (better);
    return best;
  }

  private long run(ToLongFunction<T> result) {
    script.asked = 0;
    return result.applyAsLong(circuit);
  }
}
