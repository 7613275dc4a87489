package dev.plumbline.report;

/**
 * What history keeps of a bench in one run, as far as others plan by it.
 *
 * @param run the run's name
 * @param passed whether it passed
 * @param rarestPoint how many cases met its rarest coverage point; -1 where it has none
 */
public record BenchRecord(String run, boolean passed, long rarestPoint) {}
