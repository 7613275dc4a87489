package dev.plumbline.cosim;

import java.time.Duration;
import java.util.Objects;
import java.util.Optional;

/**
 * How a model is opened and what it may do.
 *
 * <pre>{@code
 * DutOptions options = DutOptions.defaults().withSeed(7).withInitialState(InitialState.RANDOM);
 * }</pre>
 *
 * @param seed of {@code $random} and its kin, and of a random initial state
 * @param initialState what registers and memories hold at first
 * @param timeout how long a call may make no progress before it is ended; more than zero
 * @param continueOnError whether the model goes on after {@code $error}, which is then only counted
 * @param systemCallsAllowed whether {@code $system} runs its command; else it gives -1
 * @param missingMemoryFilesAllowed whether a file that {@code $readmemh} or {@code $readmemb}
 *     cannot find leaves the memory as it is instead of ending the model
 * @param clocking the clocks; empty for the design's only clock, or none where it has none
 */
public record DutOptions(
    long seed,
    InitialState initialState,
    Duration timeout,
    boolean continueOnError,
    boolean systemCallsAllowed,
    boolean missingMemoryFilesAllowed,
    Optional<Clocking> clocking) {

  /** Checks the ranges. */
  public DutOptions {
    Objects.requireNonNull(initialState, "initialState");
    Objects.requireNonNull(clocking, "clocking");
    if (timeout.isZero() || timeout.isNegative()) {
      throw new IllegalArgumentException(
          "the timeout is " + timeout + "; allowed is more than zero");
    }
  }

  /**
   * Seed 1, all zeros, ten seconds of timeout, nothing allowed.
   *
   * @return the options
   */
  public static DutOptions defaults() {
    return new DutOptions(
        1, InitialState.ZEROS, Duration.ofSeconds(10), false, false, false, Optional.empty());
  }

  /**
   * Chooses the seed.
   *
   * @param value any value
   * @return a copy
   */
  public DutOptions withSeed(long value) {
    return new DutOptions(
        value,
        initialState,
        timeout,
        continueOnError,
        systemCallsAllowed,
        missingMemoryFilesAllowed,
        clocking);
  }

  /**
   * Chooses the initial state.
   *
   * @param state the state
   * @return a copy
   */
  public DutOptions withInitialState(InitialState state) {
    return new DutOptions(
        seed,
        state,
        timeout,
        continueOnError,
        systemCallsAllowed,
        missingMemoryFilesAllowed,
        clocking);
  }

  /**
   * Chooses the timeout.
   *
   * @param time more than zero
   * @return a copy
   */
  public DutOptions withTimeout(Duration time) {
    return new DutOptions(
        seed,
        initialState,
        time,
        continueOnError,
        systemCallsAllowed,
        missingMemoryFilesAllowed,
        clocking);
  }

  /**
   * Goes on after {@code $error}.
   *
   * @return a copy
   */
  public DutOptions withContinueOnError() {
    return new DutOptions(
        seed, initialState, timeout, true, systemCallsAllowed, missingMemoryFilesAllowed, clocking);
  }

  /**
   * Lets {@code $system} run commands.
   *
   * @return a copy
   */
  public DutOptions withSystemCallsAllowed() {
    return new DutOptions(
        seed, initialState, timeout, continueOnError, true, missingMemoryFilesAllowed, clocking);
  }

  /**
   * Lets memory files be missing.
   *
   * @return a copy
   */
  public DutOptions withMissingMemoryFilesAllowed() {
    return new DutOptions(
        seed, initialState, timeout, continueOnError, systemCallsAllowed, true, clocking);
  }

  /**
   * Names the clocks.
   *
   * @param clocks the clocks
   * @return a copy
   */
  public DutOptions withClocking(Clocking clocks) {
    return new DutOptions(
        seed,
        initialState,
        timeout,
        continueOnError,
        systemCallsAllowed,
        missingMemoryFilesAllowed,
        Optional.of(clocks));
  }
}
