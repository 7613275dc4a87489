package dev.plumbline.models.traversal;

/**
 * One thing that an executor may do otherwise than the model: a comparison that includes its limit,
 * a skip that is never taken, a list that is too short, a cycle too many. What a wrong executor
 * agrees with is likely to be what is wrong with it.
 *
 * <p>Those of time mean something with an {@link ExecutorTiming} alone. All are common practice, no
 * source.
 */
public enum Alteration {
  /** Nothing is altered. */
  NONE(Concern.VALUES, "nothing"),
  /** A hit counts at the start as well. */
  START_INCLUDED(Concern.DECISIONS, "a surface exactly at the start counts (>= for >)"),
  /** What lies behind the start stays in lists. */
  CLIP_LEFT_OUT(Concern.DECISIONS, "spans are not clipped at the start"),
  /** A start below 0 stays there. */
  START_BELOW_ZERO(Concern.SIGNS, "a start below 0 is not taken as 0"),
  /** A surface at the limit counts, and ends an any-hit ray. */
  LIMIT_INCLUDED(Concern.DECISIONS, "a surface exactly at the limit counts (<= for <)"),
  /** Surfaces count whatever the limit, which boxes are still held to. */
  LIMIT_OF_BOXES_ALONE(Concern.DECISIONS, "surfaces count beyond the limit as well"),
  /** Any surface counts, and ends an any-hit ray. */
  LIMIT_IGNORED(Concern.DECISIONS, "the limit means nothing"),
  /** Every ray goes on to the end of the program. */
  ANY_HIT_IGNORED(Concern.DECISIONS, "any-hit rays go on to the end of the program"),
  /** Every ray ends at a surface before the limit. */
  ANY_HIT_ALWAYS(Concern.DECISIONS, "every ray is taken for an any-hit ray"),
  /** Any-hit rays end at their second surface. */
  ANY_HIT_AFTER_ANOTHER(
      Concern.DECISIONS, "an any-hit ray ends only where an earlier object was hit"),
  /** The limit ends other rays too, from their second surface on. */
  NEAREST_ENDS_AFTER_ANOTHER(
      Concern.DECISIONS, "the limit ends other rays too, where an earlier object was hit"),
  /** Of two surfaces at one distance the later is kept. */
  TIE_TO_THE_LATER(Concern.DECISIONS, "of surfaces as far the later is kept (<= for <)"),
  /** A later surface is kept, however far. */
  LAST_IS_KEPT(Concern.DECISIONS, "the surface of the last object is kept, however far"),
  /** An open end is a surface. */
  OPEN_ENDS_COUNT(Concern.DECISIONS, "an open end of a span counts as a surface"),
  /** Inward stands for entries. */
  INWARD_INVERTED(Concern.DECISIONS, "inward is set for entries, not for exits"),
  /** No skip is taken. */
  SKIP_NEVER(Concern.DECISIONS, "no skip is ever taken"),
  /** Every skip is taken. */
  SKIP_ALWAYS(Concern.DECISIONS, "every skip is taken"),
  /** Skips are taken where their box is hit. */
  SKIP_INVERTED(Concern.DECISIONS, "skips are taken where their box is hit"),
  /** Boxes are looked into whatever was found. */
  BEST_PASSES_NOTHING(Concern.DECISIONS, "no box is passed over for a nearer surface"),
  /** Boxes beyond the limit are looked into. */
  LIMIT_PASSES_NOTHING(Concern.DECISIONS, "no box is passed over for the limit"),
  /** The margin beyond what was found itself is too far. */
  BEST_REACH_INCLUDED(
      Concern.DECISIONS,
      "a box entered exactly the margin beyond the nearest surface is passed over (>= for >)"),
  /** The margin beyond the limit itself is too far. */
  LIMIT_REACH_INCLUDED(
      Concern.DECISIONS,
      "a box entered exactly the margin beyond the limit is passed over (>= for >)"),
  /** Whatever is entered beyond what was found is passed over. */
  BEST_MARGIN_LEFT_OUT(
      Concern.CONSTANTS, "boxes beyond the nearest surface are passed over without a margin"),
  /** Whatever is entered beyond the limit is passed over. */
  LIMIT_MARGIN_LEFT_OUT(
      Concern.CONSTANTS, "boxes beyond the limit are passed over without a margin"),
  /** Whatever is entered beyond either is passed over. */
  MARGINS_LEFT_OUT(Concern.CONSTANTS, "boxes are passed over without a margin"),
  /** A skip goes one operation too far. */
  TARGET_LATER(Concern.CONSTANTS, "a skip that is taken goes on one operation after its target"),
  /** Both ends have the face of the entry. */
  FACE_OF_THE_ENTRY(Concern.EXCHANGES, "where a solid is left, the face is that of its entry"),
  /** Both ends have the face of the exit. */
  FACE_OF_THE_EXIT(Concern.EXCHANGES, "where a solid is entered, the face is that of its exit"),
  /** A solid's exit is nobody's. */
  SURFACE_OF_THE_EXIT_LEFT_OUT(Concern.CONSTANTS, "where a solid is left, the surface is 0"),
  /** A solid's entry is nobody's. */
  SURFACE_OF_THE_ENTRY_LEFT_OUT(Concern.CONSTANTS, "where a solid is entered, the surface is 0"),
  /** A solid that is touched gives a span. */
  TOUCH_COUNTS(
      Concern.DECISIONS, "a solid that is only touched gives a span of no length (> for >=)"),
  /** So does a sphere whose line passes it by: its ends are one distance as well. */
  MISS_COUNTS(
      Concern.DECISIONS,
      "a solid whose ends are one distance gives a span of no length (> for >=), a sphere that is"
          + " missed too"),
  /** What ends at the start stays. */
  END_AT_THE_START_STAYS(
      Concern.DECISIONS, "a span that ends exactly at the start is kept (< for <=)"),
  /** The place of a radius counts for all solids. */
  NEGATIVE_FOURTH_EMPTIES(
      Concern.SIGNS, "a negative fourth operand empties any solid, as a negative radius does"),
  /** A radius counts by its size where the sphere lies ahead. */
  NEGATIVE_RADIUS_COUNTS(
      Concern.SIGNS, "a sphere of negative radius counts as its size where it is entered ahead"),
  /** Solids that are missed leave the stack as it is. */
  EMPTY_NOT_PUSHED(Concern.DECISIONS, "a solid that is missed puts no list on the stack"),
  /** The upper list is the left one. */
  OPERANDS_EXCHANGED(Concern.EXCHANGES, "the two lists of a combination are exchanged"),
  /** A combination with one empty list is empty. */
  EMPTY_EMPTIES(Concern.DECISIONS, "a combination with one empty list is empty"),
  /** Another operator. */
  UNION_AS_INTERSECTION(Concern.EXCHANGES, "union does what intersection should"),
  /** Another operator. */
  UNION_AS_DIFFERENCE(Concern.EXCHANGES, "union does what difference should"),
  /** Another operator. */
  INTERSECTION_AS_UNION(Concern.EXCHANGES, "intersection does what union should"),
  /** Another operator. */
  INTERSECTION_AS_DIFFERENCE(Concern.EXCHANGES, "intersection does what difference should"),
  /** Another operator. */
  DIFFERENCE_AS_UNION(Concern.EXCHANGES, "difference does what union should"),
  /** Another operator. */
  DIFFERENCE_AS_INTERSECTION(Concern.EXCHANGES, "difference does what intersection should"),
  /** Lists hold a span less. */
  SPAN_LESS(Concern.SIZES, "a list holds one span less than declared"),
  /** Lists hold a span more. */
  SPAN_MORE(Concern.SIZES, "a list holds one span more than declared"),
  /** The deepest list gives way. */
  LIST_LESS(Concern.SIZES, "the stack holds one list less than declared; the lowest is lost"),
  /** Overflow is not reported. */
  OVERFLOW_NEVER(Concern.DECISIONS, "overflow is never set"),
  /** Overflow ends with the next operation. */
  OVERFLOW_FORGOTTEN(Concern.REMAINS, "overflow lasts until the next operation only"),
  /** Overflow outlives its ray. */
  OVERFLOW_KEPT(Concern.REMAINS, "overflow is kept from the ray before"),
  /** The best surface outlives its ray. */
  BEST_KEPT(Concern.REMAINS, "the nearest surface is kept from the ray before"),
  /** Any-hit outlives its ray. */
  ANY_HIT_KEPT(Concern.REMAINS, "once a ray was an any-hit ray, all are"),
  /** Start outlives an any-hit ray. */
  START_KEPT_FROM_ANY_HIT(
      Concern.REMAINS, "the start is that of the ray before, if that was an any-hit ray"),
  /** Start outlives its ray. */
  START_KEPT(Concern.REMAINS, "the start is that of the ray before"),
  /** Limit outlives its ray. */
  LIMIT_KEPT(Concern.REMAINS, "the limit is that of the ray before"),
  /** The first dispatch comes sooner. */
  FIRST_EARLIER(Concern.CYCLES, "the first operation of a ray is dispatched one cycle early"),
  /** The first dispatch comes later. */
  FIRST_LATER(Concern.CYCLES, "the first operation of a ray is dispatched one cycle late"),
  /** A flush costs less. */
  AFTER_WRONG_EARLIER(Concern.CYCLES, "after a wrong prediction dispatch goes on one cycle early"),
  /** A flush costs more. */
  AFTER_WRONG_LATER(Concern.CYCLES, "after a wrong prediction dispatch goes on one cycle late"),
  /** Both redirections come sooner. */
  REDIRECTION_EARLIER(
      Concern.CYCLES,
      "the first operation of a ray and of the right way after a wrong prediction come one cycle"
          + " early"),
  /** Both redirections come later. */
  REDIRECTION_LATER(
      Concern.CYCLES,
      "the first operation of a ray and of the right way after a wrong prediction come one cycle"
          + " late"),
  /** A taken skip costs nothing. */
  AFTER_TAKEN_EARLIER(Concern.CYCLES, "a skip predicted taken costs one cycle less"),
  /** A taken skip costs more. */
  AFTER_TAKEN_LATER(Concern.CYCLES, "a skip predicted taken costs one cycle more"),
  /** What follows a skip in memory is done before its target. */
  NEXT_BEFORE_THE_TARGET(
      Concern.CYCLES,
      "the operation behind a skip that is predicted taken is done before its target"),
  /** The right way begins one operation too early. */
  SKIP_AGAIN(Concern.CONSTANTS, "a skip that was wrongly predicted taken is done again"),
  /** Every second cycle only. */
  DISPATCH_HALVED(Concern.CYCLES, "an operation is dispatched in every second cycle only"),
  /** The way is shorter. */
  LATENCY_LESS(Concern.CYCLES, "an operation arrives one cycle early"),
  /** The way is longer. */
  LATENCY_MORE(Concern.CYCLES, "an operation arrives one cycle late"),
  /** Room for one operation less. */
  QUEUE_LESS(Concern.SIZES, "one operation less is under way than there is room for"),
  /** Room for one operation more. */
  QUEUE_MORE(Concern.SIZES, "one operation more is under way than there is room for"),
  /** A combination is quicker. */
  COMBINATION_EARLIER(Concern.CYCLES, "a combination takes one cycle less"),
  /** A combination is slower. */
  COMBINATION_LATER(Concern.CYCLES, "a combination takes one cycle more"),
  /** A wrong entry learns. */
  LEARNS_THE_NEXT(Concern.CONSTANTS, "the entry of the next address learns what a skip did"),
  /** A skip that is not taken teaches nothing. */
  LEARNS_TAKEN_ALONE(Concern.DECISIONS, "predictions do not learn from skips not taken"),
  /** A skip not taken counts at the top alone. */
  FORGETS_AT_THE_TOP(
      Concern.DECISIONS, "a skip not taken counts down from the highest state alone"),
  /** A skip that is taken teaches nothing. */
  LEARNS_NOT_TAKEN_ALONE(Concern.DECISIONS, "predictions do not learn from skips taken"),
  /** A skip that is taken counts twice. */
  LEARNS_TWICE(Concern.CONSTANTS, "a skip that is taken counts twice"),
  /** The counter wraps. */
  COUNTER_WRAPS_UP(Concern.WRAPS, "the counter of a prediction goes from 3 to 0"),
  /** The counter wraps. */
  COUNTER_WRAPS_DOWN(Concern.WRAPS, "the counter of a prediction goes from 0 to 3"),
  /** Taken is predicted sooner. */
  PREDICTS_FROM_ONE(Concern.DECISIONS, "taken is predicted from state 1 on"),
  /** Taken is predicted later. */
  PREDICTS_FROM_THREE(Concern.DECISIONS, "taken is predicted in state 3 alone"),
  /** One count leaves some out. */
  WRONG_TAKEN_UNCOUNTED(
      Concern.DECISIONS, "wrong predictions of skips that are taken are not counted"),
  /** One count leaves some out. */
  WRONG_NOT_TAKEN_UNCOUNTED(
      Concern.DECISIONS, "wrong predictions of skips that are not taken are not counted"),
  /** One count leaves some out. */
  RIGHT_TAKEN_UNCOUNTED(
      Concern.DECISIONS, "right predictions of skips that are taken are not counted"),
  /** One count leaves some out. */
  RIGHT_NOT_TAKEN_UNCOUNTED(
      Concern.DECISIONS, "right predictions of skips that are not taken are not counted"),
  /** A reset clears one entry. */
  OTHER_PREDICTIONS_KEPT(Concern.REMAINS, "a reset clears the first prediction alone"),
  /** A reset leaves the table. */
  PREDICTIONS_KEPT(Concern.REMAINS, "a reset does not clear the predictions");

  /** What an alteration is about. */
  public enum Concern {
    /** What operations give. */
    VALUES,
    /** A comparison, or what it decides. */
    DECISIONS,
    /** One thing taken for another. */
    EXCHANGES,
    /** A number that is off. */
    CONSTANTS,
    /** How much there is room for. */
    SIZES,
    /** What wraps that should not. */
    WRAPS,
    /** A sign that is lost, or counts where it should not. */
    SIGNS,
    /** What is left over from before. */
    REMAINS,
    /** In which cycle something happens. */
    CYCLES
  }

  private final Concern concern;
  private final String words;

  Alteration(Concern concern, String words) {
    this.concern = concern;
    this.words = words;
  }

  /**
   * What it is about.
   *
   * @return the concern
   */
  public Concern concern() {
    return concern;
  }

  /**
   * Whether it changes nothing without an {@link ExecutorTiming}.
   *
   * @return true for cycles, room and predictions
   */
  public boolean isOfTime() {
    return compareTo(FIRST_EARLIER) >= 0;
  }

  /**
   * Whether something outlives its ray.
   *
   * @return true where it is kept from the ray before
   */
  public boolean isKept() {
    return compareTo(OVERFLOW_KEPT) >= 0 && compareTo(LIMIT_KEPT) <= 0;
  }

  /** What the executor does, in words. */
  @Override
  public String toString() {
    return words;
  }
}
