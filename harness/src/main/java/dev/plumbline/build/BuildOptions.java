package dev.plumbline.build;

/**
 * How a design is turned into native code.
 *
 * <pre>{@code
 * BuildOptions options = BuildOptions.defaults().withAssertions(false);
 * }</pre>
 *
 * @param assertions whether assertions are checked while the model runs
 * @param unknowns what an assignment of {@code 'x} gives
 */
public record BuildOptions(boolean assertions, Unknowns unknowns) {

  /** What an assignment of {@code 'x} gives. */
  public enum Unknowns {
    /** A value drawn for each place once per opened model, by its seed and initial state. */
    DRAWN,
    /** Zero. */
    ZERO
  }

  /**
   * Assertions on, unknowns drawn.
   *
   * @return the options
   */
  public static BuildOptions defaults() {
    return new BuildOptions(true, Unknowns.DRAWN);
  }

  /**
   * Switches assertions on or off.
   *
   * @param on whether they are checked
   * @return a copy
   */
  public BuildOptions withAssertions(boolean on) {
    return new BuildOptions(on, unknowns);
  }

  /**
   * Chooses what an assignment of {@code 'x} gives.
   *
   * @param choice the choice
   * @return a copy
   */
  public BuildOptions withUnknowns(Unknowns choice) {
    return new BuildOptions(assertions, choice);
  }
}
