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
 */
record Driving(Optional<Given> given, Pacing pacing, Pacing ready, double resetChance) {
  /** One program and its rays. */
  record Given(Program program, Rays rays) {}
}
