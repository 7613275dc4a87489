package dev.plumbline.models.program;

/**
 * The limits of an executor: what its memories hold.
 *
 * @param length most operations of a program, the last {@code end} included; 1 or more
 * @param depth most lists on the stack at a time; 1 or more
 * @param materials how many there are: 0 to {@code materials - 1}
 */
public record ProgramLimits(int length, int depth, int materials) {
  /** Checks that each limit is possible. */
  public ProgramLimits {
    if (length < 1 || depth < 1 || materials < 1) {
      throw new IllegalArgumentException(
          "Program limits of "
              + length
              + " operations, "
              + depth
              + " lists and "
              + materials
              + " materials: each has to be 1 or more.");
    }
  }
}
