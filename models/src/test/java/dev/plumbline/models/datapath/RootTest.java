package dev.plumbline.models.datapath;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class RootTest {
  private static Datapath root(Format format, Rounding rounding) {
    Datapath.Builder b = Datapath.named("root");
    return b.output(b.squareRoot("y", b.input("x", format), rounding)).build();
  }

  private static BigInteger nearest(BigInteger code) {
    // No ties exist: the root is above r + 1/2 exactly when the remainder is above r.
    BigInteger[] root = code.sqrtAndRemainder();
    return root[1].compareTo(root[0]) > 0 ? root[0].add(BigInteger.ONE) : root[0];
  }

  private static long floorOf(long code) {
    BitEvaluation e = root(Format.unsigned(63, 0), Rounding.FLOOR).bits(1);
    e.input(0, 0)[0] = code;
    e.run(1);
    return e.output(0, 0)[0];
  }

  // Ercegovac & Lang, Digital Arithmetic, 2004 (digit recurrence); JDK BigInteger.
  @ParameterizedTest(name = "B3 {0}: {1} remainder {2}")
  @CsvSource({
    "4294967295, 65535, 131070",
    "2147483647, 46340, 88047",
    "2147483648, 46340, 88048",
    "4294836225, 65535, 0",
    "4294836224, 65534, 131068",
    "15, 3, 6",
    "24, 4, 8",
    "0, 0, 0"
  })
  void rootAndRemainderAreAsPublished(long code, long root, long remainder) {
    assertEquals(root, floorOf(code));
    assertEquals(remainder, code - root * root);
  }

  // OEIS A000196: sums of floor(sqrt n) below 2^8 and 2^16.
  @Test
  @DisplayName("B4 roots of all codes sum to 2600 in 8 bits and 11152000 in 16")
  void wholeRangesSumAsPublished() {
    assertEquals(2600, sum(8));
    assertEquals(11152000, sum(16));
  }

  private static long sum(int width) {
    BitEvaluation e = root(Format.unsigned(width, 0), Rounding.FLOOR).bits(1 << width);
    for (int i = 0; i < 1 << width; i++) {
      e.input(0, 0)[i] = i;
    }
    e.run(1 << width);
    long sum = 0;
    for (int i = 0; i < 1 << width; i++) {
      sum += e.output(0, 0)[i];
    }
    return sum;
  }

  // Java SE 17, run: (long) Math.sqrt(n) first fails here for n = r^2 - 1.
  @Test
  @DisplayName("B15 4503599761588224 has root 67108864, which a double's root misses")
  void codesBeyondADoubleAreExact() {
    assertEquals(67108865, (long) Math.sqrt(4503599761588224.0));
    assertEquals(67108864, floorOf(4503599761588224L));
  }

  @Test
  void everyWidthIsExactRoundAboutSquares() {
    Random random = new Random(15);
    for (int width = 1; width <= 127; width += width < 60 ? 7 : 1) {
      Format format = new Format(false, width, 0);
      List<BigInteger[]> cases = new ArrayList<>();
      cases.addAll(Cases.random(List.of(new Operand("x", format)), 300, random));
      for (int i = 0; i < 100; i++) {
        BigInteger r = new BigInteger(Math.max(1, width / 2), random);
        for (int off = -1; off <= 1; off++) {
          addLegal(cases, format, r.multiply(r).add(BigInteger.valueOf(off)));
          addLegal(cases, format, r.multiply(r).add(r).add(BigInteger.valueOf(off)));
        }
      }
      Laws.bitsAre(root(format, Rounding.FLOOR), cases, c -> c[0].sqrt());
      Laws.bitsAre(root(format, Rounding.TOWARD_ZERO), cases, c -> c[0].sqrt());
      Laws.bitsAre(root(format, Rounding.HALF_EVEN), cases, c -> nearest(c[0]));
      Laws.hold(root(format, Rounding.HALF_CEILING), cases, 0x1p-50);
    }
  }

  private static void addLegal(List<BigInteger[]> cases, Format format, BigInteger code) {
    if (format.holds(code)) {
      cases.add(new BigInteger[] {code});
    }
  }

  @Test
  void anOddPointIsMovedByABitFirst() {
    Format odd = Format.unsigned(5, 5);
    Datapath root = root(odd, Rounding.FLOOR);
    assertEquals(3, root.outputs().get(0).format().fractionBits());
    List<BigInteger[]> cases = Cases.all(root.inputs());
    Laws.bitsAre(root, cases, c -> c[0].shiftLeft(1).sqrt());
    Laws.hold(root, cases, 0);
  }
}
