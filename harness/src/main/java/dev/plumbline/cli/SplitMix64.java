package dev.plumbline.cli;

/**
 * The random words of {@code shake}, by the formula of Steele, Lea and Flood, "Fast Splittable
 * Pseudorandom Number Generators" (OOPSLA 2014), with the constants of its authors'
 * SplittableRandom.
 *
 * <p>The state after <i>n</i> draws is the seed plus <i>n</i> times {@link #STEP}, so any draw can
 * be had without those before it, and a whole column is filled at once.
 */
final class SplitMix64 {
  /** What each draw adds to the state. */
  static final long STEP = 0x9E3779B97F4A7C15L;

  private SplitMix64() {}

  /** Turns the state after a draw's step into the drawn word. */
  static long mix(long state) {
    long z = (state ^ (state >>> 30)) * 0xBF58476D1CE4E5B9L;
    z = (z ^ (z >>> 27)) * 0x94D049BB133111EBL;
    return z ^ (z >>> 31);
  }
}
