package dev.plumbline.models.solid;

import java.util.Arrays;
import java.util.Random;
import java.util.function.Function;
import java.util.function.ToLongFunction;

/**
 * Roundings as bad as they can be in one case: each operation of a circuit goes to the neighbour, up
 * or down, that takes a result further out. Tried one operation at a time, from a start by chance.
 */
final class WorstRoundings<T> {
  private final Script script = new Script();
  private final T circuit;
  private final Random random;

  /** Takes the place of chance in a circuit that asks it for every rounding. */
  private static final class Script extends Random {
    private static final long serialVersionUID = 1;
    private static final int MOST = 128;

    private final boolean[] up = new boolean[MOST];
    private int asked;

    /** Down is the first of all roundings, up the last but one of four and the last of three. */
    @Override
    public int nextInt(int bound) {
      return nextBoolean() ? 2 : 0;
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

  /** Leaves the circuit with roundings that make a result as large as they can. */
  T largest(ToLongFunction<T> result) {
    for (int site = 0; site < Script.MOST; site++) {
      script.up[site] = random.nextBoolean();
    }
    long best = run(result);
    for (int site = 0; site < script.asked; site++) {
      script.up[site] ^= true;
      long other = run(result);
      if (other > best) {
        best = other;
      } else {
        script.up[site] ^= true;
      }
    }
    run(result);
    return circuit;
  }

  private long run(ToLongFunction<T> result) {
    script.asked = 0;
    return result.applyAsLong(circuit);
  }

  @Override
  public String toString() {
    return Arrays.toString(script.up);
  }
}
