package dev.plumbline.samples.outside;

/** What came of lines through a convex solid: how many hit, and the chords of those that did. */
final class ChordSample {
  /** A millionth: what chance alone exceeds that often, times the root of the number of chords. */
  private static final double KOLMOGOROV = Math.sqrt(Math.log(2e6) / 2);

  private static final int BINS = 4096;

  private final double longest;
  private final long[] bins = new long[BINS];
  private long lines;
  private long hits;
  private double sum;
  private double squares;

  /** Chords are binned up to the longest that there can be. */
  ChordSample(double longest) {
    this.longest = longest;
  }

  void hit(double chord) {
    lines++;
    hits++;
    sum += chord;
    squares += chord * chord;
    bins[(int) Math.max(0, Math.min(BINS - 1, chord / longest * BINS))]++;
  }

  void miss() {
    lines++;
  }

  long lines() {
    return lines;
  }

  /** How many standard errors the share of hits is off. */
  double hitsOff(double probability) {
    double error = Math.sqrt(probability * (1 - probability) / lines);
    return ((double) hits / lines - probability) / error;
  }

  /** How many standard errors the mean chord is off; the error is the sample's own. */
  double meanOff(double mean) {
    double own = sum / hits;
    return (own - mean) / Math.sqrt((squares / hits - own * own) / hits);
  }

  /**
   * How many standard errors the mean square is off from a sphere's 2 R^2: by the chord law l^2 is
   * uniform up to 4 R^2.
   */
  double meanSquareOff(double radius) {
    double most = 4 * radius * radius;
    return (squares / hits - most / 2) / (most / Math.sqrt(12.0 * hits));
  }

  /**
   * The largest distance from the chord law of a sphere, l^2 / 4 R^2, seen at the ends of bins; 1
   * is where chance alone comes once in a million times (Kolmogorov, Smirnov).
   */
  double lawOff(double radius) {
    double worst = 0;
    long below = 0;
    for (int bin = 0; bin < BINS; bin++) {
      below += bins[bin];
      double end = Math.min(2 * radius, (bin + 1) * longest / BINS);
      double law = end * end / (4 * radius * radius);
      worst = Math.max(worst, Math.abs((double) below / hits - law));
    }
    return worst * Math.sqrt((double) hits) / KOLMOGOROV;
  }
}
