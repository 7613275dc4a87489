package dev.plumbline.stimulus;

/**
 * One part of a mix and how much of it there is.
 *
 * <pre>{@code
 * Generator.mix(Share.of(7, Generator.uniform()), Share.of(3, Generator.corners()))
 * }</pre>
 *
 * @param <T> a {@link Generator} or a {@link Stimulus}
 * @param weight 1 or more; the share is the weight over the sum of all weights
 * @param part what is mixed in
 */
public record Share<T>(int weight, T part) {
  public Share {
    if (weight < 1) {
      throw new IllegalArgumentException(
          "A share of a mix cannot have weight "
              + weight
              + "; 1 or more is allowed. Leave the part out instead.");
    }
  }

  /**
   * Makes a share.
   *
   * @param <T> a {@link Generator} or a {@link Stimulus}
   * @param weight 1 or more
   * @param part what is mixed in
   * @return the share
   */
  public static <T> Share<T> of(int weight, T part) {
    return new Share<>(weight, part);
  }
}
