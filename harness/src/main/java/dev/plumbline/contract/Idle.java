package dev.plumbline.contract;

/**
 * What inputs are held at that the contract does not name.
 *
 * @param isRandom whether each has a constant by chance for a segment of a run
 * @param code else the code, of which each takes as many bits as it has
 */
public record Idle(boolean isRandom, long code) {}
