package dev.plumbline.verdict;

import java.util.List;
import java.util.Optional;

/**
 * What was seen inside the DUT when the window of a mismatch was run again.
 *
 * @param waveform signals over that window
 * @param stages the reference's steps in their order beside the DUT's signals; none where the
 *     reference has no steps
 * @param facts what follows from them
 */
public record Inside(Optional<Waveform> waveform, List<Stage> stages, List<Fact> facts) {
  /** Nothing was seen. */
  public static final Inside NOTHING = new Inside(Optional.empty(), List.of(), List.of());

  public Inside {
    stages = List.copyOf(stages);
    facts = List.copyOf(facts);
  }
}
