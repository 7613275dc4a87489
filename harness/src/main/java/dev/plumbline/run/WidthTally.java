package dev.plumbline.run;

/**
 * How wide bounds were, in LSB: the worst of all, and a histogram of a sample. Widths up to 255 are
 * distinguished exactly, larger ones to one part in sixteen.
 */
final class WidthTally {
  private static final int EXACT = 256;
  private static final int PARTS = 16;

  private final long[] counts = new long[EXACT + PARTS * 56];
  private long worst = -1; // no width seen

  void worst(long width) {
    worst = Math.max(worst, width);
  }

  void sample(long width) {
    counts[bucket(width)]++;
  }

  void add(WidthTally other) {
    worst = Math.max(worst, other.worst);
    for (int i = 0; i < counts.length; i++) {
      counts[i] += other.counts[i];
    }
  }

  /** -1 when nothing was seen. */
  long worst() {
    return worst;
  }

  /** The median of the sample, rounded down to its bucket; -1 when nothing was sampled. */
  long median() {
    long all = 0;
    for (long count : counts) {
      all += count;
    }
    if (all == 0) {
      return -1;
    }
    long seen = 0;
    int bucket = -1;
    while (2 * seen < all) {
      bucket++;
      seen += counts[bucket];
    }
    return lowest(bucket);
  }

  private static int bucket(long width) {
    if (width < EXACT) {
      return (int) width;
    }
    int exponent = 63 - Long.numberOfLeadingZeros(width); // 8 to 62
    int part = (int) (width >>> (exponent - 4)) & (PARTS - 1);
    return EXACT + (exponent - 8) * PARTS + part;
  }

  private static long lowest(int bucket) {
    if (bucket < EXACT) {
      return bucket;
    }
    int exponent = (bucket - EXACT) / PARTS + 8;
    long part = bucket % PARTS; // EXACT is a multiple of PARTS
    return (PARTS + part) << (exponent - 4);
  }
}
