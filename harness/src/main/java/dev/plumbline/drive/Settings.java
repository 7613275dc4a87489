package dev.plumbline.drive;

import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.Stimulus;
import java.util.List;
import java.util.Optional;

/**
 * How a bench drives its DUT.
 *
 * @param stimulus the cases
 * @param pacing when cases are offered
 * @param ready when the consumer takes results
 * @param resetChance chance of a reset in a cycle of the stream; 0 for none
 * @param spares whether the segments of the run go without those resets
 * @param script what is played instead of all that; empty for chance
 * @param stages steps of the reference whose signals are given
 */
public record Settings(
    Stimulus stimulus,
    Pacing pacing,
    Pacing ready,
    double resetChance,
    boolean spares,
    Optional<Script> script,
    List<GivenStage> stages) {
  public Settings {
    stages = List.copyOf(stages);
  }

  public Settings(Stimulus stimulus, Pacing pacing, Pacing ready, double resetChance) {
    this(stimulus, pacing, ready, resetChance, false, Optional.empty(), List.of());
  }

  /** With mid-stream resets where initial states are compared alone, so that no case is lost. */
  public Settings sparingCases() {
    return new Settings(stimulus, pacing, ready, resetChance, true, script, stages);
  }

  /** With the signals of some steps given. */
  public Settings withStages(List<GivenStage> given) {
    return new Settings(stimulus, pacing, ready, resetChance, spares, script, given);
  }

  /** The rows of a script instead of any by chance. */
  public Settings playing(Script instead) {
    return new Settings(stimulus, pacing, ready, resetChance, spares, Optional.of(instead), stages);
  }
}
