package dev.plumbline.frame;

import java.util.Objects;

/**
 * Signals inside a chip that has one pixel in hand at a time, by which its rays are timed: a ray is
 * taken in a cycle in which valid and ready are 1, and so is its result.
 *
 * @param rayValid signal of one bit, such as {@code chip.rays.ray_valid}
 * @param rayReady signal of one bit
 * @param resultValid signal of one bit
 * @param resultReady signal of one bit
 */
public record RaySignals(String rayValid, String rayReady, String resultValid, String resultReady) {
  /** Checks that nothing is missing. */
  public RaySignals {
    Objects.requireNonNull(rayValid, "rayValid");
    Objects.requireNonNull(rayReady, "rayReady");
    Objects.requireNonNull(resultValid, "resultValid");
    Objects.requireNonNull(resultReady, "resultReady");
  }
}
