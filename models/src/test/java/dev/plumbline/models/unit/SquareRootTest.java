package dev.plumbline.models.unit;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.Evaluated;
import dev.plumbline.models.datapath.BitEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigInteger;
import java.util.Random;
import java.util.stream.LongStream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

class SquareRootTest {
  private static final Format INTEGER = Format.unsigned(32, 0);

  @Test
  @DisplayName("B1: handbook roots with 16 fraction bits, floor and nearest")
  void handbookRoots() {
    // Abramowitz and Stegun, Handbook of Mathematical Functions, 1964, Table 3.1.
    long[] x = {2, 3, 5, 7, 10, 123, 1000};
    long[] codes = LongStream.of(x).map(n -> n << 16).toArray();
    long[] floor = {92681, 113511, 146542, 173391, 207243, 726829, 2072430};
    long[] nearest = {92682, 113512, 146543, 173392, 207243, 726829, 2072430};
    SquareRoot unit = SquareRoot.of(Format.signed(16, 16));
    assertArrayEquals(floor, roots(unit, codes));
    assertArrayEquals(nearest, roots(unit.withRounding(Rounding.HALF_CEILING), codes));
    assertArrayEquals(new long[] {46340, 56755}, roots(unit, 32768, 49152));
    assertArrayEquals(
        new long[] {46341, 56756}, roots(unit.withRounding(Rounding.HALF_EVEN), 32768, 49152));
    // 1/3 is no code of 16 fraction bits; 32 of them come near enough.
    SquareRoot fine = SquareRoot.between(Format.unsigned(0, 32), Format.signed(16, 16));
    assertArrayEquals(new long[] {37837}, roots(fine, (1L << 32) / 3));
    assertArrayEquals(
        new long[] {37837}, roots(fine.withRounding(Rounding.HALF_CEILING), (1L << 32) / 3));
  }

  @Test
  @DisplayName("B1: ten-figure roots of the handbook within half an LSB")
  void tenFigureRoots() {
    SquareRoot unit =
        SquareRoot.between(Format.unsigned(10, 0), Format.unsigned(5, 40))
            .withRounding(Rounding.HALF_CEILING);
    long[] codes = roots(unit, 2, 7, 999);
    double[] printed = {1.414213562, 2.645751311, 31.60696126};
    double[] place = {1e-9, 1e-9, 1e-8};
    for (int i = 0; i < codes.length; i++) {
      assertEquals(printed[i], Math.scalb((double) codes[i], -40), place[i] / 2 + 0x1p-41);
    }
  }

  @Test
  @DisplayName("B3: r^2 <= x < (r+1)^2 at the corners of 32 bits, remainders as given")
  void integerRootsAndRemainders() {
    // Ercegovac and Lang, Digital Arithmetic, 2004; the JDK's BigInteger agrees.
    long[][] rows = {
      {(1L << 32) - 1, 65535, 131070},
      {(1L << 31) - 1, 46340, 88047},
      {1L << 31, 46340, 88048},
      {65535L * 65535, 65535, 0},
      {65535L * 65535 - 1, 65534, 131068},
      {15, 3, 6},
      {24, 4, 8},
      {0, 0, 0}
    };
    for (long[] row : rows) {
      long root = roots(SquareRoot.of(INTEGER), row[0])[0];
      assertEquals(row[1], root, "root of " + row[0]);
      assertEquals(row[2], row[0] - root * root, "remainder of " + row[0]);
      assertEquals(root, BigInteger.valueOf(row[0]).sqrt().longValueExact());
    }
  }

  @Test
  @DisplayName("B4: sums of all roots below 2^8 and 2^16, each root 2r + 1 times")
  void sumsOverWholeRanges() {
    // OEIS A000196. The sum below 2^32, 187647836979200, takes a minute and is not in this test.
    long[] codes = LongStream.range(0, 1 << 16).toArray();
    long[] roots = roots(SquareRoot.of(INTEGER), codes);
    assertEquals(2600, LongStream.of(roots).limit(1 << 8).sum());
    assertEquals(11152000, LongStream.of(roots).sum());
    int[] times = new int[256];
    LongStream.of(roots).forEach(r -> times[(int) r]++);
    for (int r = 0; r < times.length; r++) {
      assertEquals(2 * r + 1, times[r], "times " + r);
    }
  }

  @Test
  @DisplayName("B5: the nearest root is one above the floor when the remainder exceeds the floor")
  void nearestFollowsTheRemainder() {
    // (k + 1/2)^2 is never an integer, so that no root is half-way.
    long[] codes = LongStream.range(0, 1 << 16).toArray();
    long[] floor = roots(SquareRoot.of(INTEGER), codes);
    for (Rounding rounding : new Rounding[] {Rounding.HALF_CEILING, Rounding.HALF_AWAY}) {
      long[] nearest = roots(SquareRoot.of(INTEGER).withRounding(rounding), codes);
      for (int n = 0; n < codes.length; n++) {
        long up = n - floor[n] * floor[n] > floor[n] ? 1 : 0;
        assertEquals(floor[n] + up, nearest[n]);
      }
    }
  }

  @Test
  @DisplayName("B6: over all codes the root never falls, and root(4n) is 2r or 2r + 1")
  void rootsNeverFall() {
    long[] codes = LongStream.range(0, 1 << 16).toArray();
    long[] roots = roots(SquareRoot.of(INTEGER), codes);
    long[] ofFourfold =
        roots(SquareRoot.of(INTEGER), LongStream.of(codes).map(n -> 4 * n).toArray());
    for (int n = 0; n < codes.length; n++) {
      assertTrue(n == 0 || roots[n] >= roots[n - 1]);
      long odd = ofFourfold[n] - 2 * roots[n];
      assertTrue(odd == 0 || odd == 1);
    }
  }

  @Test
  @DisplayName("B8: Heron's own figures: 720 from 27 gives 161/6, then 51841/1932")
  void heronsOwnFigures() {
    // Heron, Metrica I.8, in Heath, History of Greek Mathematics II, p. 324. The rule is the oracle
    // of the test below, scaled to integers: 6 * 27 and 6^2 * 720, then 1932.
    BigInteger six = BigInteger.valueOf(6);
    assertEquals(
        BigInteger.valueOf(161),
        Exact.heronStep(BigInteger.valueOf(720 * 36), BigInteger.valueOf(27).multiply(six))
            .add(BigInteger.ZERO));
    BigInteger scale = BigInteger.valueOf(1932);
    assertEquals(
        BigInteger.valueOf(51841),
        Exact.heronStep(
            BigInteger.valueOf(720).multiply(scale.pow(2)), BigInteger.valueOf(161 * 1932 / 6)));
    assertEquals(161 * 161 - 720 * 36, 1, "a square of 720 + 1/36");
    assertEquals(51841L * 51841 - 720L * 1932 * 1932, 1, "a square of 720 + 1/1932^2");
  }

  @Test
  @DisplayName(
      "B10: integer Newton from 8 cycles on 15: 8, 4, 3, 4; it stops when no longer falling")
  void integerNewtonCycles() {
    // J. Crenshaw, Integer Square Roots, 1998.
    BigInteger fifteen = BigInteger.valueOf(15);
    BigInteger estimate = BigInteger.valueOf(8);
    for (long next : new long[] {4, 3, 4, 3}) {
      estimate = Exact.heronStep(fifteen, estimate);
      assertEquals(next, estimate.longValueExact());
    }
    assertEquals(3, Exact.heronRoot(fifteen).longValueExact());
  }

  @Test
  void agreesWithHeronAndWithTheJdkOnRandomCodes() {
    Random random = new Random(31);
    for (int width = 4; width <= 32; width++) {
      for (int fraction : new int[] {0, width / 3, width / 2, width - 2, width - 1}) {
        Format format = new Format(true, width, fraction);
        long[] codes = corners(width, random);
        Evaluated floor = Evaluated.bits(SquareRoot.of(format).datapath(), new long[][] {codes});
        long[] nearest = roots(SquareRoot.of(format).withRounding(Rounding.HALF_EVEN), codes);
        for (int i = 0; i < codes.length; i++) {
          long x = codes[i];
          BigInteger radicand = BigInteger.valueOf(Math.max(x, 0)).shiftLeft(fraction);
          BigInteger[] exact = radicand.sqrtAndRemainder();
          assertEquals(exact[0], Exact.heronRoot(radicand));
          assertEquals(exact[0].longValueExact(), floor.codes("root")[i], format + " " + x);
          assertEquals(x < 0 ? 1 : 0, floor.codes("negative")[i]);
          long up = exact[1].compareTo(exact[0]) > 0 ? 1 : 0;
          assertEquals(exact[0].longValueExact() + up, nearest[i], format + " nearest " + x);
        }
      }
    }
  }

  @Test
  @DisplayName("B15: exact where the root of a double first errs, at 4503599761588224")
  void exactBeyondDoubles() {
    long n = 4503599761588224L; // 67108865^2 - 1
    assertEquals(67108865, (long) Math.sqrt((double) n), "the JDK's double root errs here");
    assertEquals(67108864, roots(SquareRoot.of(Format.signed(54, 0)), n)[0]);
    assertEquals(67108864, roots(SquareRoot.of(Format.unsigned(62, 0)), n)[0]);
  }

  @Test
  void coarserRootIsTheTrueRootRoundedOnce() {
    // From 8 fraction bits to 2: a code c stands for c / 256, a root code r for r / 4.
    SquareRoot unit = SquareRoot.between(Format.unsigned(4, 8), Format.unsigned(3, 2));
    long[] codes = LongStream.range(0, 1 << 12).toArray();
    long[] floor = roots(unit, codes);
    long[] nearest = roots(unit.withRounding(Rounding.HALF_CEILING), codes);
    boolean sawTie = false;
    for (int c = 0; c < codes.length; c++) {
      long f = floor[c];
      assertTrue(16 * f * f <= c && c < 16 * (f + 1) * (f + 1), "floor of " + c);
      long r = nearest[c];
      assertTrue(4 * (2 * r - 1) * (2 * r - 1) <= c || r == 0, "nearest of " + c);
      assertTrue(c < 4 * (2 * r + 1) * (2 * r + 1), "nearest of " + c);
      sawTie |= c == 4 * (2 * r - 1) * (2 * r - 1);
    }
    assertTrue(sawTie);
  }

  @Test
  @DisplayName(
      "ties to even: the root of 5/16 is above 1/2, if by less than the bits that are kept tell")
  void aTieIsOneOnlyWhereNothingIsLost() {
    SquareRoot unit =
        SquareRoot.between(Format.unsigned(2, 4), Format.unsigned(2, 0))
            .withRounding(Rounding.HALF_EVEN);
    // 1/2 squared is 4/16: a tie, to the even 0. From 5/16 on the root is above 1/2.
    assertArrayEquals(new long[] {0, 0, 1, 1, 1, 1, 1}, roots(unit, 3, 4, 5, 6, 7, 8, 9));
  }

  @Test
  void everyRoundingIsThatOfTheTrueRootWhateverTheFormats() {
    for (int from = -1; from <= 9; from++) {
      for (int to = -1; to <= 5; to++) {
        Format input = new Format(false, 9, from);
        Format output = new Format(false, 12, to);
        for (Rounding rounding : Rounding.values()) {
          SquareRoot unit = SquareRoot.between(input, output).withRounding(rounding);
          long[] codes = LongStream.range(0, 1 << 9).toArray();
          long[] roots = roots(unit, codes);
          for (int c = 0; c < codes.length; c++) {
            long root = Exact.root(codes[c], 2 * to - from, rounding);
            String which = input + " to " + output + ", " + rounding + ", code " + c;
            assertEquals(Math.min(root, 4095), roots[c], which);
          }
          Evaluated.lawsHold(unit.datapath(), new long[][] {codes}, 1e-9);
        }
      }
    }
  }

  @Test
  void aTieIsToldInTheWidestRadicands() {
    Format input = Format.unsigned(123, 4);
    Evaluation even =
        new Evaluation(
            SquareRoot.between(input, Format.unsigned(62, 0)).withRounding(Rounding.HALF_EVEN));
    // (2^61 - 1/2)^2 is a tie, to the even 2^61; less by an LSB it is not, nor is the one below.
    BigInteger half = BigInteger.ONE.shiftLeft(62).subtract(BigInteger.ONE);
    BigInteger tie = half.pow(2).shiftLeft(2);
    BigInteger below = half.subtract(BigInteger.TWO).pow(2).shiftLeft(2);
    assertEquals(1L << 61, even.root(tie));
    assertEquals((1L << 61) - 1, even.root(tie.subtract(BigInteger.ONE)));
    assertEquals((1L << 61) - 2, even.root(below));
    assertEquals((1L << 61) - 1, even.root(below.add(BigInteger.ONE)));
    assertEquals(1L << 61, even.root(input.maxCode().shiftRight(1))); // less than an LSB below
  }

  /** One root at a time of an operand of two words. */
  private record Evaluation(BitEvaluation bits) {
    Evaluation(SquareRoot unit) {
      this(unit.datapath().bits(1));
    }

    long root(BigInteger code) {
      bits.input(0, 0)[0] = code.longValue();
      bits.input(0, 1)[0] = code.shiftRight(64).longValue();
      bits.run(1);
      return bits.output(0, 0)[0];
    }
  }

  @Test
  void negativeOperandGivesWhatIsDeclared() {
    Format word = Format.signed(16, 16);
    SquareRoot zero = SquareRoot.of(word);
    SquareRoot magnitude = zero.withAtNegative(SquareRoot.AtNegative.MAGNITUDE);
    assertArrayEquals(new long[] {0, 0, 131072}, roots(zero, -4L << 16, -1, 4L << 16));
    assertArrayEquals(new long[] {131072, 256, 131072}, roots(magnitude, -4L << 16, -1, 4L << 16));
    // The most negative code: sqrt(32768) = 128 sqrt(2) = 128 * 1.414213562 (row B1).
    assertEquals(181.0193359, roots(magnitude, -1L << 31)[0] / 65536.0, 0x1p-16);
  }

  @Test
  void boundsHoldBitsAndIdealAndAreOnePlaceWide() {
    for (Rounding rounding : Rounding.values()) {
      for (int fraction = 0; fraction < 12; fraction++) {
        Format format = new Format(true, 12, fraction);
        Datapath datapath = SquareRoot.of(format).withRounding(rounding).datapath();
        long[] codes = LongStream.range(-2048, 2048).toArray();
        for (Evaluated.Width width : Evaluated.lawsHold(datapath, new long[][] {codes}, 1e-9)) {
          assertEquals(width.output().equals("root") ? 1 : 0, width.worst(), width.toString());
        }
      }
    }
  }

  @Test
  void plantedFaultIsSeen() {
    // The nearest root in place of the floor: the bounds still hold it, the exact level does not.
    long[] codes = LongStream.range(0, 1 << 10).toArray();
    assertNotEquals(
        LongStream.of(roots(SquareRoot.of(INTEGER), codes)).sum(),
        LongStream.of(roots(SquareRoot.of(INTEGER).withRounding(Rounding.HALF_CEILING), codes))
            .sum());
  }

  private static long[] corners(int width, Random random) {
    long max = (1L << (width - 1)) - 1;
    LongStream.Builder codes = LongStream.builder();
    for (long near = 0; near < 4; near++) {
      codes.add(near).add(-near).add(max - near).add(-max - 1 + near);
    }
    for (int i = 0; i < 100; i++) {
      long x = random.nextLong() >> (64 - width) >> random.nextInt(width);
      codes.add(x);
      long r = (long) Math.sqrt((double) Math.abs(x));
      codes.add(Math.min(r * r, max)).add(Math.max(r * r - 1, 0));
    }
    return codes.build().toArray();
  }

  private static long[] roots(SquareRoot unit, long... codes) {
    return Evaluated.bits(unit.datapath(), new long[][] {codes}).codes("root");
  }
}
