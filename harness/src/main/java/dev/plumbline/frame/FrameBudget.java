package dev.plumbline.frame;

import dev.plumbline.models.parsing.TextTable;
import java.util.List;
import java.util.Locale;

/**
 * How many cycles a ray may take, for a picture of some size at some rate.
 *
 * <pre>{@code
 * double cycles = new FrameBudget(50e6, 2, 256, 192, 12, 2.3).cyclesOfRay();
 * }</pre>
 *
 * @param clock in Hz
 * @param contexts pixels in hand at a time
 * @param width pixels in a row
 * @param height rows
 * @param rate frames a second
 * @param raysOfPixel rays that a pixel takes on average, primary ones counted
 */
public record FrameBudget(
    double clock, int contexts, int width, int height, double rate, double raysOfPixel) {
  /** Checks that all are above 0. */
  public FrameBudget {
    require("clock", clock);
    require("number of contexts", contexts);
    require("width", width);
    require("height", height);
    require("rate", rate);
    require("number of rays a pixel", raysOfPixel);
  }

  private static void require(String what, double value) {
    if (!(value > 0) || Double.isInfinite(value)) {
      throw new IllegalArgumentException(
          "Budget of a frame with a "
              + what
              + " of \""
              + value
              + "\"; a number above 0 is allowed.");
    }
  }

  /**
   * The cycles that a pixel may take from its context.
   *
   * @return clock times contexts over pixels a second
   */
  public double cyclesOfPixel() {
    return clock * contexts / (rate * width * height);
  }

  /**
   * The cycles that a ray may take from its context, with all that is done for its pixel beside.
   *
   * @return {@link #cyclesOfPixel} over the rays of a pixel
   */
  public double cyclesOfRay() {
    return cyclesOfPixel() / raysOfPixel;
  }

  /**
   * The rate at which rays of so many cycles draw the picture.
   *
   * @param cycles that a ray takes from its context on average
   * @return frames a second
   */
  public double rateAt(double cycles) {
    return clock * contexts / (cycles * raysOfPixel * width * height);
  }

  /**
   * Budgets as text: a row for each rate, a column for each number of contexts.
   *
   * @param rates frames a second
   * @param contexts pixels in hand at a time
   * @return aligned lines of cycles that a ray may take
   */
  public List<String> table(List<Double> rates, List<Integer> contexts) {
    String[] headings = new String[contexts.size() + 1];
    headings[0] = "frames a second";
    for (int i = 0; i < contexts.size(); i++) {
      int count = contexts.get(i);
      headings[i + 1] = count + (count == 1 ? " context" : " contexts");
    }
    TextTable table = new TextTable(headings);
    for (int column = 0; column < headings.length; column++) {
      table.right(column);
    }
    for (double each : rates) {
      String[] cells = headings.clone();
      cells[0] = String.format(Locale.ROOT, each == Math.rint(each) ? "%.0f" : "%.2f", each);
      for (int i = 0; i < contexts.size(); i++) {
        FrameBudget budget =
            new FrameBudget(clock, contexts.get(i), width, height, each, raysOfPixel);
        cells[i + 1] = String.format(Locale.ROOT, "%.1f", budget.cyclesOfRay());
      }
      table.add(cells);
    }
    return table.lines();
  }
}
