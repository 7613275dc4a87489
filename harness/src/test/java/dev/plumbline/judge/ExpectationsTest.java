package dev.plumbline.judge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.drive.OutputCheck;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;
import java.util.Random;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Bounds in columns against the same bounds in whole numbers of any size. */
class ExpectationsTest {
  private static final int ENTRIES = 2_000;

  static Stream<Format> formats() {
    return Stream.of(
        Format.bit(),
        Format.signed(4, 4),
        Format.unsigned(4, 4),
        Format.signed(16, 47),
        Format.unsigned(0, 63),
        Format.signed(1, 63),
        Format.unsigned(64, 0),
        Format.signed(60, 40),
        Format.unsigned(64, 64),
        Format.signed(128, 0));
  }

  @ParameterizedTest
  @MethodSource("formats")
  void aCodeIsOutsideWhereWholeNumbersSaySo(Format format) {
    OutputCheck check =
        new OutputCheck(0, new Operand("angle", format), "angle", 0, false, -1, false, null);
    Expectations expectations = new Expectations(new OutputCheck[] {check}, ENTRIES);
    long[][] got = new long[format.words()][ENTRIES];
    Random chance = new Random(42);
    for (int i = 0; i < ENTRIES; i++) {
      BigInteger a = code(format, chance);
      BigInteger b = chance.nextInt(4) == 0 ? a : code(format, chance);
      BigInteger c = chance.nextInt(4) == 0 ? b : code(format, chance);
      put(format, expectations.low[0], i, a.min(b));
      put(format, expectations.high[0], i, a.max(b));
      put(format, got, i, c);

      boolean outside = c.compareTo(a.min(b)) < 0 || c.compareTo(a.max(b)) > 0;
      assertEquals(outside, expectations.isOutside(0, i, got, i));
      BigInteger width = a.subtract(b).abs();
      assertEquals(
          width.bitLength() > 63 ? Long.MAX_VALUE : width.longValueExact(),
          expectations.width(0, i));
      BigInteger farther = a.max(b).subtract(c).max(c.subtract(a.min(b)));
      assertEquals(
          outside ? -1 : farther.bitLength() > 63 ? Long.MAX_VALUE : farther.longValueExact(),
          expectations.farther(0, i, got, i));
      BigInteger half = BigInteger.ONE.shiftLeft(format.width() - 1);
      assertEquals(width.compareTo(half) >= 0, expectations.isOpen(0, i), format::toString);
      if (expectations.isOpen(0, i)) {
        assertTrue(expectations.width(0, i) >= expectations.leastOpen(0), format::toString);
      }
    }
  }

  @ParameterizedTest
  @MethodSource("formats")
  void aToleranceWidensUpToTheEndsOfTheFormat(Format format) {
    if (format.width() > 62) {
      return; // refused by the contract
    }
    for (long tolerance : new long[] {1, 100, Long.MAX_VALUE}) {
      OutputCheck check =
          new OutputCheck(
              0, new Operand("angle", format), "angle", tolerance, false, -1, false, null);
      Expectations expectations = new Expectations(new OutputCheck[] {check}, ENTRIES);
      Random chance = new Random(43);
      BigInteger[] codes = new BigInteger[ENTRIES];
      for (int i = 0; i < ENTRIES; i++) {
        codes[i] = code(format, chance);
        put(format, expectations.low[0], i, codes[i]);
        put(format, expectations.high[0], i, codes[i]);
      }
      expectations.applyTolerance(0, 0, ENTRIES);
      BigInteger places = BigInteger.valueOf(tolerance);
      for (int i = 0; i < ENTRIES; i++) {
        assertEquals(
            codes[i].subtract(places).max(format.minCode()).longValueExact(),
            expectations.low[0][0][i]);
        assertEquals(
            codes[i].add(places).min(format.maxCode()).longValueExact(),
            expectations.high[0][0][i]);
      }
    }
  }

  private static BigInteger code(Format format, Random chance) {
    BigInteger span = format.maxCode().subtract(format.minCode()).add(BigInteger.ONE);
    return switch (chance.nextInt(5)) {
      case 0 -> format.minCode();
      case 1 -> format.maxCode();
      default -> new BigInteger(format.width() + 20, chance).mod(span).add(format.minCode());
    };
  }

  private static void put(Format format, long[][] columns, int row, BigInteger code) {
    long[] words = format.toWords(code);
    for (int word = 0; word < words.length; word++) {
      columns[word][row] = words[word];
    }
  }
}
