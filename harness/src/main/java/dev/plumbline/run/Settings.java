package dev.plumbline.run;

import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.Stimulus;

/**
 * How a bench drives its DUT.
 *
 * @param stimulus the cases
 * @param pacing when cases are offered
 * @param ready when the consumer takes results
 * @param resetChance chance of a reset in a cycle of the stream; 0 for none
 */
public record Settings(Stimulus stimulus, Pacing pacing, Pacing ready, double resetChance) {}
