package dev.plumbline.run;

import dev.plumbline.models.datapath.Operand;

/**
 * One checked output, ready for comparison in bulk.
 *
 * @param output its index in the reference
 * @param operand its name and format
 * @param port the port that carries it, as the contract writes it
 * @param tolerance LSB allowed beyond the reference
 * @param equal whether one code only is allowed: exact reference, no tolerance
 * @param flag index of the check whose value has to be 1 for this one to count; -1 for none
 */
record OutputCheck(
    int output, Operand operand, String port, long tolerance, boolean equal, int flag) {
  int words() {
    return operand.format().words();
  }

  /** Whether it counts for a result: a check without a flag always does. */
  boolean counts(long[][][] got, int row) {
    return flag < 0 || got[flag][0][row] != 0;
  }

  /** Whether differences of two codes fit a long. */
  boolean isNarrow() {
    return operand.format().width() < 64;
  }
}
