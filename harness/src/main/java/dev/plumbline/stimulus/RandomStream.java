package dev.plumbline.stimulus;

import java.nio.charset.StandardCharsets;

/**
 * A stream of random bits that follows from its seed alone, the same on every JDK.
 *
 * <pre>{@code
 * RandomStream stream = RandomStream.of(RandomStream.derive(seed, "rays"));
 * long bits = stream.next();
 * int face = stream.below(6);
 * }</pre>
 *
 * <p>The algorithm is SplitMix64 (Steele, Lea, Flood: Fast splittable pseudorandom number
 * generators, OOPSLA 2014). Not safe for several threads: derive a stream for each.
 */
public final class RandomStream {
  /** What each draw adds to the state: the odd number next to 2^64 over the golden ratio. */
  public static final long STEP = 0x9E3779B97F4A7C15L;

  private long state;

  private RandomStream(long seed) {
    this.state = seed;
  }

  /**
   * Starts a stream.
   *
   * @param seed any value
   * @return the stream
   */
  public static RandomStream of(long seed) {
    return new RandomStream(seed);
  }

  /**
   * The seed of one numbered part of a larger whole, such as a segment of a run.
   *
   * @param seed the seed of the whole
   * @param number which part
   * @return a seed that shares no visible pattern with its neighbours
   */
  public static long derive(long seed, long number) {
    return mix(mix(seed + STEP) ^ mix(number * STEP + 0x632BE59BD9B4E019L));
  }

  /**
   * The seed of one named part of a larger whole, such as a test of a run.
   *
   * @param seed the seed of the whole
   * @param name the part's name, compared as UTF-8
   * @return a seed of its own
   */
  public static long derive(long seed, String name) {
    return derive(seed, Fnv64.fold(Fnv64.BASIS, name.getBytes(StandardCharsets.UTF_8)));
  }

  /**
   * Draws 64 random bits.
   *
   * @return any value, each equally likely
   */
  public long next() {
    state += STEP;
    return mix(state);
  }

  /**
   * Draws a number below a bound.
   *
   * @param bound 1 or more
   * @return 0 to bound - 1; the bias is below bound / 2^32
   */
  public int below(int bound) {
    return (int) (((next() >>> 32) * bound) >>> 32);
  }

  /**
   * Draws a real number.
   *
   * @return 0 inclusive to 1 exclusive, in steps of 2^-53
   */
  public double unit() {
    return (next() >>> 11) * 0x1p-53;
  }

  /**
   * Draws a decision.
   *
   * @param probability 0 never to 1 always
   * @return true that often
   */
  public boolean chance(double probability) {
    return unit() < probability;
  }

  long state() {
    return state;
  }

  void state(long newState) {
    this.state = newState;
  }

  /**
   * Turns the state after a draw's step into the drawn word, so that a whole column is filled
   * without the draws before it: draw number <i>n</i>, counted from 1, of a stream is {@code
   * mix(seed + n * STEP)}.
   *
   * @param value a state
   * @return the word
   */
  public static long mix(long value) {
    long z = value;
    z = (z ^ (z >>> 30)) * 0xBF58476D1CE4E5B9L;
    z = (z ^ (z >>> 27)) * 0x94D049BB133111EBL;
    return z ^ (z >>> 31);
  }
}
