package dev.plumbline.models.datapath;

import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Random;

/**
 * How far apart the bounds of a register came in a run: whether its loop forgets what roundings may
 * do, as a stable filter does, or adds them up, as an accumulator does.
 *
 * <pre>{@code
 * for (BoundsGrowth each : BoundsGrowth.of(datapath, 4096, 1)) {
 *   System.out.println(each);   // sum: 16 LSB after 16 cases, ... 4096 LSB after 4096: still grows
 * }
 * }</pre>
 *
 * @param register its name
 * @param cases after how many each width was the widest so far: powers of two, and the last
 * @param widths in LSB of the register; 0 is one code
 * @param codes how many LSB its highest code is above its lowest
 */
public record BoundsGrowth(
    String register, List<Integer> cases, List<Double> widths, double codes) {
  public BoundsGrowth {
    cases = List.copyOf(cases);
    widths = List.copyOf(widths);
  }

  /**
   * How the bounds of the registers of a datapath grow from case to case.
   *
   * @param datapath to evaluate in bounds
   * @param cases to run, 2 or more; inputs are drawn by chance from their legal codes
   * @param seed of the draw
   * @return one for each register, in the order of their description
   * @throws DatapathException when a step has a meaning in bits only
   */
  public static List<BoundsGrowth> of(Datapath datapath, int cases, long seed) {
    if (cases < 2) {
      throw new DatapathException(
          "Growth of " + datapath.title() + " over " + cases + " cases: it takes 2 or more");
    }
    BoundsEvaluation bounds = datapath.bounds(1);
    Random random = new Random(seed);
    List<Held.Bounds> held = bounds.held();
    double[] widest = new double[held.size()];
    List<Integer> after = new ArrayList<>();
    List<List<Double>> widths = new ArrayList<>();
    held.forEach(each -> widths.add(new ArrayList<>()));
    for (int done = 1; done <= cases; done++) {
      draw(bounds, datapath, random);
      bounds.run(1);
      boolean noted = (done & (done - 1)) == 0 || done == cases;
      for (int k = 0; k < widest.length; k++) {
        widest[k] = Math.max(widest[k], held.get(k).width());
        if (noted) {
          widths.get(k).add(widest[k]);
        }
      }
      if (noted) {
        after.add(done);
      }
    }
    List<BoundsGrowth> growth = new ArrayList<>();
    for (int k = 0; k < widest.length; k++) {
      Value register = held.get(k).register();
      double codes = register.max().subtract(register.min()).doubleValue();
      growth.add(new BoundsGrowth(register.name(), after, widths.get(k), codes));
    }
    return growth;
  }

  private static void draw(BoundsEvaluation bounds, Datapath datapath, Random random) {
    List<Value> inputs = datapath.inputValues();
    for (int k = 0; k < inputs.size(); k++) {
      BigInteger span = inputs.get(k).max().subtract(inputs.get(k).min());
      BigInteger code = new BigInteger(span.bitLength(), random).min(span).add(inputs.get(k).min());
      long[] words = inputs.get(k).format().toWords(code);
      for (int word = 0; word < words.length; word++) {
        bounds.input(k, word)[0] = words[word];
      }
    }
  }

  /**
   * Whether the bounds came no farther apart in the second half of the run than in the first, and
   * stayed below every code of the register.
   *
   * @return false when they still grow, or say nothing any more
   */
  public boolean isSettled() {
    double last = widths.get(widths.size() - 1);
    return last < codes && last <= halfway();
  }

  /** The widest by the power of two at or before half of the cases. */
  private double halfway() {
    int half = cases.get(cases.size() - 1) / 2;
    double width = widths.get(0);
    for (int k = 0; k < cases.size() && cases.get(k) <= half; k++) {
      width = widths.get(k);
    }
    return width;
  }

  /** The widths, and what became of them. */
  @Override
  public String toString() {
    StringBuilder text = new StringBuilder(register).append(": ");
    for (int k = 0; k < cases.size(); k++) {
      text.append(
          String.format(
              Locale.ROOT,
              "%s%.0f%s after %d",
              k == 0 ? "" : ", ",
              widths.get(k),
              k == 0 ? " LSB" : "",
              cases.get(k)));
    }
    boolean all = widths.get(widths.size() - 1) >= codes;
    return text + (isSettled() ? ": settled" : all ? ": any code" : ": still grows");
  }
}
