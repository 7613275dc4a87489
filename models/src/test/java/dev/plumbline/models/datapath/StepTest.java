package dev.plumbline.models.datapath;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.function.Function;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;

/** Every kind of step against exact integers: whole small formats, random large and wide ones. */
class StepTest {
  private static final Format SMALL_SIGNED = Format.signed(3, 2);
  private static final Format SMALL_UNSIGNED = Format.unsigned(1, 3);
  private static final List<Format> LARGE =
      List.of(
          Format.signed(16, 16),
          Format.signed(33, 31),
          Format.unsigned(33, 31),
          Format.unsigned(31, 32),
          Format.signed(34, 31),
          Format.signed(50, 50),
          Format.unsigned(60, 40));

  /** Describes one step. */
  interface Describe {
    Value step(Datapath.Builder b, List<Value> in);
  }

  private static Datapath datapath(Describe describe, Format... formats) {
    Datapath.Builder b = Datapath.named("one_step");
    List<Value> in = new ArrayList<>();
    for (Format format : formats) {
      in.add(b.input("x" + in.size(), format));
    }
    return b.output("y", describe.step(b, in)).build();
  }

  /** Checks a step of two operands; the oracle takes codes with the same fraction bits. */
  private static void check(
      String name, Describe describe, Function<BigInteger[], BigInteger> oracle) {
    check(datapath(describe, SMALL_SIGNED, SMALL_UNSIGNED), true, oracle);
    check(datapath(describe, SMALL_UNSIGNED, SMALL_SIGNED), true, oracle);
    int built = 0;
    for (Format a : LARGE) {
      for (Format b : LARGE) {
        Datapath large;
        try {
          large = datapath(describe, a, b);
        } catch (DatapathException tooWide) {
          assertTrue(tooWide.getMessage().contains("Step \"y\""), tooWide.getMessage());
          continue;
        }
        built++;
        check(large, false, oracle);
      }
    }
    assertTrue(built >= 9, name + " of " + built + " pairs of formats");
  }

  private static void check(
      Datapath datapath, boolean small, Function<BigInteger[], BigInteger> oracle) {
    List<BigInteger[]> cases =
        small
            ? Cases.all(datapath.inputs())
            : Cases.random(datapath.inputs(), 600, new Random(datapath.toString().hashCode()));
    Laws.bitsAre(datapath, cases, row -> oracle.apply(aligned(datapath, row)));
    // Doubles cannot distinguish two neighbours of 64 bits, so that a decision on them may differ.
    boolean decision = datapath.outputs().get(0).format().equals(Format.bit());
    Laws.hold(datapath, cases, small ? 0 : decision ? 1 : 0x1p-50);
  }

  private static BigInteger[] aligned(Datapath datapath, BigInteger[] row) {
    int most = datapath.inputs().stream().mapToInt(o -> o.format().fractionBits()).max().getAsInt();
    BigInteger[] codes = new BigInteger[row.length];
    for (int i = 0; i < row.length; i++) {
      codes[i] = row[i].shiftLeft(most - datapath.inputs().get(i).format().fractionBits());
    }
    return codes;
  }

  private static BigInteger bit(boolean set) {
    return set ? BigInteger.ONE : BigInteger.ZERO;
  }

  @TestFactory
  Stream<DynamicTest> stepsOfTwoOperandsAreExactIntegerArithmetic() {
    return Stream.of(
        test("add", (b, in) -> b.add("y", in.get(0), in.get(1)), c -> c[0].add(c[1])),
        test(
            "subtract", (b, in) -> b.subtract("y", in.get(0), in.get(1)), c -> c[0].subtract(c[1])),
        test("minimum", (b, in) -> b.minimum("y", in.get(0), in.get(1)), c -> c[0].min(c[1])),
        test("maximum", (b, in) -> b.maximum("y", in.get(0), in.get(1)), c -> c[0].max(c[1])),
        test(
            "less than",
            (b, in) -> b.lessThan("y", in.get(0), in.get(1)),
            c -> bit(c[0].compareTo(c[1]) < 0)),
        test(
            "at most",
            (b, in) -> b.atMost("y", in.get(0), in.get(1)),
            c -> bit(c[0].compareTo(c[1]) <= 0)),
        test("equal", (b, in) -> b.equal("y", in.get(0), in.get(1)), c -> bit(c[0].equals(c[1]))),
        test(
            "select",
            (b, in) -> b.select("y", b.lessThan("c", in.get(0), in.get(1)), in.get(1), in.get(0)),
            c -> c[0].max(c[1])),
        test("either", (b, in) -> b.either("y", in.get(0), in.get(1)), c -> c[0]),
        test("confine", (b, in) -> b.confine("y", in.get(0), in.get(1)), c -> c[0]));
  }

  private static DynamicTest test(
      String name, Describe describe, Function<BigInteger[], BigInteger> oracle) {
    return DynamicTest.dynamicTest(name, () -> check(name, describe, oracle));
  }

  @Test
  void productsAreExactAndTakeTheFractionBitsOfBoth() {
    Describe product = (b, in) -> b.multiply("y", in.get(0), in.get(1));
    List<Format[]> pairs = new ArrayList<>();
    pairs.add(new Format[] {SMALL_SIGNED, SMALL_UNSIGNED});
    pairs.add(new Format[] {SMALL_SIGNED, SMALL_SIGNED});
    for (int a = 1; a <= 126; a += 25) {
      for (int b = 1; a + b <= 127; b += 18) {
        pairs.add(new Format[] {new Format(true, a, 3), new Format(false, b, 90)});
        pairs.add(new Format[] {new Format(true, a, 0), new Format(true, b, -5)});
      }
    }
    for (Format[] pair : pairs) {
      Datapath datapath = datapath(product, pair);
      List<BigInteger[]> cases =
          small(pair)
              ? Cases.all(datapath.inputs())
              : Cases.random(datapath.inputs(), 400, new Random(7));
      Laws.bitsAre(datapath, cases, c -> c[0].multiply(c[1]));
      Laws.hold(datapath, cases, small(pair) ? 0 : 0x1p-50);
    }
  }

  private static boolean small(Format[] formats) {
    return java.util.Arrays.stream(formats).mapToInt(Format::width).sum() < 14;
  }

  @Test
  void stepsOfOneOperandAreExactIntegerArithmetic() {
    for (int width : new int[] {1, 5, 31, 32, 33, 62, 63, 64, 65, 90, 127, 128}) {
      for (boolean signed : new boolean[] {true, false}) {
        if (width == 128 && !signed) {
          continue;
        }
        Format format = new Format(signed, width, 4);
        if (width < 128) {
          one(format, (b, in) -> b.negate("y", in.get(0)), c -> c[0].negate());
          one(format, (b, in) -> b.absolute("y", in.get(0)), c -> c[0].abs());
        }
        one(format, (b, in) -> b.scale("y", in.get(0), -3), c -> c[0]);
        if (width <= 63) {
          one(format, (b, in) -> b.multiply("y", in.get(0), in.get(0)), c -> c[0].pow(2));
        }
        if (width <= 100) {
          one(format, (b, in) -> b.extend("y", in.get(0), 30), c -> c[0].shiftLeft(26));
        }
      }
    }
  }

  private static void one(
      Format format, Describe describe, Function<BigInteger[], BigInteger> oracle) {
    Datapath datapath = datapath(describe, format);
    List<BigInteger[]> cases =
        format.width() <= 8
            ? Cases.all(datapath.inputs())
            : Cases.random(datapath.inputs(), 500, new Random(format.hashCode()));
    Laws.bitsAre(datapath, cases, oracle);
    Laws.hold(datapath, cases, format.width() <= 8 ? 0 : 0x1p-50);
  }

  @Test
  void allowancesAndAlternativesWidenBoundsAlone() {
    Format places = Format.signed(1, 6);
    for (int width : new int[] {5, 31, 62, 63, 64, 65, 90, 120}) {
      Format format = new Format(true, width, 4);
      one(format, (b, in) -> b.allow("y", in.get(0), 3, places), c -> c[0].shiftLeft(2));
      Datapath allowed = datapath((b, in) -> b.allow("y", in.get(0), 3, places), format);
      Datapath other = datapath((b, in) -> b.either("y", in.get(0), in.get(1)), format, format);
      List<BigInteger[]> cases = Cases.random(other.inputs(), 200, new Random(width));
      for (BigInteger[] c : cases) {
        BigInteger centre = c[0].shiftLeft(2);
        BigInteger three = BigInteger.valueOf(3);
        assertBounds(allowed, centre.subtract(three), centre.add(three), c[0]);
        assertBounds(other, c[0].min(c[1]), c[0].max(c[1]), c);
      }
    }
    // LSB coarser than the value's own count as many of its codes.
    Datapath coarse =
        datapath((b, in) -> b.allow("y", in.get(0), 2, Format.signed(8, 1)), SMALL_SIGNED);
    assertBounds(coarse, BigInteger.valueOf(1), BigInteger.valueOf(9), BigInteger.valueOf(5));
    Datapath.Builder b = Datapath.named("refused");
    Value x = b.input("x", SMALL_SIGNED);
    String message =
        assertThrows(DatapathException.class, () -> b.allow("y", x, -1, SMALL_SIGNED)).getMessage();
    assertTrue(message.contains("allows -1 LSB"), message);
  }

  /** What two accounts of a value have in common; the first of two that are of different ones. */
  @Test
  void confinedBoundsAreThoseOfBoth() {
    for (int width : new int[] {5, 31, 62, 63, 64, 65, 90, 120}) {
      Format format = new Format(true, width, 4);
      for (int apart = -6; apart <= 6; apart++) {
        int shift = apart;
        Datapath confined =
            datapath(
                (b, in) -> {
                  Value by = b.constant("by", new Format(true, 5, 4), shift);
                  Value other = b.allow("other", b.add("sum", in.get(0), by), 2, format);
                  return b.confine("y", b.allow("wide", in.get(0), 3, format), other);
                },
                format);
        int low = Math.abs(apart) > 5 ? -3 : Math.max(-3, apart - 2);
        int high = Math.abs(apart) > 5 ? 3 : Math.min(3, apart + 2);
        for (BigInteger[] c : Cases.random(confined.inputs(), 20, new Random(width))) {
          BigInteger least = c[0].add(BigInteger.valueOf(low));
          assertBounds(confined, least, c[0].add(BigInteger.valueOf(high)), c[0]);
        }
      }
    }
  }

  /** A product that the grid holds is no rounded one, whatever the widths; an interval is. */
  @Test
  void allowancesUnlessExactLeaveWhatLosesNoBit() {
    Format grid = Format.signed(8, 6);
    for (int width : new int[] {8, 31, 40, 62}) {
      Format format = new Format(true, width, 5);
      Describe product =
          (b, in) -> {
            Value full = b.multiply("full", in.get(0), in.get(1));
            return b.allowUnlessExact("y", full, 2, grid, in.get(0), full);
          };
      Datapath datapath = datapath(product, format, format);
      Laws.hold(datapath, Cases.random(datapath.inputs(), 300, new Random(width)), 0x1p-50);
      for (BigInteger[] c : Cases.random(datapath.inputs(), 300, new Random(width))) {
        BigInteger exact = c[0].multiply(c[1]);
        boolean held = exact.signum() == 0 || exact.getLowestSetBit() >= 4;
        BigInteger off = held ? BigInteger.ZERO : BigInteger.valueOf(32);
        assertBounds(datapath, exact.subtract(off), exact.add(off), c);
      }
    }
    Describe interval =
        (b, in) -> {
          Value either = b.either("either", in.get(0), in.get(1));
          return b.allowUnlessExact("y", in.get(0), 1, SMALL_SIGNED, in.get(0), either);
        };
    Datapath datapath = datapath(interval, SMALL_SIGNED, SMALL_SIGNED);
    BigInteger seven = BigInteger.valueOf(7);
    assertBounds(datapath, seven, seven, seven, seven);
    assertBounds(datapath, BigInteger.valueOf(6), BigInteger.valueOf(8), seven, BigInteger.ONE);
  }

  /** Both ends of what is off nothing lie as far from zero, and so do those of its products. */
  @Test
  void productsWithAnAllowanceOnNothingReachAsFarAsTheGreatestMagnitude() {
    Format grid = Format.signed(8, 4);
    for (int width : new int[] {5, 31, 50, 62, 64, 90}) {
      Format format = new Format(true, width, 4);
      for (boolean isPoint : new boolean[] {true, false}) {
        Datapath datapath =
            datapath(
                (b, in) -> {
                  Value off = b.allow("off", b.constant("nothing", grid, 0), 3, grid);
                  Value more = b.add("more", off, b.scale("again", off, 0));
                  Value other = isPoint ? in.get(0) : b.either("either", in.get(0), in.get(1));
                  return b.multiply("y", other, more);
                },
                format,
                format);
        for (BigInteger[] c : Cases.random(datapath.inputs(), 200, new Random(width))) {
          BigInteger magnitude = isPoint ? c[0].abs() : c[0].abs().max(c[1].abs());
          BigInteger most = magnitude.multiply(BigInteger.valueOf(6));
          assertBounds(datapath, most.negate(), most, c);
        }
      }
    }
  }

  private static void assertBounds(
      Datapath datapath, BigInteger low, BigInteger high, BigInteger... row) {
    BoundsEvaluation bounds = datapath.bounds(1);
    Cases.fill(datapath, bounds::input, List.<BigInteger[]>of(row), 0, 1);
    bounds.run(1);
    Format format = datapath.outputs().get(0).format();
    assertEquals(low, Cases.code(format, w -> bounds.low(0, w), 0), datapath::toString);
    assertEquals(high, Cases.code(format, w -> bounds.high(0, w), 0), datapath::toString);
  }

  @Test
  void logicIsThatOfSingleBits() {
    Format bit = Format.bit();
    Laws.bitsAre(
        datapath((b, in) -> b.and("y", in.get(0), in.get(1)), bit, bit),
        Cases.all(List.of(new Operand("a", bit), new Operand("b", bit))),
        c -> c[0].and(c[1]));
    Laws.bitsAre(
        datapath((b, in) -> b.or("y", in.get(0), in.get(1)), bit, bit),
        Cases.all(List.of(new Operand("a", bit), new Operand("b", bit))),
        c -> c[0].or(c[1]));
    Laws.bitsAre(
        datapath((b, in) -> b.not("y", in.get(0)), bit),
        Cases.all(List.of(new Operand("a", bit))),
        c -> BigInteger.ONE.subtract(c[0]));
  }

  @Test
  void shiftsByAValueMoveTheCode() {
    for (int width : new int[] {5, 31, 50, 63, 64, 65, 120}) {
      Format format = new Format(true, width, 2);
      Format places = Format.unsigned(3, 0);
      Describe left = (b, in) -> b.shiftLeft("y", in.get(0), in.get(1));
      Datapath lefts = datapath(left, format, places);
      List<BigInteger[]> cases = Cases.random(lefts.inputs(), 900, new Random(width));
      Laws.bitsAre(lefts, cases, c -> c[0].shiftLeft(c[1].intValue()));
      Laws.hold(lefts, cases, 0x1p-50);
      Format many = Format.unsigned(8, 0);
      Describe right = (b, in) -> b.shiftRight("y", in.get(0), in.get(1));
      Datapath rights = datapath(right, format, many);
      cases = Cases.random(rights.inputs(), 900, new Random(width));
      Laws.bitsAre(rights, cases, c -> c[0].shiftRight(c[1].intValue()));
      Laws.hold(rights, cases, 0x1p-50);
    }
  }

  @Test
  void fieldsLeadingZerosAndTablesReadTheCode() {
    for (int width : new int[] {6, 40, 64, 65, 100, 127}) {
      Format unsigned = new Format(false, width, 3);
      Datapath zeros = datapath((b, in) -> b.leadingZeros("y", in.get(0), 127), unsigned);
      List<BigInteger[]> cases = Cases.random(zeros.inputs(), 500, new Random(width));
      Laws.bitsAre(zeros, cases, c -> BigInteger.valueOf(127 - c[0].bitLength()));
      Format signed = new Format(true, width, 3);
      for (int[] bits : new int[][] {{5, 0}, {3, 3}, {80, 20}, {127, 64}, {100, 70}, {126, 0}}) {
        Datapath field = datapath((b, in) -> b.field("y", in.get(0), bits[0], bits[1]), signed);
        Laws.bitsAre(
            field,
            Cases.random(field.inputs(), 300, new Random(width)),
            c -> c[0].shiftRight(bits[1]).mod(BigInteger.ONE.shiftLeft(bits[0] - bits[1] + 1)));
      }
    }
    long[] squares = new long[16];
    for (int i = 0; i < squares.length; i++) {
      squares[i] = (long) i * i - 100;
    }
    Datapath table =
        datapath(
            (b, in) -> b.table("y", in.get(0), Format.signed(9, 1), squares),
            Format.unsigned(2, 2));
    Laws.bitsAre(
        table, Cases.all(table.inputs()), c -> c[0].pow(2).subtract(BigInteger.valueOf(100)));
  }

  @Test
  void everyConversionRoundsAndOverflowsAsBigIntegersDo() {
    List<Format> from =
        List.of(
            new Format(true, 6, 3),
            new Format(false, 6, 5),
            new Format(true, 32, 16),
            new Format(true, 64, 40),
            new Format(false, 64, 20),
            new Format(false, 63, 63),
            new Format(true, 100, 64),
            new Format(false, 127, 90),
            new Format(true, 128, 127));
    List<Format> to =
        List.of(
            new Format(true, 4, 1),
            new Format(false, 3, 1),
            new Format(true, 5, 4),
            new Format(false, 1, 0),
            new Format(true, 32, 16),
            new Format(true, 64, 16),
            new Format(false, 64, 30),
            new Format(false, 63, 10),
            new Format(true, 80, 50),
            new Format(false, 127, 60),
            new Format(true, 128, 70),
            new Format(true, 40, -6),
            new Format(true, 20, 0));
    for (Format source : from) {
      for (Format target : to) {
        for (Rounding rounding : Rounding.values()) {
          for (Overflow overflow : Overflow.values()) {
            convert(source, target, rounding, overflow);
          }
        }
      }
    }
  }

  private static void convert(Format source, Format target, Rounding rounding, Overflow overflow) {
    int drop = source.fractionBits() - target.fractionBits();
    if (source.width() - drop > 127) {
      return;
    }
    if (drop > 127) {
      return;
    }
    Datapath datapath =
        datapath((b, in) -> b.convert("y", in.get(0), target, rounding, overflow), source);
    List<BigInteger[]> cases =
        source.width() <= 8
            ? Cases.all(datapath.inputs())
            : Cases.random(datapath.inputs(), 150, new Random(drop));
    Laws.bitsAre(
        datapath,
        cases,
        c ->
            overflow.apply(
                drop > 0
                    ? rounding.divide(c[0], BigInteger.ONE.shiftLeft(drop))
                    : c[0].shiftLeft(-drop),
                target));
    Laws.hold(datapath, cases, source.width() <= 8 ? 0 : 0x1p-50);
  }
}
