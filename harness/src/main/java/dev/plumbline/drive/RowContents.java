package dev.plumbline.drive;

import dev.plumbline.stimulus.RandomStream;

/**
 * What a feed puts into its rows: drawn by chance, or as it was kept. Rows are asked for in turn,
 * and each once, but for those at the end of a block that was not run to its end.
 */
interface RowContents {
  /** Those of a script, where the settings have one; else drawn, noise from the stream of bits. */
  static RowContents of(
      Binding binding, Settings settings, Segment segment, RandomStream bits, KeptSource source) {
    return settings
        .script()
        .<RowContents>map(ScriptRows::new)
        .orElseGet(() -> new Chance(binding, settings, segment, bits, source));
  }

  /**
   * Fills 1 where any reset is asserted, and where each of several is, and says whether any is
   * anywhere.
   */
  boolean reset(long[] column, long[][] lines, long firstRow, int rows);

  /** Rows from here on, up to some, in which reset stays as it is. */
  int steadyRows(long firstRow, int most);

  /** Fills 1 where a case, or a beat of one, may be offered. */
  void offers(long[] column, long firstRow, int rows);

  /** Fills 1 where the consumer is ready. */
  void ready(long[] column, long firstRow, int rows);

  /** Fills the next cases; columns by operand and word. */
  void cases(long[][][] columns, int count);

  /**
   * Fills what stands in rows without a case, by their numbers; others may be filled as well.
   *
   * @param count how many they are
   * @param rows how many rows there are, these among them
   */
  void bubbles(long[][][] columns, long firstRow, int[] idle, int count, int rows);

  /** Fills valid where reset is asserted. */
  void validUnderReset(long[] valid, long[] reset, long firstRow, int rows);
}
