package dev.plumbline.models.traversal;

/**
 * A solid or skip of a program for a ray, as its datapath alone has it: what an executor knows
 * before the operation retires.
 *
 * @param address of the operation
 * @param entry a number of the traversal's distances
 * @param exit the same; not above the entry where nothing lies between them, and the lowest {@code
 *     long} where the ray's line misses a sphere
 * @param entryFace 0 to 5; 0 of others than boxes
 * @param exitFace the same
 * @param empty whether the solid gives no span, wherever the ray starts
 * @param missed whether its box is missed, of a skip
 * @param early whether it is taken whatever was found, of a skip
 */
public record Foreseen(
    int address,
    long entry,
    long exit,
    int entryFace,
    int exitFace,
    boolean empty,
    boolean missed,
    boolean early) {

  /**
   * Whether its datapath gives distances at all.
   *
   * @return false of a sphere that the ray's line misses
   */
  public boolean hasDistances() {
    return exit != Long.MIN_VALUE;
  }
}
