package dev.plumbline.judge;

/**
 * How wide the bounds of an output were, in LSB, and how small an error they would have shown: the
 * widest, how many took in too much to judge, and histograms of a sample.
 */
public final class WidthTally {
  private final Histogram widths = new Histogram();
  private final Histogram shown = new Histogram();
  private long worst = -1; // no width seen
  private long open;

  public void worst(long width) {
    worst = Math.max(worst, width);
  }

  /** Counts results whose bounds took in more than half of all codes. */
  public void open(long results) {
    open += results;
  }

  /**
   * Takes a result into the sample.
   *
   * @param width from the lowest code allowed to the highest
   * @param farther from the code that came to the farther of the two, 0 or more; any more of an
   *     error, whichever way, lies outside
   * @param isOpen whether the bounds took in more than half of all codes
   */
  void sample(long width, long farther, boolean isOpen) {
    widths.add(width);
    if (isOpen || farther == Long.MAX_VALUE) {
      shown.addBeyond();
    } else {
      shown.add(farther + 1);
    }
  }

  /**
   * Takes a result into the sample that lies outside its bounds: no good one to add an error to.
   */
  void sampleWrong(long width) {
    widths.add(width);
  }

  public void add(WidthTally other) {
    worst = Math.max(worst, other.worst);
    open += other.open;
    widths.add(other.widths);
    shown.add(other.shown);
  }

  /** -1 when nothing was seen. */
  public long worst() {
    return worst;
  }

  public long open() {
    return open;
  }

  /** The median of the sample, rounded down to its part; -1 when nothing was sampled. */
  public long median() {
    return widths.medianAtLeast();
  }

  /**
   * The least error that half of the sample or more would have shown, rounded up to its part; -1
   * when nothing was sampled, the greatest long when no error would have been.
   */
  public long shown() {
    return shown.medianAtMost();
  }
}
