package dev.plumbline.models.datapath;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigDecimal;
import java.math.BigInteger;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Between floating and fixed point, and between floating formats. */
class FloatConversionTest {
  private static final FloatFormat HALF = FloatFormat.binary16();
  private static final FloatFormat SINGLE = FloatFormat.binary32();

  @Test
  void fixedNumbersComeAndGo() {
    for (Format fixed :
        List.of(
            Format.signed(4, 4),
            Format.signed(10, 8),
            Format.unsigned(30, 33),
            Format.signed(70, 58),
            Format.signed(1, 127),
            Format.unsigned(100, 27),
            Format.signed(32, -10))) {
      for (FloatFormat f : List.of(HALF, SINGLE, new FloatFormat(4, 3))) {
        comeAndGo(fixed, f);
      }
    }
  }

  private static void comeAndGo(Format fixed, FloatFormat f) {
    Datapath.Builder b = Datapath.named("to_float");
    Value x = b.input("x", fixed);
    Datapath there = b.output(b.fixedToFloat("y", x, f)).build();
    List<BigInteger[]> cases = Cases.random(there.inputs(), 2_000, new Random(fixed.hashCode()));
    for (int i = 0; fixed.width() > 60 && i < 100; i++) {
      // Halfway between two numbers, and one LSB beside it.
      BigInteger top = new BigInteger(f.fractionBits(), new Random(i)).setBit(f.fractionBits());
      BigInteger half = top.shiftLeft(1).setBit(0).shiftLeft(fixed.width() - f.fractionBits() - 4);
      cases.add(new BigInteger[] {half.add(BigInteger.valueOf(i % 3 - 1))});
    }
    Laws.bitsAre(
        there,
        cases,
        c -> {
          BigInteger n = c[0].abs();
          BigInteger d = BigInteger.ONE;
          if (fixed.fractionBits() >= 0) {
            d = d.shiftLeft(fixed.fractionBits());
          } else {
            n = n.shiftLeft(-fixed.fractionBits());
          }
          long size = FloatOracle.search(f, n, d, false);
          return BigInteger.valueOf(c[0].signum() < 0 ? size | 1L << (f.width() - 1) : size);
        });
    Laws.hold(there, cases, 0x1p-20);
    if (f.equals(SINGLE)) {
      Laws.bitsAre(
          there,
          cases,
          c ->
              BigInteger.valueOf(
                  Float.floatToIntBits(Float.parseFloat(fixed.toDecimal(c[0]).toString()))
                      & 0xFFFFFFFFL));
    }
    for (Rounding rounding : Rounding.values()) {
      Datapath.Builder back = Datapath.named("to_fixed");
      Value code = back.input("x", f.bits());
      Datapath to = back.output(back.floatToFixed("y", f, code, fixed, rounding)).build();
      List<BigInteger[]> codes =
          f.width() < 9
              ? Cases.all(to.inputs())
              : Cases.random(to.inputs(), 1_000, new Random(rounding.name().hashCode()));
      Laws.bitsAre(
          to,
          codes,
          c -> {
            double real = FloatOracle.number(f, c[0].longValue());
            if (Double.isNaN(real)) {
              return BigInteger.ZERO;
            }
            return Double.isInfinite(real)
                ? fixed.toCode(real, rounding, Overflow.SATURATE)
                : fixed.toCode(new BigDecimal(real), rounding, Overflow.SATURATE);
          });
      Laws.hold(to, codes, 0x1p-50);
    }
  }

  @Test
  void narrowerAndWiderFormatsAreThoseOfTheJdk() {
    Datapath.Builder b = Datapath.named("narrow");
    Value x = b.input("x", SINGLE.bits());
    Value narrow = b.floatToFloat("narrow", SINGLE, x, HALF);
    Value wide = b.floatToFloat("wide", HALF, narrow, SINGLE);
    Datapath datapath = b.output(narrow).output(wide).build();
    long[] codes = FloatTest.drawn(SINGLE, 20_000, 9)[0];
    BitEvaluation bits = datapath.bits(codes.length);
    System.arraycopy(codes, 0, bits.input(0, 0), 0, codes.length);
    bits.run(codes.length);
    for (int i = 0; i < codes.length; i++) {
      long expected = FloatOracle.nearest(HALF, Float.intBitsToFloat((int) codes[i]));
      assertEquals(expected, bits.output(0, 0)[i]);
      float back = (float) FloatOracle.number(HALF, expected);
      assertEquals(Float.floatToIntBits(back) & 0xFFFFFFFFL, bits.output(1, 0)[i]);
    }
  }
}
