package dev.plumbline.stimulus;

import java.util.Arrays;
import java.util.Locale;

/**
 * In which cycles one side of a stream is active: with valid high, on the side of the cases, or
 * with ready high, at the consumer.
 *
 * <pre>{@code
 * bench.pacing(Pacing.bubbles(0.25)).ready(Pacing.bursts(6, 3))
 * }</pre>
 *
 * <p>Immutable; {@link #open} gives one thread's pattern.
 */
public final class Pacing {
  private final String name;
  private final Law law;

  /**
   * Draws phases of cycles that are alike: the length of each, and the density of its active
   * cycles.
   */
  private interface Law {
    /** Sets length (1 or more) and density (0 never to 1 always) of the next phase. */
    void next(Pattern pattern, RandomStream stream);
  }

  private Pacing(String name, Law law) {
    this.name = name;
    this.law = law;
  }

  /**
   * Active in every cycle.
   *
   * @return the pacing
   */
  public static Pacing backToBack() {
    return new Pacing("back to back", (pattern, stream) -> pattern.phase(Integer.MAX_VALUE, 1));
  }

  /**
   * Idle now and then, each cycle on its own.
   *
   * @param probability that a cycle is a bubble, 0 inclusive to 1 exclusive
   * @return the pacing
   */
  public static Pacing bubbles(double probability) {
    if (!(probability >= 0 && probability < 1)) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "Pacing cannot have bubbles with probability %s; allowed is 0 up to, not including,"
                  + " 1.",
              probability));
    }
    return new Pacing(
        String.format(Locale.ROOT, "bubbles with probability %s", probability),
        (pattern, stream) -> pattern.phase(Integer.MAX_VALUE, 1 - probability));
  }

  /**
   * Bursts of active cycles with gaps between them; lengths are drawn evenly from 1 to twice the
   * mean less 1.
   *
   * @param meanBurst mean length of a burst in cycles, 1 or more
   * @param meanGap mean length of a gap in cycles, 1 or more
   * @return the pacing
   */
  public static Pacing bursts(int meanBurst, int meanGap) {
    if (meanBurst < 1 || meanGap < 1) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "Pacing cannot have bursts of %d and gaps of %d cycles; 1 or more is allowed.",
              meanBurst,
              meanGap));
    }
    return new Pacing(
        String.format(Locale.ROOT, "bursts of %d with gaps of %d", meanBurst, meanGap),
        (pattern, stream) -> {
          boolean gapBefore = pattern.density() == 0;
          int mean = gapBefore ? meanBurst : meanGap;
          pattern.phase(1 + stream.below(2 * mean - 1), gapBefore ? 1 : 0);
        });
  }

  /**
   * Phases of each kind in turn by chance: back to back, sparse, dense and idle, a few to a few
   * hundred cycles each.
   *
   * @return the pacing
   */
  public static Pacing varied() {
    double[] densities = {1, 1, 1, 0.75, 0.5, 0.125};
    return new Pacing(
        "varied",
        (pattern, stream) -> {
          int length = 1 + stream.below(1 << (2 + stream.below(8)));
          pattern.phase(length, densities[stream.below(densities.length)]);
        });
  }

  /**
   * Whether every cycle is active, so that there are no bubbles to fill.
   *
   * @return true for {@link #backToBack}
   */
  public boolean isBackToBack() {
    return name.equals("back to back");
  }

  /**
   * Starts a pattern for one thread.
   *
   * @param seed the seed
   * @return the pattern, at its first cycle
   */
  public Pattern open(long seed) {
    return new Pattern(law, seed);
  }

  @Override
  public String toString() {
    return name;
  }

  /** One thread's run through a pacing. */
  public static final class Pattern {
    private final Law law;
    private final RandomStream stream;
    private int left;
    private double density;
    private long threshold; // a draw's upper 32 bits below it: active

    private Pattern(Law law, long seed) {
      this.law = law;
      this.stream = RandomStream.of(seed);
    }

    private void phase(int length, double newDensity) {
      left = length;
      density = newDensity;
      threshold = Math.round(newDensity * 0x1p32);
    }

    private double density() {
      return density;
    }

    /**
     * Fills the next cycles with 1 where active, 0 where idle.
     *
     * @param column filled
     * @param from first row, inclusive
     * @param to last row, exclusive
     */
    public void fill(long[] column, int from, int to) {
      int row = from;
      while (row < to) {
        if (left == 0) {
          law.next(this, stream);
        }
        int end = row + Math.min(left, to - row);
        left -= end - row;
        if (density == 1 || density == 0) {
          Arrays.fill(column, row, end, (long) density);
        } else {
          for (int i = row; i < end; i++) {
            column[i] = ((stream.next() >>> 32) - threshold) >>> 63;
          }
        }
        row = end;
      }
    }
  }
}
