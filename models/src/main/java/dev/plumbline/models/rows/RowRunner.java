package dev.plumbline.models.rows;

/** Runs a program over rows on its columns. */
@FunctionalInterface
public interface RowRunner {
  /**
   * Fills the outputs of the first rows from their inputs.
   *
   * @param state what the program calls {@code state}, the same in every row
   * @param count how many rows, 0 to the length of the columns
   */
  void run(long state, int count);
}
