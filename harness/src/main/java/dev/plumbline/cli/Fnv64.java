package dev.plumbline.cli;

/** The 64-bit FNV-1a hash of Fowler, Noll and Vo, fed with words, low byte first. */
final class Fnv64 {
  /** The hash of nothing. */
  static final long BASIS = 0xCBF29CE484222325L;

  private static final long PRIME = 0x100000001B3L;

  /** {@code POWERS[n]} is the prime to the power n: what n zero bytes multiply a hash by. */
  private static final long[] POWERS = powers();

  private Fnv64() {}

  /** Folds a word's eight bytes into a hash; the zero bytes at its top cost one multiplication. */
  static long fold(long hash, long word) {
    long folded = hash;
    int zeros = Long.SIZE / Byte.SIZE;
    for (long rest = word; rest != 0; rest >>>= Byte.SIZE) {
      folded = (folded ^ (rest & 0xFF)) * PRIME;
      zeros--;
    }
    return folded * POWERS[zeros];
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
