package dev.plumbline.models.unit;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.datapath.BitEvaluation;
import dev.plumbline.models.datapath.BoundsEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigInteger;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** The multiplier in formats all over their legal range, against the JDK's integers. */
class MultiplierLawsTest {
  private static final int FORMATS = 120;
  private static final int CASES = 32;
  private static final int WIDEST = 126; // of an exact product, which fits signed or not

  private final Random random = new Random(83);

  @Test
  void bitsAreTheExactProductRoundedAndBoundsAreItsTwoNeighbours() {
    int wide = 0;
    int beyond = 0;
    for (int k = 0; k < FORMATS; k++) {
      Format left = format(64, 0);
      Format right = format(WIDEST - left.width(), 0);
      Format product = format(128, left.fractionBits() + right.fractionBits());
      Rounding rounding = any(Rounding.values());
      Overflow overflow = any(Overflow.values());
      BigInteger[][] cases = cases(left, right);
      Datapath datapath = Multiplier.of(left, right).into(product, rounding, overflow);
      Results results = new Results(datapath, cases);
      int drop = left.fractionBits() + right.fractionBits() - product.fractionBits();
      for (int i = 0; i < CASES; i++) {
        BigInteger exact = cases[0][i].multiply(cases[1][i]);
        String which = left + " " + right + " " + product + " " + rounding + " " + overflow;
        which += ": " + cases[0][i] + " times " + cases[1][i];
        BigInteger code = Exact.limited(rounded(exact, drop, rounding), product, overflow);
        assertEquals(code, results.bits[i], which);
        BigInteger floor = rounded(exact, drop, Rounding.FLOOR);
        BigInteger ceiling = rounded(exact.negate(), drop, Rounding.FLOOR).negate();
        boolean fits = holds(product, floor) && holds(product, ceiling);
        if (overflow == Overflow.SATURATE || fits) {
          assertEquals(Exact.limited(floor, product, Overflow.SATURATE), results.low[i], which);
          assertEquals(Exact.limited(ceiling, product, Overflow.SATURATE), results.high[i], which);
        }
        beyond += fits ? 0 : 1;
      }
      wide += product.width() > 64 ? 1 : 0;
    }
    assertTrue(wide > FORMATS / 20 && beyond > FORMATS, wide + " wide, " + beyond + " beyond");
  }

  @Test
  void theWholeProductHasEveryBit() {
    for (int k = 0; k < FORMATS; k++) {
      Format left = format(64, 0);
      Format right = format(WIDEST - left.width(), 0);
      BigInteger[][] cases = cases(left, right);
      Results results = new Results(Multiplier.of(left, right).exact(), cases);
      for (int i = 0; i < CASES; i++) {
        BigInteger exact = cases[0][i].multiply(cases[1][i]);
        String which = left + " " + right + ": " + cases[0][i] + " times " + cases[1][i];
        assertEquals(exact, results.bits[i], which);
        assertEquals(exact, results.low[i], which);
        assertEquals(exact, results.high[i], which);
      }
    }
  }

  private <T> T any(T[] all) {
    return all[random.nextInt(all.length)];
  }

  /** Of any width up to so many bits, narrow ones as often; its point near a given one. */
  private Format format(int most, int fraction) {
    int width = 1 + (int) Math.floor(Math.exp(random.nextDouble() * Math.log(most)) - 0.5);
    width = Math.max(1, Math.min(most, width));
    int places = fraction == 0 ? random.nextInt(width + 9) - 4 : fraction - random.nextInt(width);
    return new Format(random.nextBoolean(), width, places);
  }

  /** Ends, powers of two and codes of every size. */
  private BigInteger[][] cases(Format... formats) {
    BigInteger[][] cases = new BigInteger[formats.length][CASES];
    for (int f = 0; f < formats.length; f++) {
      for (int i = 0; i < CASES; i++) {
        BigInteger code = new BigInteger(random.nextInt(formats[f].width() + 1), random);
        code =
            switch (random.nextInt(6)) {
              case 0 -> formats[f].minCode();
              case 1 -> formats[f].maxCode();
              case 2 -> BigInteger.ONE.shiftLeft(random.nextInt(formats[f].width()));
              default -> formats[f].signed() && random.nextBoolean() ? code.negate() : code;
            };
        cases[f][i] = code.max(formats[f].minCode()).min(formats[f].maxCode());
      }
    }
    return cases;
  }

  private static boolean holds(Format format, BigInteger code) {
    return code.compareTo(format.minCode()) >= 0 && code.compareTo(format.maxCode()) <= 0;
  }

  private static BigInteger rounded(BigInteger code, int drop, Rounding rounding) {
    return drop <= 0
        ? code.shiftLeft(-drop)
        : Exact.quotient(code, BigInteger.ONE.shiftLeft(drop), rounding);
  }

  /** The one output in bits and bounds. */
  private static final class Results {
    final BigInteger[] bits = new BigInteger[CASES];
    final BigInteger[] low = new BigInteger[CASES];
    final BigInteger[] high = new BigInteger[CASES];

    Results(Datapath datapath, BigInteger[][] cases) {
      BitEvaluation exact = datapath.bits(CASES);
      BoundsEvaluation bounds = datapath.bounds(CASES);
      for (int k = 0; k < cases.length; k++) {
        Format format = datapath.inputs().get(k).format();
        for (int i = 0; i < CASES; i++) {
          long[] words = format.toWords(cases[k][i]);
          for (int word = 0; word < words.length; word++) {
            exact.input(k, word)[i] = words[word];
            bounds.input(k, word)[i] = words[word];
          }
        }
      }
      exact.run(CASES);
      bounds.run(CASES);
      Format format = datapath.outputs().get(0).format();
      for (int i = 0; i < CASES; i++) {
        long[][] words = new long[3][format.words()];
        for (int word = 0; word < format.words(); word++) {
          words[0][word] = exact.output(0, word)[i];
          words[1][word] = bounds.low(0, word)[i];
          words[2][word] = bounds.high(0, word)[i];
        }
        bits[i] = format.fromWords(words[0]);
        low[i] = format.fromWords(words[1]);
        high[i] = format.fromWords(words[2]);
      }
    }
  }
}
