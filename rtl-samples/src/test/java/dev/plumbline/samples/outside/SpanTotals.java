package dev.plumbline.samples.outside;

/** Total spans of lines: their mean, and how far that is off in standard errors of the sample. */
final class SpanTotals {
  private long lines;
  private double sum;
  private double squares;

  void add(double total) {
    lines++;
    sum += total;
    squares += total * total;
  }

  long lines() {
    return lines;
  }

  /** How many standard errors the mean is off. */
  double off(double mean) {
    double own = sum / lines;
    return (own - mean) / (error() * own);
  }

  /** The standard error of the mean, as a share of it. */
  double error() {
    double own = sum / lines;
    return Math.sqrt((squares / lines - own * own) / lines) / own;
  }
}
