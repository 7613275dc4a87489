package dev.plumbline.models.traversal;

/**
 * What an executor makes of a ray's start and limit, which boxes it passes over, and what it says
 * of an any-hit ray. Executors differ in this; each choice stands by itself.
 *
 * <pre>{@code
 * RayRules ours = RayRules.standard();
 * RayRules yours = RayRules.plain().withEveryRayLimited(true);
 * }</pre>
 *
 * @param clipsAtStart whether a solid's span is clipped at the start before it becomes a list, so
 *     that what lies behind uses up no place of it, and a start below 0 is taken as 0; otherwise
 *     lists hold what lies behind as well, and a start may be negative
 * @param limitsEveryRay whether surfaces count strictly nearer than the limit alone, for all rays;
 *     otherwise the limit only says whether an any-hit ray ends at its nearest surface so far, and
 *     means nothing for others
 * @param anyHitAlone whether the result of an any-hit ray is the hit alone, its distance and
 *     surface 0; otherwise it is the nearest surface so far, as of any ray
 * @param passingMargin a skip is also taken where its box is met, but farther than the nearest
 *     surface so far, or than the limit of every ray, by more than so many LSB of a word; {@link
 *     #NEVER} where only boxes that are missed are skipped
 */
public record RayRules(
    boolean clipsAtStart, boolean limitsEveryRay, boolean anyHitAlone, int passingMargin) {
  /** A margin of executors that look into every box that is met. */
  public static final int NEVER = -1;

  private static final RayRules STANDARD = new RayRules(true, true, true, SceneUnits.MARGIN);
  private static final RayRules PLAIN = new RayRules(false, false, false, NEVER);

  /** Checks the margin. */
  public RayRules {
    if (passingMargin < NEVER) {
      throw new IllegalArgumentException(
          "Rules with a margin of "
              + passingMargin
              + " LSB: it has to be 0 or more, or -1 for boxes that are never passed over.");
    }
  }

  /**
   * The sample chip's.
   *
   * @return clipped at the start, every ray limited, the hit alone of any-hit rays, boxes too far
   *     away passed over
   */
  public static RayRules standard() {
    return STANDARD;
  }

  /**
   * None of it.
   *
   * @return lists as they are, limits for any-hit rays, results as of any ray, every box that is
   *     met looked into
   */
  public static RayRules plain() {
    return PLAIN;
  }

  /**
   * The same with another choice.
   *
   * @param clips whether solids are clipped at the start, and it is 0 or more
   * @return rules
   */
  public RayRules withClipping(boolean clips) {
    return new RayRules(clips, limitsEveryRay, anyHitAlone, passingMargin);
  }

  /**
   * The same with another choice.
   *
   * @param limits whether the limit counts for every ray
   * @return rules
   */
  public RayRules withEveryRayLimited(boolean limits) {
    return new RayRules(clipsAtStart, limits, anyHitAlone, passingMargin);
  }

  /**
   * The same with another choice.
   *
   * @param alone whether any-hit rays tell the hit alone
   * @return rules
   */
  public RayRules withAnyHitAlone(boolean alone) {
    return new RayRules(clipsAtStart, limitsEveryRay, alone, passingMargin);
  }

  /**
   * The same with another choice.
   *
   * @param lsbs that a box has to lie beyond what counts to be passed over; {@link #NEVER} for none
   * @return rules
   */
  public RayRules withPassingMargin(int lsbs) {
    return new RayRules(clipsAtStart, limitsEveryRay, anyHitAlone, lsbs);
  }

  /** Whether boxes may be passed over that are met. */
  boolean passesOver() {
    return passingMargin != NEVER;
  }
}
