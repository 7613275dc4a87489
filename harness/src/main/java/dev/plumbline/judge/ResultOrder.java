package dev.plumbline.judge;

import dev.plumbline.verdict.Mismatch.Kind;
import dev.plumbline.verdict.Row;
import java.util.List;
import java.util.function.BiPredicate;

/** Whether results that are wrong where they stand came in another order. */
public final class ResultOrder {
  /** Results that have to agree for a pattern to be believed, where there are as many. */
  public static final int RUN = 8;

  /** Bits that have to agree, since a few bits agree by chance. */
  public static final int BELIEVED_BITS = 16;

  /** Most places that a result is looked for away from its own. */
  private static final int FARTHEST = 4;

  private final List<Row> results;
  private final BiPredicate<Row, Row> isOutside;
  private final int bits;

  /**
   * Looks at results in the order in which they came, each with what was due in its place.
   *
   * @param isOutside whether the outputs of one row lie outside what another was due
   * @param bits of a result
   */
  public ResultOrder(List<Row> results, BiPredicate<Row, Row> isOutside, int bits) {
    this.results = results;
    this.isOutside = isOutside;
    this.bits = bits;
  }

  /**
   * Whether a wrong result was swapped with another, or all moved up or down by one.
   *
   * @param mayMove whether results can be lost or repeated
   */
  public Kind kindOf(Row row, boolean mayMove) {
    int at = results.indexOf(row);
    if (at < 0) {
      return Kind.VALUE_WRONG; // a second result to the same case
    }
    for (int next = at + 1; next <= at + FARTHEST && next < results.size(); next++) {
      Row other = results.get(next);
      if (!isOutside.test(row, other)
          && !isOutside.test(other, row)
          && isOutside.test(other, other)
          && 2 * bits >= BELIEVED_BITS) {
        return Kind.ORDER_SWAPPED;
      }
    }
    if (mayMove && isMovedBy(at, 1)) {
      return Kind.RESULT_LOST;
    }
    return mayMove && isMovedBy(at, -1) ? Kind.RESULT_REPEATED : Kind.VALUE_WRONG;
  }

  private boolean isMovedBy(int at, int places) {
    int agreed = 0;
    boolean differ = false; // a constant is not believed
    for (int i = at; i < at + RUN && i < results.size(); i++) {
      int from = i + places;
      if (from < 0 || from >= results.size()) {
        break;
      }
      if (isOutside.test(results.get(i), results.get(from))) {
        return false;
      }
      agreed += bits;
      differ |= isOutside.test(results.get(i), results.get(at));
    }
    return agreed >= BELIEVED_BITS && differ;
  }
}
