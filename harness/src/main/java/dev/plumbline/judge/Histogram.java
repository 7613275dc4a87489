package dev.plumbline.judge;

/**
 * How often numbers of LSB occurred, and their median. Numbers up to 1,023 are told apart exactly,
 * larger ones to one part in thirty-two.
 */
final class Histogram {
  private static final int EXACT_BITS = 10;
  private static final int EXACT = 1 << EXACT_BITS;
  private static final int PART_BITS = 5;
  private static final int PARTS = 1 << PART_BITS;

  private final long[] counts = new long[EXACT + PARTS * (63 - EXACT_BITS)];
  private long beyond; // larger than any number

  void add(long number) {
    counts[bucket(number)]++;
  }

  void addBeyond() {
    beyond++;
  }

  void add(Histogram other) {
    for (int i = 0; i < counts.length; i++) {
      counts[i] += other.counts[i];
    }
    beyond += other.beyond;
  }

  /** The median, rounded down to the least number of its part; -1 when nothing was added. */
  long medianAtLeast() {
    int bucket = medianBucket();
    return bucket < 0 || bucket == counts.length ? bucketless(bucket) : lowest(bucket);
  }

  /**
   * The least number that half or more of all are not above, rounded up to the greatest of its
   * part; -1 when nothing was added, the greatest long when more than half lie beyond any number.
   */
  long medianAtMost() {
    int bucket = medianBucket();
    return bucket < 0 || bucket >= counts.length - 1 ? bucketless(bucket) : lowest(bucket + 1) - 1;
  }

  private static long bucketless(int bucket) {
    return bucket < 0 ? -1 : Long.MAX_VALUE;
  }

  private int medianBucket() {
    long all = beyond;
    for (long count : counts) {
      all += count;
    }
    long seen = 0;
    int bucket = -1;
    while (2 * seen < all && bucket < counts.length) {
      bucket++;
      seen += bucket < counts.length ? counts[bucket] : beyond;
    }
    return bucket;
  }

  private static int bucket(long number) {
    if (number < EXACT) {
      return (int) number;
    }
    int exponent = 63 - Long.numberOfLeadingZeros(number); // EXACT_BITS to 62
    int part = (int) (number >>> (exponent - PART_BITS)) & (PARTS - 1);
    return EXACT + (exponent - EXACT_BITS) * PARTS + part;
  }

  private static long lowest(int bucket) {
    if (bucket < EXACT) {
      return bucket;
    }
    int exponent = (bucket - EXACT) / PARTS + EXACT_BITS;
    long part = bucket % PARTS; // EXACT is a multiple of PARTS
    return (PARTS + part) << (exponent - PART_BITS);
  }
}
