package dev.plumbline.models.unit;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.Evaluated;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.DatapathException;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigInteger;
import java.util.Random;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

class MultiplierTest {
  private static final Format SHORT = Format.signed(16, 0);
  private static final Format RAW = Format.unsigned(16, 0);

  @Test
  @DisplayName("K4: corners of the 16 x 16 multiplier")
  void cornersOfSixteenBits() {
    assertEquals(0x40000000L, exact(SHORT, -32768, -32768));
    assertEquals(0x3FFF0001L, exact(SHORT, 32767, 32767));
    assertEquals(-0x3FFF8000L, exact(SHORT, -32768, 32767));
    assertEquals(0xFFFE0001L, exact(RAW, 65535, 65535));
    assertEquals(0x38E31C72L, exact(RAW, 0x5555, 0xAAAA));
  }

  @Test
  @DisplayName("K4: sum over all pairs of bytes follows the closed form, and residues agree")
  void sumsAndResidues() {
    // The sum over all pairs is the square of the sum of all codes; residue codes: Rao, IEEE Trans.
    // Comp. C-19, 1970.
    long[][] pairs = allPairs(0, 256);
    long[] products =
        Evaluated.bits(Multiplier.of(Format.unsigned(8, 0), Format.unsigned(8, 0)).exact(), pairs)
            .codes("product");
    long sum = 0;
    for (int i = 0; i < products.length; i++) {
      sum += products[i];
      for (long m : new long[] {3, 15, 255}) {
        assertEquals(products[i] % m, (pairs[0][i] % m) * (pairs[1][i] % m) % m);
      }
    }
    assertEquals(32640L * 32640, sum);
  }

  @Test
  @DisplayName("A12: the lowest fraction times itself saturates to the highest code")
  void lowestTimesLowestSaturates() {
    // ISO/IEC TR 18037, fixed point: (-1) * (-1) = 0x7FFF.
    Format fraction = Format.signed(1, 15);
    Multiplier unit = Multiplier.of(fraction, fraction);
    assertEquals(
        0x7FFF, run(unit.into(fraction, Rounding.FLOOR, Overflow.SATURATE), -32768, -32768));
    assertEquals(-32768, run(unit.into(fraction, Rounding.FLOOR, Overflow.WRAP), -32768, -32768));
  }

  @Test
  void everyRoundingAndOverflowAgreesWithTheJdk() {
    Random random = new Random(17);
    Format left = Format.signed(4, 12);
    Format right = Format.signed(2, 14);
    for (Format product : new Format[] {Format.signed(5, 9), Format.unsigned(2, 8)}) {
      for (Rounding rounding : Rounding.values()) {
        for (Overflow overflow : Overflow.values()) {
          Datapath datapath = Multiplier.of(left, right).into(product, rounding, overflow);
          long[][] inputs = new long[2][4096];
          for (int i = 0; i < inputs[0].length; i++) {
            // Few significant bits, so that ties are met.
            inputs[0][i] = (short) (random.nextInt() << random.nextInt(14));
            inputs[1][i] = (short) (random.nextInt() << random.nextInt(14));
          }
          long[] codes = Evaluated.bits(datapath, inputs).codes("product");
          for (int i = 0; i < codes.length; i++) {
            BigInteger rounded =
                Exact.quotient(
                    BigInteger.valueOf(inputs[0][i] * inputs[1][i]),
                    BigInteger.ONE.shiftLeft(26 - product.fractionBits()),
                    rounding);
            BigInteger expected = Exact.limited(rounded, product, overflow);
            String which = product + " " + rounding + " " + overflow;
            assertEquals(expected.longValueExact(), codes[i], which);
          }
        }
      }
    }
  }

  @Test
  void boundsHoldBitsAndIdealAndAreOnePlaceWide() {
    Format operand = Format.signed(3, 4);
    for (Rounding rounding : Rounding.values()) {
      Datapath datapath =
          Multiplier.of(operand, operand).into(Format.signed(4, 3), rounding, Overflow.SATURATE);
      for (Evaluated.Width width : Evaluated.lawsHold(datapath, allPairs(-64, 64), 1e-9)) {
        assertEquals(1, width.worst());
      }
    }
    Datapath wrapping =
        Multiplier.of(operand, operand).into(Format.signed(2, 3), Rounding.FLOOR, Overflow.WRAP);
    assertTrue(Evaluated.lawsHold(wrapping, allPairs(-64, 64), 1e-9).get(0).worst() > 1);
  }

  @Test
  void productTooWideIsRefusedByName() {
    Format wide = Format.signed(32, 33);
    DatapathException refused =
        assertThrows(DatapathException.class, () -> Multiplier.of(wide, wide).exact());
    assertTrue(refused.getMessage().contains("\"product\""), refused.getMessage());
  }

  private static long exact(Format format, long a, long b) {
    return run(Multiplier.of(format, format).exact(), a, b);
  }

  private static long run(Datapath datapath, long a, long b) {
    return Evaluated.bits(datapath, new long[][] {{a}, {b}}).codes("product")[0];
  }

  private static long[][] allPairs(long from, long to) {
    int n = (int) (to - from);
    long[][] pairs = new long[2][n * n];
    for (int i = 0; i < n * n; i++) {
      pairs[0][i] = from + i / n;
      pairs[1][i] = from + i % n;
    }
    return pairs;
  }
}
