package dev.plumbline.lockstep;

import dev.plumbline.models.program.Program;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.stimulus.Pacing;
import java.util.Optional;

/**
 * How a bench drives its executor.
 *
 * @param given what is offered in place of programs and rays by chance
 * @param pacing when rays are offered to an executor that waits for one
 * @param ready when the consumer takes results
 * @param resetChance chance of a reset in a cycle after the first; 0 for none
 * @param script what is played instead of all that; empty for chance
 */
record Driving(
    Optional<Given> given,
    Pacing pacing,
    Pacing ready,
    double resetChance,
    Optional<SceneScript> script) {
  /** One program and its rays. */
  record Given(Program program, Rays rays) {}

  /** A script instead of chance. */
  Driving playing(SceneScript instead) {
    return new Driving(given, pacing, ready, resetChance, Optional.of(instead));
  }
}
