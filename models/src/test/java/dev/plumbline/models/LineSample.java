package dev.plumbline.models;

/** Hits and chords of random lines, and how many standard errors they are off. */
public final class LineSample {
  private final int lines;
  private final double lsbs;
  private int hits;
  private double chords;
  private double squares;

  public LineSample(int lines, double lsbs) {
    this.lines = lines;
    this.lsbs = lsbs;
  }

  public void take(boolean hit, long chordCode) {
    if (hit) {
      double chord = chordCode * lsbs;
      hits++;
      chords += chord;
      squares += chord * chord;
    }
  }

  public double hitsOff(double probability) {
    double sigma = Math.sqrt(probability * (1 - probability) / lines);
    return ((double) hits / lines - probability) / sigma;
  }

  /** The mean chord of the lines that hit. */
  public double chordOff(double expected) {
    return off(expected, hits);
  }

  /** The mean span of all lines, that of a miss being zero. */
  public double spanOff(double expected) {
    return off(expected, lines);
  }

  private double off(double expected, int count) {
    double mean = chords / count;
    double variance = squares / count - mean * mean;
    return (mean - expected) / Math.sqrt(variance / count);
  }
}
