package dev.plumbline.models.unit;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.Allocations;
import dev.plumbline.models.datapath.BoundsEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.unit.Reciprocal.AtZero;
import java.math.BigInteger;
import java.util.Random;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** The bounds of reciprocals, against quotients in the JDK's exact integers. */
class ReciprocalBoundsTest {
  /** The unit as one step, its operand anything between two codes. */
  private static Datapath step(Reciprocal reciprocal, boolean point) {
    Datapath.Builder b = Datapath.named("step");
    Value least = b.input("least", reciprocal.input());
    Value x = point ? least : b.either("x", least, b.input("greatest", reciprocal.input()));
    return b.output(b.unit("y", reciprocal.unit(), x)).build();
  }

  private static void run(BoundsEvaluation bounds, long... operands) {
    for (int k = 0; k < operands.length; k++) {
      bounds.input(k, 0)[0] = operands[k];
    }
    bounds.run(1);
  }

  @Test
  void resultsBeyondTheBitsOfADoubleAreOneLsbWide() {
    Reciprocal fine = Reciprocal.between(Format.signed(2, 31), Format.signed(32, 31));
    for (Datapath datapath : new Datapath[] {step(fine, true), fine.datapath()}) {
      BoundsEvaluation bounds = datapath.bounds(1);
      run(bounds, 3);
      // 2^62 / 3
      assertEquals(1537228672809129301L, bounds.low(0, 0)[0], datapath.name());
      assertEquals(1537228672809129302L, bounds.high(0, 0)[0], datapath.name());
      run(bounds, -3);
      assertEquals(-1537228672809129302L, bounds.low(0, 0)[0], datapath.name());
      assertEquals(-1537228672809129301L, bounds.high(0, 0)[0], datapath.name());
    }
  }

  @Test
  @Tag("thorough")
  void boundsOfACodeAreTheNeighboursOfItsReciprocalInFormatsOfEverySize() {
    Random random = new Random(61);
    for (int i = 0; i < (Boolean.getBoolean("plumbline.long") ? 30_000 : 1_200); i++) {
      Reciprocal reciprocal = anyReciprocal(random);
      BoundsEvaluation bounds = step(reciprocal, true).bounds(1);
      for (int k = 0; k < 20; k++) {
        long x = code(reciprocal.input(), random);
        run(bounds, x);
        String which = reciprocal.input() + " to " + reciprocal.output() + ", code " + x;
        assertEquals(least(reciprocal, x), big(bounds.low(0, 0)[0]), which);
        assertEquals(greatest(reciprocal, x), big(bounds.high(0, 0)[0]), which);
      }
    }
  }

  @Test
  void boundsOfAnIntervalAreThoseOfItsCodes() {
    for (boolean signed : new boolean[] {false, true}) {
      for (AtZero atZero : AtZero.values()) {
        Format input = new Format(signed, 5, 2);
        Reciprocal reciprocal =
            Reciprocal.between(input, new Format(signed, 6, 3)).withAtZero(atZero);
        BoundsEvaluation bounds = step(reciprocal, false).bounds(1);
        long min = input.minCode().longValueExact();
        long max = input.maxCode().longValueExact();
        for (long a = min; a <= max; a++) {
          BigInteger low = least(reciprocal, a);
          BigInteger high = greatest(reciprocal, a);
          for (long c = a; c <= max; c++) {
            low = low.min(least(reciprocal, c));
            high = high.max(greatest(reciprocal, c));
            run(bounds, a, c);
            BigInteger under = low.subtract(big(bounds.low(0, 0)[0]));
            BigInteger over = big(bounds.high(0, 0)[0]).subtract(high);
            boolean exactly = a > 0 || c < 0 || a == c; // about the pole the ends are the range's
            String which = input + " " + a + " to " + c + ": " + under + " and " + over;
            assertTrue(exactly ? under.signum() == 0 : under.signum() >= 0, which);
            assertTrue(exactly ? over.signum() == 0 : over.signum() >= 0, which);
          }
        }
      }
    }
  }

  @Test
  void boundsAllocateNothingForACase() {
    Reciprocal reciprocal = Reciprocal.between(Format.signed(2, 16), Format.signed(16, 16));
    for (boolean point : new boolean[] {true, false}) {
      BoundsEvaluation bounds = step(reciprocal, point).bounds(1024);
      Allocations.requireNone(1024, () -> bounds.run(1024));
    }
  }

  /** Widths over their whole legal range, small ones as often as large ones. */
  private static Reciprocal anyReciprocal(Random random) {
    while (true) {
      int from = random.nextInt(63);
      int to = random.nextInt(63 - from);
      Format input = new Format(random.nextBoolean(), width(random), from - random.nextInt(3));
      Format output = new Format(input.signed(), width(random), to);
      int places = input.fractionBits() + output.fractionBits();
      if (places >= 0) {
        AtZero atZero = random.nextBoolean() ? AtZero.LARGEST : AtZero.ZERO;
        return Reciprocal.between(input, output).withAtZero(atZero);
      }
    }
  }

  private static int width(Random random) {
    return (int) Math.round(2 * Math.exp(random.nextDouble() * Math.log(63 / 2.0)));
  }

  private static long code(Format format, Random random) {
    long code =
        switch (random.nextInt(4)) {
          case 0 -> random.nextInt(7) - 3;
          case 1 -> (1L << random.nextInt(63)) + random.nextInt(3) - 1;
          case 2 -> random.nextBoolean() ? Long.MIN_VALUE : Long.MAX_VALUE;
          default -> random.nextLong() >> random.nextInt(63);
        };
    return big(code).max(format.minCode()).min(format.maxCode()).longValueExact();
  }

  private static BigInteger least(Reciprocal reciprocal, long x) {
    return end(reciprocal, x, Rounding.FLOOR, -1);
  }

  private static BigInteger greatest(Reciprocal reciprocal, long x) {
    // A ceiling is the floor of the opposite, turned.
    return end(reciprocal, x, null, 1);
  }

  /** The code next to what a saturating unit gives: itself and one off where it is a code. */
  private static BigInteger end(Reciprocal reciprocal, long x, Rounding floor, int off) {
    Format output = reciprocal.output();
    BigInteger one =
        BigInteger.ONE.shiftLeft(reciprocal.input().fractionBits() + output.fractionBits());
    boolean code = true;
    BigInteger y;
    if (x == 0) {
      boolean zero = reciprocal.datapath().bits(1) != null && atZeroIsZero(reciprocal);
      y = zero ? BigInteger.ZERO : output.maxCode();
    } else {
      BigInteger down = Exact.quotient(one, big(x), Rounding.FLOOR);
      code = down.multiply(big(x)).equals(one);
      y = floor != null || code ? down : down.add(BigInteger.ONE);
      boolean beyond =
          down.compareTo(output.maxCode()) >= 0
              || down.add(BigInteger.ONE).compareTo(output.minCode()) <= 0;
      code |= beyond;
      y = y.max(output.minCode()).min(output.maxCode());
    }
    BigInteger end = code ? y.add(big(off)) : y;
    return end.max(output.minCode()).min(output.maxCode());
  }

  private static boolean atZeroIsZero(Reciprocal reciprocal) {
    var bits = reciprocal.datapath().bits(1);
    bits.run(1);
    return bits.output(0, 0)[0] == 0;
  }

  private static BigInteger big(long code) {
    return BigInteger.valueOf(code);
  }
}
