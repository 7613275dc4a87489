package dev.plumbline.rays;

import dev.plumbline.stimulus.Generator;
import dev.plumbline.stimulus.Share;
import dev.plumbline.stimulus.Stimulus;

/** Stimuli for operands that do not depend on each other. */
final class Numbers {
  private Numbers() {}

  /** All over the formats, with more at their corners and at every magnitude. */
  static Stimulus everywhere() {
    return Stimulus.mix(
        Share.of(3, Stimulus.standard()),
        Share.of(1, Stimulus.each(Generator.corners())),
        Share.of(1, Stimulus.each(Generator.logarithmic())));
  }
}
