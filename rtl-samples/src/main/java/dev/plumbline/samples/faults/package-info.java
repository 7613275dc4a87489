/** Faults of the sample chip, by block, each with the bench that has to see it. */
package dev.plumbline.samples.faults;
