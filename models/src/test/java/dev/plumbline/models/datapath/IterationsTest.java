package dev.plumbline.models.datapath;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

/** Iterations that designers unroll, described by loops, against what they stand for. */
class IterationsTest {
  /** The remainder doubled, a bit of the dividend, and the divisor taken off where it fits. */
  private static Datapath restoring(int bits) {
    Format word = Format.unsigned(bits, 0);
    Datapath.Builder b = Datapath.named("restoring");
    Value n = b.input("n", word);
    Value d = b.input("d", word, BigInteger.ONE, word.maxCode());
    List<Value> end =
        b.unrolled(
            bits,
            List.of(b.constant("r_0", word, 0)),
            (i, s) -> {
              Value bit = b.field("bit_" + i, n, bits - 1 - i, bits - 1 - i);
              Value doubled = b.concatenate("doubled_" + i, s.get(0), bit);
              Value fits = b.atMost("q_" + i, d, doubled);
              Value rest = b.subtract("rest_" + i, doubled, d);
              Value kept = b.select("kept_" + i, fits, rest, doubled);
              Value r = b.convert("r_" + (i + 1), kept, word, Rounding.FLOOR, Overflow.WRAP);
              return List.of(r);
            });
    return b.output("r", end.get(0)).build();
  }

  @Test
  void restoringDivisionLeavesTheRemainder() {
    Datapath datapath = restoring(5);
    List<BigInteger[]> cases = new ArrayList<>(Cases.all(datapath.inputs()));
    cases.removeIf(c -> c[1].signum() == 0);
    Laws.bitsAre(datapath, cases, c -> c[0].mod(c[1]));
  }

  /** Added where it went below zero, taken off where not; the quotient's digits are the signs. */
  private static Datapath nonRestoring(int bits) {
    Format word = Format.unsigned(bits, 0);
    Datapath.Builder b = Datapath.named("non_restoring");
    Value n = b.input("n", word);
    Value d = b.input("d", word, BigInteger.ONE, word.maxCode());
    Value nought = b.constant("nought", word, 0);
    List<Value> digits = new ArrayList<>();
    b.unrolled(
        bits,
        List.of(b.constant("r_0", Format.signed(bits + 1, 0), 0)),
        (i, s) -> {
          Value bit = b.field("bit_" + i, n, bits - 1 - i, bits - 1 - i);
          Value doubled =
              b.add(
                  "doubled_" + i,
                  b.multiply(
                      "twice_" + i, s.get(0), b.constant("two_" + i, Format.unsigned(2, 0), 2)),
                  bit);
          Value below = b.lessThan("below_" + i, s.get(0), nought);
          Value next =
              b.select(
                  "next_" + i,
                  below,
                  b.add("more_" + i, doubled, d),
                  b.subtract("less_" + i, doubled, d));
          Value r =
              b.convert(
                  "r_" + (i + 1), next, Format.signed(bits + 1, 0), Rounding.FLOOR, Overflow.WRAP);
          digits.add(b.atMost("digit_" + i, nought, r));
          return List.of(r);
        });
    return b.output(b.concatenate("q", digits.toArray(new Value[0]))).build();
  }

  @Test
  void nonRestoringDivisionGivesTheQuotient() {
    Datapath datapath = nonRestoring(5);
    List<BigInteger[]> cases = new ArrayList<>(Cases.all(datapath.inputs()));
    cases.removeIf(c -> c[1].signum() == 0);
    Laws.bitsAre(datapath, cases, c -> c[0].divide(c[1]));
  }

  /** y (2 - d y) squares the relative error, from a first guess that is off by 1/17 at most. */
  @Test
  @DisplayName("B7: Newton's reciprocal as a loop")
  void newtonsIterationSquaresItsError() {
    Format fine = Format.signed(3, 40);
    Datapath.Builder b = Datapath.named("newton");
    Value d =
        b.input("d", Format.unsigned(0, 10), BigInteger.valueOf(512), BigInteger.valueOf(1023));
    Value slope = b.multiply("slope", d, b.constant("c1", fine, Math.round(32 / 17.0 * 0x1p40)));
    Value first =
        b.subtract("first", b.constant("c0", fine, Math.round(48 / 17.0 * 0x1p40)), slope);
    Value two = b.constant("two", Format.unsigned(2, 0), 2);
    Value begin = b.convert("y_0", first, fine, Rounding.FLOOR, Overflow.SATURATE);
    List<Value> end =
        b.unrolled(
            3,
            List.of(begin),
            (i, s) -> {
              b.output("y" + i, s.get(0));
              Value product = b.multiply("dy_" + i, d, s.get(0));
              Value off =
                  b.convert(
                      "off_" + i,
                      b.subtract("e_" + i, two, product),
                      fine,
                      Rounding.FLOOR,
                      Overflow.SATURATE);
              Value next = b.multiply("full_" + i, s.get(0), off);
              String name = "y_" + (i + 1);
              return List.of(b.convert(name, next, fine, Rounding.FLOOR, Overflow.SATURATE));
            });
    Datapath datapath = b.output("y3", end.get(0)).build();
    BitEvaluation bits = datapath.bits(512);
    for (int i = 0; i < 512; i++) {
      bits.input(0, 0)[i] = 512L + i;
    }
    bits.run(512);
    double[] limits = {1 / 17.0, 1 / 289.0, 1 / 83521.0, 1 / 6975757441.0};
    for (int n = 0; n < 4; n++) {
      for (int i = 0; i < 512; i++) {
        double error = 1 - (512 + i) / 1024.0 * bits.output(n, 0)[i] * 0x1p-40;
        assertTrue(Math.abs(error) <= limits[n] + 0x1p-37, n + " " + i + " " + error);
      }
    }
  }

  /** Passes of CORDIC without an angle: the sign of what is left is that of a constant. */
  private static Datapath cordic(int passes) {
    Format word = Format.signed(2, 30);
    Datapath.Builder b = Datapath.named("cordic");
    Value nought = b.constant("nought", word, 0);
    Value x = b.constant("x_0", word, 1 << 29);
    List<Value> end =
        b.unrolled(
            passes,
            List.of(
                x,
                nought,
                b.input(
                    "z", word, BigInteger.valueOf(-1686629713L), BigInteger.valueOf(1686629713L))),
            (i, s) -> {
              Value by = b.constant("by_" + i, Format.unsigned(5, 0), i);
              Value arc =
                  b.constant("arc_" + i, word, Math.round(Math.atan(Math.pow(2, -i)) * 0x1p30));
              Value back = b.lessThan("back_" + i, s.get(2), nought);
              Value dx = b.shiftRight("dx_" + i, s.get(1), by);
              Value dy = b.shiftRight("dy_" + i, s.get(0), by);
              String n = "_" + (i + 1);
              return List.of(
                  b.select(
                      "x" + n,
                      back,
                      b.add("xp" + n, s.get(0), dx),
                      b.subtract("xm" + n, s.get(0), dx)),
                  b.select(
                      "y" + n,
                      back,
                      b.subtract("ym" + n, s.get(1), dy),
                      b.add("yp" + n, s.get(1), dy)),
                  b.select(
                      "z" + n,
                      back,
                      b.add("zp" + n, s.get(2), arc),
                      b.subtract("zm" + n, s.get(2), arc)));
            });
    return b.output("x", end.get(0)).output("y", end.get(1)).build();
  }

  /** The gain is the product of sqrt(1 + 4^-i), 1.6467602581... without end. */
  @Test
  @DisplayName("B16: the gain of CORDIC")
  void cordicTurnsAndGainsByItsProduct() {
    int passes = 24;
    double gain = 1;
    for (int i = 0; i < passes; i++) {
      gain *= Math.sqrt(1 + Math.pow(4, -i));
    }
    assertEquals(1.6467602581, gain, 1e-9);
    Datapath datapath = cordic(passes);
    BitEvaluation bits = datapath.bits(201);
    BoundsEvaluation bounds = datapath.bounds(201);
    IdealEvaluation ideal = datapath.ideal(201);
    for (int i = 0; i <= 200; i++) {
      long z = Math.round((i - 100) / 100.0 * Math.PI / 2 * 0x1p30);
      bits.input(0, 0)[i] = z;
      bounds.input(0, 0)[i] = z;
      ideal.input(0, 0)[i] = z;
    }
    bits.run(201);
    bounds.run(201);
    ideal.run(201);
    for (int i = 0; i <= 200; i++) {
      double angle = (i - 100) / 100.0 * Math.PI / 2;
      double x = bits.output(0, 0)[i] * 0x1p-30;
      double y = bits.output(1, 0)[i] * 0x1p-30;
      assertEquals(gain / 2, Math.hypot(x, y), 1e-7);
      assertEquals(gain / 2 * Math.cos(angle), x, 3e-7);
      assertEquals(gain / 2 * Math.sin(angle), y, 3e-7);
      // The angle never rounds, so that no decision is open and bounds stay narrow.
      assertTrue(bounds.high(0, 0)[i] - bounds.low(0, 0)[i] < 100);
      assertTrue(bounds.low(1, 0)[i] <= bits.output(1, 0)[i]);
      assertTrue(bounds.high(1, 0)[i] >= bits.output(1, 0)[i]);
      double real = ideal.output(1)[i] * 0x1p30;
      assertTrue(bounds.low(1, 0)[i] <= real + 1e-4 && bounds.high(1, 0)[i] >= real - 1e-4);
    }
  }
}
