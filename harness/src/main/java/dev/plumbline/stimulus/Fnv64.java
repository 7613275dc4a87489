package dev.plumbline.stimulus;

/**
 * The 64-bit FNV-1a hash of Fowler, Noll and Vo: quick, defined in a line, the same in any
 * language. It tells runs apart and spreads names over seeds, but holds nobody off who wants two
 * texts of one hash; what may not clash, such as the key of a build in the cache, takes a SHA-256.
 */
public final class Fnv64 {
  /** The hash of nothing. */
  public static final long BASIS = 0xCBF29CE484222325L;

  private static final long PRIME = 0x100000001B3L;

  private Fnv64() {}

  /**
   * Folds bytes into a hash.
   *
   * @param hash of what came before; {@link #BASIS} at first
   * @param bytes any
   * @return the hash of both
   */
  public static long fold(long hash, byte[] bytes) {
    long folded = hash;
    for (byte b : bytes) {
      folded = (folded ^ (b & 0xFF)) * PRIME;
    }
    return folded;
  }
}
