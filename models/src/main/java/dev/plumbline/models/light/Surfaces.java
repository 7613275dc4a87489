package dev.plumbline.models.light;

/**
 * What rays meet, in columns: one element a ray. Public fields, since whoever traces fills them and
 * whoever shades reads them, thousands at a time.
 */
public final class Surfaces {
  /** Whether there is a surface; of a ray that asks for any, whether it is blocked. */
  public final boolean[] hit;

  /** Its distance, a code of the word; where there is none, anything. */
  public final long[] distance;

  /** The address of the solid whose surface it is, in the program. */
  public final int[] address;

  /** Of a box 2 axis + side: axis 0 to 2 for x, y, z, side 1 for the max plane; else 0. */
  public final int[] face;

  /**
   * Columns for so many rays.
   *
   * @param capacity 1 or more
   */
  public Surfaces(int capacity) {
    hit = new boolean[capacity];
    distance = new long[capacity];
    address = new int[capacity];
    face = new int[capacity];
  }
}
