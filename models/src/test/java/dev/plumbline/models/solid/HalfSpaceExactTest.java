package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.Evaluated;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;
import java.util.LinkedHashMap;
import java.util.Map;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Every bit of the declared micro-architecture, worked out again in the JDK's exact integers. */
class HalfSpaceExactTest {
  private static final int CASES = 40_000;
  private static final long SEED = 37;

  @ParameterizedTest
  @EnumSource
  void everyBitIsAsDeclared(PlaneFormats formats) {
    long[][] cases = new PlaneCases(SEED, formats.word, formats.direction).columns(CASES);
    Datapath half = HalfSpace.of(formats.word, formats.direction).datapath();
    Evaluated bits = Evaluated.bits(half, cases, "slope", "inverse", "depth", "distance");
    int parallels = 0;
    int saturated = 0;
    for (int i = 0; i < CASES; i++) {
      Map<String, BigInteger> expected = declared(formats, cases, i);
      for (Map.Entry<String, BigInteger> step : expected.entrySet()) {
        int at = i;
        assertEquals(
            step.getValue().longValueExact(),
            bits.codes(step.getKey())[i],
            () -> step.getKey() + " for " + Evaluated.describe(half, cases, at));
      }
      parallels += (int) bits.codes("parallel")[i];
      saturated += expected.get("distance").equals(formats.word.maxCode()) ? 1 : 0;
    }
    assertTrue(parallels > 100 && saturated > 100, parallels + " and " + saturated);
  }

  private static Map<String, BigInteger> declared(PlaneFormats formats, long[][] cases, int i) {
    Format word = formats.word;
    int fine = formats.direction.fractionBits();
    int places = word.fractionBits();
    BigInteger height = big(cases[9][i]).shiftLeft(fine).subtract(dot(cases, i, 0));
    BigInteger slope = saturated(near(dot(cases, i, 3), 2 * fine - places), word.width());
    BigInteger inverse = word.maxCode();
    if (slope.signum() != 0) {
      // The JDK's division goes towards zero.
      inverse = saturated(BigInteger.ONE.shiftLeft(2 * places).divide(slope), word.width());
    }
    // Four more fraction bits and three more integer bits than a word.
    BigInteger depth = saturated(near(height, fine - 4), word.width() + 7);
    BigInteger distance = saturated(near(depth.multiply(inverse), places + 4), word.width());
    boolean inside = height.signum() >= 0;
    BigInteger entry = inside ? word.minCode() : word.maxCode();
    BigInteger exit = inside ? word.maxCode() : word.minCode();
    if (slope.signum() > 0) {
      entry = word.minCode();
      exit = distance;
    } else if (slope.signum() < 0) {
      entry = distance;
      exit = word.maxCode();
    }
    Map<String, BigInteger> steps = new LinkedHashMap<>();
    steps.put("slope", slope);
    steps.put("inverse", inverse);
    steps.put("depth", depth);
    steps.put("distance", distance);
    steps.put("inside", bit(inside));
    steps.put("parallel", bit(slope.signum() == 0));
    steps.put("leaving", bit(slope.signum() > 0));
    steps.put("entry", entry);
    steps.put("exit", exit);
    steps.put("hit", bit(entry.compareTo(exit) <= 0 && exit.signum() >= 0));
    return steps;
  }

  private static BigInteger dot(long[][] cases, int i, int from) {
    BigInteger sum = BigInteger.ZERO;
    for (int axis = 0; axis < 3; axis++) {
      sum = sum.add(big(cases[from + axis][i]).multiply(big(cases[6 + axis][i])));
    }
    return sum;
  }

  /** Without the last {@code drop} bits, to the nearest, half up. */
  private static BigInteger near(BigInteger code, int drop) {
    return drop <= 0
        ? code.shiftLeft(-drop)
        : code.add(BigInteger.ONE.shiftLeft(drop - 1)).shiftRight(drop);
  }

  private static BigInteger saturated(BigInteger code, int width) {
    BigInteger limit = BigInteger.ONE.shiftLeft(width - 1);
    return code.max(limit.negate()).min(limit.subtract(BigInteger.ONE));
  }

  private static BigInteger bit(boolean set) {
    return set ? BigInteger.ONE : BigInteger.ZERO;
  }

  private static BigInteger big(long code) {
    return BigInteger.valueOf(code);
  }
}
