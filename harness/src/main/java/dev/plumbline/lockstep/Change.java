package dev.plumbline.lockstep;

import dev.plumbline.models.traversal.Alteration;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import java.util.function.LongUnaryOperator;
import java.util.function.Supplier;

/**
 * What a model does otherwise: an operation, a cycle, or what an output shows.
 *
 * @param altered of operations and cycles
 * @param role standard name of the output that shows something else; empty for none
 * @param codes what it shows instead, code by code in their order; made anew for each run
 * @param lasts whether resets and aborts leave what is kept from the ray before, too
 * @param kind what kind of fault it is
 * @param words what is otherwise
 */
record Change(
    Alteration altered,
    String role,
    Supplier<LongUnaryOperator> codes,
    boolean lasts,
    LikelyKind kind,
    String words) {
  /** Nothing is otherwise. */
  static final Change NONE =
      new Change(Alteration.NONE, "", LongUnaryOperator::identity, false, LikelyKind.DECISION, "");

  static Change of(Alteration altered) {
    LikelyKind kind =
        switch (altered.concern()) {
          case VALUES, DECISIONS -> LikelyKind.DECISION;
          case EXCHANGES -> LikelyKind.EXCHANGED;
          case CONSTANTS -> LikelyKind.CONSTANT;
          case SIZES -> LikelyKind.CAPACITY;
          case WRAPS -> LikelyKind.OVERFLOW;
          case SIGNS -> LikelyKind.SIGN;
          case REMAINS -> LikelyKind.LEFT_OVER;
          case CYCLES -> LikelyKind.TIMING;
        };
    return new Change(altered, "", LongUnaryOperator::identity, false, kind, altered.toString());
  }

  /** What is kept stands in a register without reset. */
  static Change lasting(Alteration altered) {
    return new Change(
        altered,
        "",
        LongUnaryOperator::identity,
        true,
        LikelyKind.LEFT_OVER,
        altered + ", and no reset clears it");
  }

  static Change of(String role, Supplier<LongUnaryOperator> codes, LikelyKind kind, String words) {
    return new Change(Alteration.NONE, role, codes, false, kind, words);
  }

  /** The same of what an output shows. */
  static Change lasting(String role, Supplier<LongUnaryOperator> codes, String words) {
    return new Change(
        Alteration.NONE,
        role,
        codes,
        true,
        LikelyKind.LEFT_OVER,
        words + ", and no reset clears it");
  }

  /** Whether predictions outlive a reset. */
  boolean keepsPredictions() {
    return altered == Alteration.PREDICTIONS_KEPT || altered == Alteration.OTHER_PREDICTIONS_KEPT;
  }

  boolean isNone() {
    return altered == Alteration.NONE && role.isEmpty();
  }
}
