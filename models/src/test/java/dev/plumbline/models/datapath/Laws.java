package dev.plumbline.models.datapath;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;
import java.util.Arrays;
import java.util.List;
import java.util.function.Function;

/** What has to hold of the three evaluations of any datapath, whatever its inputs. */
final class Laws {
  private static final int CAPACITY = 97;

  private Laws() {}

  /** Output 0 in bits is what exact integer arithmetic gives. */
  static void bitsAre(
      Datapath datapath, List<BigInteger[]> cases, Function<BigInteger[], BigInteger> oracle) {
    BitEvaluation bits = datapath.bits(CAPACITY);
    Format format = datapath.outputs().get(0).format();
    for (int from = 0; from < cases.size(); from += CAPACITY) {
      int n = Math.min(CAPACITY, cases.size() - from);
      Cases.fill(datapath, bits::input, cases, from, n);
      bits.run(n);
      for (int i = 0; i < n; i++) {
        BigInteger[] row = cases.get(from + i);
        assertEquals(
            oracle.apply(row),
            Cases.code(format, w -> bits.output(0, w), i),
            () -> "codes " + Arrays.toString(row) + " in\n" + datapath);
      }
    }
  }

  /**
   * Bits lie within the bounds, and so does the ideal wherever it is a number.
   *
   * @param slack how much of an LSB, of the result and of the inputs' size the arithmetic of
   *     doubles may lose
   */
  static void hold(Datapath datapath, List<BigInteger[]> cases, double slack) {
    BitEvaluation bits = datapath.bits(CAPACITY);
    BoundsEvaluation bounds = datapath.bounds(CAPACITY);
    IdealEvaluation ideal = datapath.ideal(CAPACITY);
    for (int from = 0; from < cases.size(); from += CAPACITY) {
      int n = Math.min(CAPACITY, cases.size() - from);
      Cases.fill(datapath, bits::input, cases, from, n);
      Cases.fill(datapath, bounds::input, cases, from, n);
      Cases.fill(datapath, ideal::input, cases, from, n);
      bits.run(n);
      bounds.run(n);
      ideal.run(n);
      for (int output = 0; output < datapath.outputs().size(); output++) {
        int o = output;
        Format format = datapath.outputs().get(o).format();
        for (int i = 0; i < n; i++) {
          BigInteger code = Cases.code(format, w -> bits.output(o, w), i);
          BigInteger low = Cases.code(format, w -> bounds.low(o, w), i);
          BigInteger high = Cases.code(format, w -> bounds.high(o, w), i);
          double real = ideal.output(o)[i] / format.lsbs();
          BigInteger[] row = cases.get(from + i);
          double lost = slack * (1 + Math.abs(real) + largest(datapath, row) / format.lsbs());
          assertTrue(
              low.compareTo(code) <= 0
                  && code.compareTo(high) <= 0
                  && !(real < low.doubleValue() - lost)
                  && !(real > high.doubleValue() + lost),
              () ->
                  "bounds "
                      + low
                      + " to "
                      + high
                      + ", bits "
                      + code
                      + ", ideal "
                      + real
                      + " LSB of output "
                      + o
                      + " for codes "
                      + Arrays.toString(row)
                      + " in\n"
                      + datapath);
        }
      }
    }
  }

  private static double largest(Datapath datapath, BigInteger[] row) {
    double largest = 0;
    for (int i = 0; i < row.length; i++) {
      largest = Math.max(largest, Math.abs(datapath.inputs().get(i).format().toReal(row[i])));
    }
    return largest;
  }
}
