package dev.plumbline.models.datapath;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

class DivideTest {
  private static Datapath divide(Format a, Format b, Format quotient) {
    Datapath.Builder builder = Datapath.named("quotient");
    Value left = builder.input("a", a);
    return builder.output(builder.divide("y", left, builder.input("b", b), quotient)).build();
  }

  private static BigInteger oracle(BigInteger[] codes, Format a, Format b, Format quotient) {
    if (codes[1].signum() == 0) {
      return codes[0].signum() < 0 ? quotient.minCode() : quotient.maxCode();
    }
    int shift = quotient.fractionBits() - a.fractionBits() + b.fractionBits();
    BigInteger dividend = codes[0].shiftLeft(Math.max(shift, 0));
    BigInteger divisor = codes[1].shiftLeft(Math.max(-shift, 0));
    BigInteger[] parts = dividend.divideAndRemainder(divisor);
    boolean below = parts[1].signum() != 0 && parts[1].signum() != divisor.signum();
    BigInteger floor = below ? parts[0].subtract(BigInteger.ONE) : parts[0];
    return Overflow.SATURATE.apply(floor, quotient);
  }

  @Test
  void quotientsAreFloorsAndZeroDividesToTheEnds() {
    List<Format> small = List.of(Format.signed(3, 2), Format.unsigned(2, 3), Format.signed(6, -1));
    for (Format a : small) {
      for (Format b : small) {
        for (Format quotient : List.of(Format.signed(4, 3), Format.unsigned(6, 0))) {
          Datapath datapath = divide(a, b, quotient);
          Laws.bitsAre(datapath, Cases.all(datapath.inputs()), c -> oracle(c, a, b, quotient));
          Laws.hold(datapath, Cases.all(datapath.inputs()), 0x1p-50);
        }
      }
    }
    Format word = Format.signed(16, 16);
    Format narrow = Format.signed(14, 16);
    Datapath datapath = divide(narrow, word, word);
    List<BigInteger[]> cases = Cases.random(datapath.inputs(), 20_000, new Random(3));
    Laws.bitsAre(datapath, cases, c -> oracle(c, narrow, word, word));
    Laws.hold(datapath, cases, 0x1p-50);
  }

  /** Dividends and divisors of two words: the oracle is exact, the ends of all formats are met. */
  @Test
  void quotientsOfTwoWordsAreFloorsToo() {
    List<Format> operands =
        List.of(Format.signed(64, 32), Format.unsigned(5, 80), Format.signed(3, 40));
    for (Format a : operands) {
      for (Format b : List.of(Format.unsigned(4, 60), Format.signed(5, 64), Format.signed(30, 0))) {
        for (Format quotient : List.of(Format.signed(20, 24), Format.signed(2, 30))) {
          if (Divide.shift(a, b, quotient) + a.width() > 126) {
            continue;
          }
          Datapath datapath = divide(a, b, quotient);
          List<BigInteger[]> cases = Cases.random(datapath.inputs(), 5_000, new Random(5));
          cases.forEach(c -> c[1] = c[1].shiftRight(c[0].bitLength() % 70));
          Laws.bitsAre(datapath, cases, c -> oracle(c, a, b, quotient));
          Laws.hold(datapath, cases, 0x1p-45);
        }
      }
    }
  }

  /**
   * What divides several is inverted once: each quotient of intervals is what it is by itself, with
   * another division between them, and by a divisor that reaches zero.
   */
  @Test
  void quotientsByTheSameAreThoseOfEachAlone() {
    Format word = Format.signed(12, 8);
    Format above = Format.unsigned(5, 10);
    Format quotient = Format.signed(20, 9);
    for (int only = -1; only < 4; only++) {
      Datapath alone = quotients(word, above, quotient, only);
      Laws.hold(alone, Cases.random(alone.inputs(), 500, new Random(11)), 0x1p-40);
    }
    Datapath together = quotients(word, above, quotient, -1);
    List<BigInteger[]> cases = Cases.random(together.inputs(), 2_000, new Random(12));
    cases.addAll(multiples(2_000, new Random(13)));
    BoundsEvaluation all = together.bounds(cases.size());
    Cases.fill(together, all::input, cases, 0, cases.size());
    all.run(cases.size());
    for (int only = 0; only < 4; only++) {
      Datapath alone = quotients(word, above, quotient, only);
      BoundsEvaluation one = alone.bounds(cases.size());
      Cases.fill(alone, one::input, cases, 0, cases.size());
      one.run(cases.size());
      assertArrayEquals(one.low(0, 0), all.low(only, 0), "least of quotient " + only);
      assertArrayEquals(one.high(0, 0), all.high(only, 0), "greatest of quotient " + only);
      for (int i = 0; i < cases.size(); i++) {
        assertHull(cases.get(i), only, quotient, all.low(only, 0)[i], all.high(only, 0)[i]);
      }
    }
  }

  /** Quotients that are whole, of which a product with one over the divisor may fall short. */
  private static List<BigInteger[]> multiples(int count, Random random) {
    List<BigInteger[]> cases = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      int divisor = 1 + random.nextInt(1 << (1 + random.nextInt(14)));
      int times = random.nextInt((1 << 19) / divisor);
      int x = random.nextBoolean() ? divisor * times : -divisor * times;
      BigInteger code = BigInteger.valueOf(x);
      BigInteger by = BigInteger.valueOf(divisor);
      cases.add(new BigInteger[] {code, code, by, by});
    }
    return cases;
  }

  /** All four quotients, or one of them. */
  private static Datapath quotients(Format word, Format above, Format quotient, int only) {
    Datapath.Builder b = Datapath.named("quotients");
    Value x = b.input("x", word);
    Value y = b.input("y", word);
    Value d = b.input("d", above);
    Value e = b.input("e", above);
    Value dividend = b.either("dividend", x, y);
    Value[] by = {b.either("by", d, e), e};
    for (int i = 0; i < 4; i++) {
      if (only < 0 || only == i) {
        Value over = i < 2 ? dividend : b.negate("negated_" + i, dividend);
        b.output(b.divide("quotient_" + i, over, by[i % 2], quotient));
      }
    }
    return b.build();
  }

  /** The least floor and the greatest ceiling of the ends' quotients, or all codes. */
  private static void assertHull(BigInteger[] c, int which, Format quotient, long low, long high) {
    BigInteger least = quotient.minCode();
    BigInteger greatest = quotient.maxCode();
    BigInteger[] divisors = {which % 2 == 0 ? c[2] : c[3], c[3]};
    if (divisors[0].signum() > 0 && divisors[1].signum() > 0) {
      List<BigInteger> floors = new ArrayList<>();
      List<BigInteger> ceilings = new ArrayList<>();
      for (int end = 0; end < 4; end++) {
        BigInteger code = which < 2 ? c[end & 1] : c[end & 1].negate();
        BigInteger dividend = code.shiftLeft(11); // 9 - 8 + 10
        floors.add(floor(dividend, divisors[end >> 1]));
        ceilings.add(floor(dividend.negate(), divisors[end >> 1]).negate());
      }
      least = Overflow.SATURATE.apply(Collections.min(floors), quotient);
      greatest = Overflow.SATURATE.apply(Collections.max(ceilings), quotient);
    }
    assertEquals(least + " to " + greatest, low + " to " + high, () -> Arrays.toString(c));
  }

  private static BigInteger floor(BigInteger dividend, BigInteger divisor) {
    BigInteger[] parts = dividend.divideAndRemainder(divisor);
    return parts[1].signum() < 0 ? parts[0].subtract(BigInteger.ONE) : parts[0];
  }
}
