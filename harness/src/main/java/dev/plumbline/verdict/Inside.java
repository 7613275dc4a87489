package dev.plumbline.verdict;

import java.util.List;
import java.util.Optional;

/**
 * What was seen inside the DUT when the window of a mismatch was run again.
 *
 * @param waveform signals over that window
 * @param stages the reference's steps in their order beside the DUT's signals; none where the
 *     reference has no steps
 * @param firstWrong the signals that are wrong first, as far as that is known
 * @param facts what follows from them
 */
public record Inside(
    Optional<Waveform> waveform, List<Stage> stages, List<Wrong> firstWrong, List<Fact> facts) {
  /** Nothing was seen. */
  public static final Inside NOTHING =
      new Inside(Optional.empty(), List.of(), List.of(), List.of());

  public Inside {
    stages = List.copyOf(stages);
    firstWrong = List.copyOf(firstWrong);
    facts = List.copyOf(facts);
  }

  /**
   * A signal that is wrong.
   *
   * @param signal its hierarchical name
   * @param location where it is declared: file and line
   */
  public record Wrong(String signal, String location) {}

  /**
   * The same with other facts.
   *
   * @param other facts
   * @return what was seen otherwise
   */
  public Inside withFacts(List<Fact> other) {
    return new Inside(waveform, stages, firstWrong, other);
  }
}
