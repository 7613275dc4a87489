package dev.plumbline.models.light;

/**
 * How many rays were sent, by kind.
 *
 * @param primary one a pixel
 * @param shadow towards the lamp, from surfaces that face it
 * @param mirror from surfaces that mirror
 * @param mirrorShadow towards the lamp, from surfaces seen in a mirror
 */
public record RayCounts(long primary, long shadow, long mirror, long mirrorShadow) {
  /** No rays. */
  public static final RayCounts NONE = new RayCounts(0, 0, 0, 0);

  /**
   * Both together.
   *
   * @param other to be added
   * @return the sum
   */
  public RayCounts plus(RayCounts other) {
    return new RayCounts(
        primary + other.primary,
        shadow + other.shadow,
        mirror + other.mirror,
        mirrorShadow + other.mirrorShadow);
  }

  /**
   * All kinds together.
   *
   * @return the sum
   */
  public long all() {
    return primary + shadow + mirror + mirrorShadow;
  }
}
