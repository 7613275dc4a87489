package dev.plumbline.models.rows;

import java.util.Optional;

/** Makes machine code of programs over rows; found as a service, since models compile nothing. */
public interface RowCompiler {
  /**
   * Asks for a program that has run as loops so far.
   *
   * @param program the same at each call but for its columns
   * @param rows for how many rows its loops have run
   * @return what runs it from now on; empty while there is nothing, for the loops to go on
   */
  Optional<RowRunner> find(RowProgram program, long rows);

  /**
   * After how many rows of loops it wants to be asked first.
   *
   * @return 0 for at once
   */
  long firstAsked();
}
