package dev.plumbline.models.rows;

/** A rule for the bounds of a unit of one operand that can be told as C. */
public interface ToldBounds {
  /**
   * Tells what the rule makes of a row.
   *
   * @param code takes it down
   * @param least the least code of the operand
   * @param greatest the greatest; the same column where it is always a point
   * @param low is set to the least code of the output
   * @param high is set to the greatest
   */
  void tell(RowCode code, long[] least, long[] greatest, long[] low, long[] high);
}
