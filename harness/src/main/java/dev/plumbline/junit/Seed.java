package dev.plumbline.junit;

import dev.plumbline.stimulus.RandomStream;

/**
 * What the chance of one test follows from: the seed of the run, and the test's own name.
 *
 * <pre>{@code
 * @Test
 * void anyOrderOfWritesIsKept(Dut dut, Seed seed) {
 *   RandomStream order = seed.stream("order");
 * }
 * }</pre>
 *
 * @param run the seed of the run, property {@code plumbline.seed}, 1 unless set
 * @param test names the test as no other is named
 */
public record Seed(long run, String test) {
  /**
   * The test's own seed.
   *
   * @return a value that no other test has but by chance
   */
  public long value() {
    return RandomStream.derive(run, test);
  }

  /**
   * A stream of the test's own.
   *
   * @return the same stream from its start, every time
   */
  public RandomStream stream() {
    return RandomStream.of(value());
  }

  /**
   * A further stream of the test's own.
   *
   * @param part names it
   * @return the same stream from its start, every time
   */
  public RandomStream stream(String part) {
    return RandomStream.of(RandomStream.derive(value(), part));
  }
}
