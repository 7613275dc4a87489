package dev.plumbline.contract;

/**
 * What a block may rely on of the cases it is given.
 *
 * @param words what is assumed, as people say it
 * @param holds whether a case is one of those
 */
public record Assumption(String words, CasePredicate holds) {
  /** Tells cases apart. */
  @FunctionalInterface
  public interface CasePredicate {
    /**
     * Whether something holds of a case.
     *
     * @param inputs codes, operand after operand, each in its words; not to be kept
     * @return true where it does
     */
    boolean test(long[] inputs);
  }
}
