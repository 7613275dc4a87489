package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import java.math.BigInteger;
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
}
