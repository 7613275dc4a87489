package dev.plumbline.stimulus;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class GeneratorTest {
  private static final int CASES = 5_000;

  static Stream<Format> formats() {
    return Stream.of(
        Format.bit(),
        Format.unsigned(8, 0),
        Format.signed(8, 8),
        Format.signed(16, 16),
        Format.unsigned(1, 32),
        Format.signed(20, 43),
        Format.unsigned(64, 0),
        Format.signed(1, 63),
        Format.signed(100, 0),
        Format.unsigned(64, 64));
  }

  private static Map<String, Generator> generators() {
    Map<String, Generator> all = new HashMap<>();
    all.put("uniform", Generator.uniform());
    all.put("range", Generator.uniform(0, 1));
    all.put("logarithmic", Generator.logarithmic());
    all.put("corners", Generator.corners());
    all.put("walking ones", Generator.walkingOnes());
    all.put("codes", Generator.codes(0, 1));
    all.put("standard", Generator.standard());
    return all;
  }

  @ParameterizedTest
  @MethodSource("formats")
  void everyCodeIsOneOfItsFormat(Format format) {
    generators()
        .forEach(
            (name, generator) -> {
              for (BigInteger code : codes(format, generator, 3, CASES)) {
                assertTrue(format.holds(code), () -> name + " gave " + code + " in " + format);
              }
            });
  }

  @ParameterizedTest
  @MethodSource("formats")
  void whatIsFilledDoesNotDependOnTheCutIntoCalls(Format format) {
    generators()
        .forEach(
            (name, generator) -> {
              long[][] whole = new long[format.words()][CASES];
              generator.open(format, 9).fill(whole, 0, CASES);
              long[][] cut = new long[format.words()][CASES];
              Generator.Source source = generator.open(format, 9);
              RandomStream lengths = RandomStream.of(5);
              for (int from = 0; from < CASES; ) {
                int to = Math.min(CASES, from + lengths.below(40));
                source.fill(cut, from, to);
                from = to;
              }
              assertArrayEquals(whole, cut, name);
            });
  }

  @ParameterizedTest
  @MethodSource("formats")
  @DisplayName("I7: uniform codes set each bit half the time, within 5 sigma")
  void uniformCodesSetEachBitHalfTheTime(Format format) {
    int[] ones = new int[format.width()];
    for (BigInteger code : codes(format, Generator.uniform(), 21, 10_000)) {
      for (int bit = 0; bit < ones.length; bit++) {
        ones[bit] += code.testBit(bit) ? 1 : 0;
      }
    }
    for (int count : ones) {
      assertEquals(5_000, count, 250); // row I7, N = 10000
    }
  }

  @Test
  @DisplayName("I4: every number of significant bits is equally likely, chi-square at 1e-6")
  void logarithmicMagnitudesHaveEverySizeEquallyOften() {
    Format format = Format.unsigned(31, 0); // 0 to 31 significant bits: 32 classes, df 31
    int[] sizes = new int[32];
    for (BigInteger code : codes(format, Generator.logarithmic(), 2, 32_000)) {
      sizes[code.bitLength()]++;
    }
    double statistic = 0;
    for (int count : sizes) {
      statistic += (count - 1000.0) * (count - 1000.0) / 1000.0;
    }
    assertTrue(statistic < 83.643, "chi-square " + statistic);
  }

  @Test
  void logarithmicCodesOfASignedFormatHaveBothSigns() {
    for (Format format : List.of(Format.signed(16, 16), Format.signed(100, 0))) {
      long negative =
          codes(format, Generator.logarithmic(), 2, 2_000).stream()
              .filter(code -> code.signum() < 0)
              .count();
      assertTrue(negative > 700 && negative < 1_200, () -> negative + " negative");
    }
  }

  @Test
  void cornersHoldTheEndsZeroPowersAndNeighbours() {
    Set<BigInteger> corners = Set.copyOf(Generator.cornersOf(Format.signed(4, 4)));

    for (long code : new long[] {-128, -127, 127, 126, 0, 1, -1, 64, -64, 63, 0x55, -86}) {
      assertTrue(corners.contains(BigInteger.valueOf(code)), () -> code + " is a corner");
    }
    assertEquals(
        Set.of(BigInteger.ZERO, BigInteger.ONE), Set.copyOf(Generator.cornersOf(Format.bit())));
    assertEquals(
        new TreeSet<>(Generator.cornersOf(Format.signed(4, 4))),
        new TreeSet<>(codes(Format.signed(4, 4), Generator.corners(), 1, CASES)),
        "every corner is drawn");
  }

  @Test
  void walkingOnesVisitEachBitInTurn() {
    List<BigInteger> unsigned = codes(Format.unsigned(70, 0), Generator.walkingOnes(), 1, 72);
    for (int bit = 0; bit < 70; bit++) {
      assertEquals(BigInteger.ONE.shiftLeft(bit), unsigned.get(bit));
    }
    assertEquals(BigInteger.ONE, unsigned.get(70));

    List<BigInteger> signed = codes(Format.signed(4, 4), Generator.walkingOnes(), 1, 8);
    assertEquals(BigInteger.valueOf(-128), signed.get(7), "the sign bit alone");
  }

  @Test
  void rangesKeepToTheirEndsAndReachThem() {
    Format format = Format.signed(8, 8);
    Set<BigInteger> codes = Set.copyOf(codes(format, Generator.uniform(-2, 3), 4, CASES));
    assertEquals(
        Stream.of(-2, -1, 0, 1, 2, 3).map(BigInteger::valueOf).collect(Collectors.toSet()), codes);

    Set<BigInteger> between = Set.copyOf(codes(format, Generator.between(0.001, 0.012), 4, CASES));
    assertEquals(Set.of(BigInteger.ONE, BigInteger.TWO, BigInteger.valueOf(3)), between);
  }

  @Test
  void valuesAndLatticesAreExactCodes() {
    Format format = Format.signed(8, 8);
    assertEquals(
        Set.of(BigInteger.valueOf(128), BigInteger.valueOf(-256)),
        Set.copyOf(codes(format, Generator.values(0.5, -1), 4, 100)));
    assertEquals(
        Set.of(BigInteger.valueOf(-128), BigInteger.ZERO, BigInteger.valueOf(128)),
        Set.copyOf(codes(format, Generator.lattice(-0.5, 0.75, 0.5), 4, 100)));
  }

  @Test
  void drawnCodesLoseTheBitsBeyondTheirFormat() {
    assertEquals(
        List.of(BigInteger.valueOf(-1)),
        codes(Format.signed(4, 0), Generator.drawn(stream -> 0xFF), 1, 1));
  }

  @Test
  void mixesKeepTheirWeights() {
    Generator mix = Generator.mix(Share.of(3, Generator.codes(0)), Share.of(1, Generator.codes(1)));
    double ones =
        (double)
            codes(Format.bit(), mix, 6, 100_000).stream().filter(BigInteger.ONE::equals).count();
    // Runs of 1 to 64 cases are chosen together: some 3,000 choices, so sigma is wider.
    assertEquals(25_000, ones, 5 * 100_000 * Math.sqrt(0.25 * 0.75 / 2_000));
  }

  @Test
  void whatCannotBeDrawnIsRefusedWithWhatIsAllowed() {
    Format format = Format.signed(4, 4);
    assertMessage(
        "A range of codes from 0 to 200 cannot be drawn from in s4.4; allowed are 1 to 2^61 codes"
            + " from -128 to 127.",
        () -> Generator.uniform(0, 200).open(format, 1));
    assertMessage(
        "The value 0.3 lies between two codes of s4.4; whole multiples of its LSB are"
            + " allowed. Round it first.",
        () -> Generator.values(0.3).open(format, 1));
    assertMessage(
        "The value NaN has no code in any format; finite values are allowed.",
        () -> Generator.values(Double.NaN).open(format, 1));
    assertMessage(
        "A share of a mix cannot have weight 0; 1 or more is allowed. Leave the part out instead.",
        () -> Share.of(0, Generator.uniform()));
    assertMessage("A mix of nothing cannot be drawn from; give a share.", () -> Generator.mix());
  }

  private static void assertMessage(String message, Runnable action) {
    assertEquals(message, assertThrows(IllegalArgumentException.class, action::run).getMessage());
  }

  private static List<BigInteger> codes(Format format, Generator generator, long seed, int count) {
    long[][] words = new long[format.words()][count];
    generator.open(format, seed).fill(words, 0, count);
    return java.util.stream.IntStream.range(0, count)
        .mapToObj(
            row -> {
              long[] code = new long[words.length];
              for (int word = 0; word < code.length; word++) {
                code[word] = words[word][row];
              }
              return format.fromWords(code);
            })
        .toList();
  }
}
