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
 * @param optimisation when the C++ compiler takes time to make the model fast
 * @param internals whether signals inside the design can be read by name: the probe build, which is
 *     never optimised
 */
public record BuildOptions(
    boolean assertions, Unknowns unknowns, Optimisation optimisation, boolean internals) {

  /** What an assignment of {@code 'x} gives. */
  public enum Unknowns {
    /** A value drawn for each place once per opened model, by its seed and initial state. */
    RANDOM,
    /** Zero. */
    ZERO
  }

  /** When a model is made fast. Whatever is chosen, it behaves alike. */
  public enum Optimisation {
    /**
     * Never: a build takes about half as long, and a model runs about half as fast, which is the
     * better bargain for one that runs some hundred thousand cycles in its life.
     */
    NEVER,
    /**
     * After it has run for about as long as that takes: then a second process makes a fast library
     * beside it, and what is opened once that is there, such as the next segment of a bench, is
     * opened from it.
     */
    LATER,
    /** Before it runs at all; for one long life, or to measure speed. */
    FIRST
  }

  /**
   * Assertions on, unknowns drawn, optimised later, or as the property {@code plumbline.optimised}
   * says: {@code false} for never, {@code first} for before it runs at all.
   *
   * @return the options
   * @throws IllegalArgumentException when the property is something else
   */
  public static BuildOptions defaults() {
    return new BuildOptions(true, Unknowns.RANDOM, optimisationByProperty(), false);
  }

  private static Optimisation optimisationByProperty() {
    String value = System.getProperty("plumbline.optimised", "");
    return switch (value) {
      case "false" -> Optimisation.NEVER;
      case "", "true" -> Optimisation.LATER;
      case "first" -> Optimisation.FIRST;
      default ->
          throw new IllegalArgumentException(
              "Property plumbline.optimised is \""
                  + value
                  + "\"; allowed is true, false or first.");
    };
  }

  /**
   * Switches assertions on or off.
   *
   * @param on whether they are checked
   * @return a copy
   */
  public BuildOptions withAssertions(boolean on) {
    return new BuildOptions(on, unknowns, optimisation, internals);
  }

  /**
   * Chooses what an assignment of {@code 'x} gives.
   *
   * @param choice the choice
   * @return a copy
   */
  public BuildOptions withUnknowns(Unknowns choice) {
    return new BuildOptions(assertions, choice, optimisation, internals);
  }

  /**
   * Chooses whether the model is made fast at all.
   *
   * @param on {@link Optimisation#LATER}, or {@link Optimisation#NEVER}
   * @return a copy
   */
  public BuildOptions withOptimisation(boolean on) {
    return withOptimisation(on ? Optimisation.LATER : Optimisation.NEVER);
  }

  /**
   * Chooses when the model is made fast.
   *
   * @param choice when
   * @return a copy
   */
  public BuildOptions withOptimisation(Optimisation choice) {
    return new BuildOptions(assertions, unknowns, choice, internals);
  }

  /**
   * Chooses whether signals inside the design can be read.
   *
   * @param on whether they can
   * @return a copy
   */
  public BuildOptions withInternals(boolean on) {
    return new BuildOptions(assertions, unknowns, optimisation, on);
  }
}
