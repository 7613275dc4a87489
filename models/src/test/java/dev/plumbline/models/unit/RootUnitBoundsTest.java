package dev.plumbline.models.unit;

import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assertions.fail;

import dev.plumbline.models.datapath.BoundsEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigInteger;
import java.util.Random;
import org.junit.jupiter.api.Test;

/**
 * Bounds of a root as one step come of doubles, which hold 53 bits of a code: in formats beyond
 * that they have to enclose the root in integers all the same, of a point and of an interval.
 */
class RootUnitBoundsTest {
  private static final int FORMATS = 80;
  private static final int CASES = 64;

  private final Random random = new Random(89);

  @Test
  void neighboursOfTheRootLieInTheBoundsHoweverWideTheFormats() {
    int wideIn = 0;
    int wideOut = 0;
    for (int k = 0; k < FORMATS; k++) {
      int width = 2 + random.nextInt(62);
      Format input = new Format(true, width, random.nextInt(width));
      // The radicand has to fit 126 bits, and the root's format may be too narrow for it.
      int finest = Math.min(62, (126 - input.integerBits()) / 2);
      int places = random.nextInt(finest + 1);
      int whole = 1 + random.nextInt(1 + (input.integerBits() + 1) / 2);
      Format output = new Format(true, Math.min(63, places + whole), places);
      int spread = random.nextBoolean() ? 0 : 1 + random.nextInt(1 << random.nextInt(12));
      check(input, output, spread);
      wideIn += width > 53 ? 1 : 0;
      wideOut += output.width() > 53 ? 1 : 0;
    }
    assertTrue(wideIn > FORMATS / 10 && wideOut > FORMATS / 10, wideIn + " in, " + wideOut);
  }

  private void check(Format input, Format output, int spread) {
    Datapath.Builder b = Datapath.named("root_as_a_step");
    Value x = b.input("x", input);
    Value wide = spread == 0 ? x : b.allow("wide", x, spread, input);
    Format operand = new Format(true, Math.min(63, input.width() + 1), input.fractionBits());
    if (spread != 0) {
      wide = b.convert("limited", wide, operand, Rounding.FLOOR, Overflow.SATURATE);
    }
    SquareRoot unit = SquareRoot.between(wide.format(), output);
    Datapath datapath = b.output(b.unit("y", unit.unit(), wide)).build();
    BoundsEvaluation bounds = datapath.bounds(CASES);
    for (int i = 0; i < CASES; i++) {
      bounds.input(0, 0)[i] = code(input);
    }
    long[] codes = bounds.input(0, 0).clone();
    bounds.run(CASES);
    for (int i = 0; i < CASES; i++) {
      for (int side = -1; side <= 1; side++) {
        long exact = Math.max(0, Math.min(codes[i] + (long) side * spread, most(wide.format())));
        BigInteger root = root(exact, input, output);
        BigInteger above = root.add(BigInteger.ONE).min(output.maxCode());
        BigInteger low = BigInteger.valueOf(bounds.low(0, 0)[i]);
        BigInteger high = BigInteger.valueOf(bounds.high(0, 0)[i]);
        boolean isCode = isSquare(exact, input, output) || root.equals(output.maxCode());
        if (low.compareTo(root) > 0 || high.compareTo(isCode ? root : above) < 0) {
          fail(input + " to " + output + ": root of " + exact + " " + low + " to " + high);
        }
      }
    }
  }

  private static long most(Format format) {
    return format.maxCode().longValueExact();
  }

  /** Perfect squares and their neighbours, codes of every size, and the ends. */
  private long code(Format format) {
    long most = most(format);
    long any =
        random.nextLong() >>> (Long.SIZE - format.width() + 1) >>> random.nextInt(format.width());
    long root = (long) Math.sqrt((double) any);
    long code =
        switch (random.nextInt(6)) {
          case 0 -> most - random.nextInt(3);
          case 1 -> root * root + random.nextInt(3) - 1;
          case 2 -> -any;
          default -> any;
        };
    return Math.max(format.minCode().longValueExact(), Math.min(most, code));
  }

  private static BigInteger radicand(long code, Format input, Format output) {
    int shift = 2 * output.fractionBits() - input.fractionBits();
    BigInteger exact = BigInteger.valueOf(code);
    return shift >= 0 ? exact.shiftLeft(shift) : exact.shiftRight(-shift);
  }

  /** The floor of the root, saturated; the floor of a radicand has the same one. */
  private static BigInteger root(long code, Format input, Format output) {
    return radicand(code, input, output).sqrt().min(output.maxCode());
  }

  private static boolean isSquare(long code, Format input, Format output) {
    int shift = 2 * output.fractionBits() - input.fractionBits();
    BigInteger[] root = radicand(code, input, output).sqrtAndRemainder();
    boolean whole = shift >= 0 || BigInteger.valueOf(code).getLowestSetBit() >= -shift || code == 0;
    return whole && root[1].signum() == 0;
  }
}
