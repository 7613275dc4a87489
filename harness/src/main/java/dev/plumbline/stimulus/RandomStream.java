package dev.plumbline.stimulus;

import java.nio.charset.StandardCharsets;
import java.util.Locale;

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
  /** The odd step of the state: 2^64 divided by the golden ratio. */
  static final long STEP = 0x9E3779B97F4A7C15L;

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
   * Reads a seed as the property {@code plumbline.seed} has it.
   *
   * @param text a whole number of 64 bits, decimal, or hexadecimal with 0x before it
   * @return the seed
   * @throws IllegalArgumentException when it is no such number
   */
  public static long parseSeed(String text) {
    String digits = text.strip().toLowerCase(Locale.ROOT);
    try {
      return digits.startsWith("0x")
          ? Long.parseUnsignedLong(digits.substring(2), 16)
          : Long.parseLong(digits);
    } catch (NumberFormatException e) {
      throw new IllegalArgumentException(
          "Property plumbline.seed cannot be \""
              + text
              + "\"; a whole number of 64 bits is allowed, decimal or hexadecimal with 0x before"
              + " it.",
          e);
    }
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
    long hash = 0xCBF29CE484222325L; // 64-bit FNV-1a
    for (byte b : name.getBytes(StandardCharsets.UTF_8)) {
      hash = (hash ^ (b & 0xFF)) * 0x100000001B3L;
    }
    return derive(seed, hash);
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

  static long mix(long value) {
    long z = value;
    z = (z ^ (z >>> 30)) * 0xBF58476D1CE4E5B9L;
    z = (z ^ (z >>> 27)) * 0x94D049BB133111EBL;
    return z ^ (z >>> 31);
  }
}
