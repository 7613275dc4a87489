package dev.plumbline.drive;

import dev.plumbline.models.datapath.Operand;

/**
 * One checked output, ready for comparison in bulk.
 *
 * @param output its index in the reference
 * @param operand its name and format
 * @param port the port that carries it, as the contract writes it
 * @param tolerance LSB allowed beyond the reference
 * @param equal whether one code only is allowed: exact reference, no tolerance
 * @param flag index of the check whose value has to be 1 for the reference to count; -1 for none
 * @param flagLow whether that value has to be 0 instead
 * @param otherwise the code where the reference does not count; null where it may be anything
 */
public record OutputCheck(
    int output,
    Operand operand,
    String port,
    long tolerance,
    boolean equal,
    int flag,
    boolean flagLow,
    Long otherwise) {
  public boolean isCalled(String name) {
    return operand.name().equals(name);
  }

  public int words() {
    return operand.format().words();
  }

  /** Whether a result is held to anything: to the reference, or to a code where a flag is 0. */
  public boolean counts(long[][][] got, int row) {
    return otherwise != null || isDecided(got, row);
  }

  /** Whether a result is held to the reference: a check without a flag always is. */
  public boolean isDecided(long[][][] got, int row) {
    return flag < 0 || (got[flag][0][row] == 0) == flagLow;
  }

  /** Whether it is measured how far results are off: more than one code passes, more than a bit. */
  public boolean isMeasured() {
    return !equal && isNarrow() && operand.format().width() > 1;
  }

  /** Whether differences of two codes fit a long. */
  public boolean isNarrow() {
    return operand.format().width() < 64;
  }
}
