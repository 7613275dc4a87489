package dev.plumbline.verdict;

/**
 * What a verdict follows from, and how to come to it again.
 *
 * @param seed the seed of the run
 * @param contentHash names the RTL and everything else that the model was built from; empty where
 *     none was built
 * @param repeat the command that repeats the run; empty when not known
 */
public record Origin(long seed, String contentHash, String repeat) {}
