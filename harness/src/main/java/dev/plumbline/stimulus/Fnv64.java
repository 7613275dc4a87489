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

  /** {@code POWERS[n]} is the prime to the power n: what n zero bytes multiply a hash by. */
  private static final long[] POWERS = powers();

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

  /**
   * Folds a word's eight bytes into a hash, low byte first. Those at its top that are always zero
   * cost one multiplication together; the steps are as many whatever the word is, which a processor
   * can foresee.
   *
   * @param hash of what came before; {@link #BASIS} at first
   * @param word zero above so many bytes
   * @param bytes 0 to 8
   * @return the hash of both
   */
  public static long fold(long hash, long word, int bytes) {
    long folded = hash;
    long rest = word;
    for (int i = 0; i < bytes; i++) {
      folded = (folded ^ (rest & 0xFF)) * PRIME;
      rest >>>= Byte.SIZE;
    }
    return folded * POWERS[Long.SIZE / Byte.SIZE - bytes];
  }

  private static long[] powers() {
    long[] powers = new long[Long.SIZE / Byte.SIZE + 1];
    powers[0] = 1;
    for (int i = 1; i < powers.length; i++) {
      powers[i] = powers[i - 1] * PRIME;
    }
    return powers;
  }
}
