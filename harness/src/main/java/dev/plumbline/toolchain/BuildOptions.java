package dev.plumbline.toolchain;

/**
 * How a design is turned into native code.
 *
 * <pre>{@code
 * BuildOptions options = BuildOptions.defaults().withAssertions(false);
 * }</pre>
 *
 * @param assertions whether assertions are checked while the model runs
 * @param unknowns what an assignment of {@code 'x} gives
 * @param optimised whether the C++ compiler takes time to make the model fast; without, a build
 *     takes about half as long and a model runs some five times slower, which is the better bargain
 *     for a model that runs a few thousand cycles in its life
 * @param internals whether signals inside the design can be read by name: the probe build, which is
 *     never optimised
 */
public record BuildOptions(
    boolean assertions, Unknowns unknowns, boolean optimised, boolean internals) {

  /** What an assignment of {@code 'x} gives. */
  public enum Unknowns {
    /** A value drawn for each place once per opened model, by its seed and initial state. */
    RANDOM,
    /** Zero. */
    ZERO
  }

  /**
   * Assertions on, unknowns drawn, optimised unless the property {@code plumbline.optimised} is
   * {@code false}.
   *
   * @return the options
   */
  public static BuildOptions defaults() {
    boolean optimised = !System.getProperty("plumbline.optimised", "").equals("false");
    return new BuildOptions(true, Unknowns.RANDOM, optimised, false);
  }

  /**
   * Switches assertions on or off.
   *
   * @param on whether they are checked
   * @return a copy
   */
  public BuildOptions withAssertions(boolean on) {
    return new BuildOptions(on, unknowns, optimised, internals);
  }

  /**
   * Chooses what an assignment of {@code 'x} gives.
   *
   * @param choice the choice
   * @return a copy
   */
  public BuildOptions withUnknowns(Unknowns choice) {
    return new BuildOptions(assertions, choice, optimised, internals);
  }

  /**
   * Chooses between a quick model and a quick build.
   *
   * @param on whether the C++ compiler takes time to make the model fast
   * @return a copy
   */
  public BuildOptions withOptimisation(boolean on) {
    return new BuildOptions(assertions, unknowns, on, internals);
  }

  /**
   * Chooses whether signals inside the design can be read.
   *
   * @param on whether they can
   * @return a copy
   */
  public BuildOptions withInternals(boolean on) {
    return new BuildOptions(assertions, unknowns, optimised, on);
  }
}
