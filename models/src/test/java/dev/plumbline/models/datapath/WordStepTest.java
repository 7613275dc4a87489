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
import org.junit.jupiter.api.Test;

/** Steps on the bits of words, choices and tables, against big integers and texts of digits. */
class WordStepTest {
  private static final int[] WIDTHS = {1, 2, 5, 33, 63, 64, 65, 127};
  private static final BigInteger ONE = BigInteger.ONE;

  private static Datapath datapath(StepTest.Describe describe, Format... formats) {
    Datapath.Builder b = Datapath.named("one_step");
    List<Value> in = new ArrayList<>();
    for (Format format : formats) {
      in.add(b.input("x" + in.size(), format));
    }
    return b.output("y", describe.step(b, in)).build();
  }

  /** Points give the oracle's code in bits, in bounds and ideally; intervals keep the two laws. */
  private static void law(
      StepTest.Describe describe, Function<BigInteger[], BigInteger> oracle, Format... formats) {
    int bits = java.util.Arrays.stream(formats).mapToInt(Format::width).sum();
    Datapath points = datapath(describe, formats);
    Random random = new Random(bits);
    List<BigInteger[]> cases =
        bits <= 12 ? Cases.all(points.inputs()) : Cases.random(points.inputs(), 100, random);
    Laws.bitsAre(points, cases, oracle);
    Laws.hold(points, cases, bits <= 53 ? 0 : 1);
    pointsAreClosed(points, cases);

    // The same step on intervals: each operand may be another input.
    Datapath.Builder b = Datapath.named("intervals");
    List<Value> open = new ArrayList<>();
    for (Format format : formats) {
      String name = "x" + open.size();
      Value either = b.either(name + "_e", b.input(name, format), b.input(name + "_o", format));
      open.add(b.convert(name + "_c", either, format, Rounding.FLOOR, Overflow.SATURATE));
    }
    Datapath intervals = b.output("y", describe.step(b, open)).build();
    List<BigInteger[]> pairs =
        bits <= 6
            ? Cases.all(intervals.inputs())
            : Cases.random(intervals.inputs(), 150, new Random(bits));
    Laws.hold(intervals, pairs, bits <= 53 ? 0 : 1);
    everyCodeBetweenIsWithin(points, intervals, pairs);
  }

  private static void pointsAreClosed(Datapath points, List<BigInteger[]> cases) {
    boolean rounded = points.table().contains("of a function");
    BoundsEvaluation bounds = points.bounds(1);
    Format format = points.outputs().get(0).format();
    for (BigInteger[] one : cases.subList(0, Math.min(60, cases.size()))) {
      Cases.fill(points, bounds::input, List.<BigInteger[]>of(one), 0, 1);
      bounds.run(1);
      BigInteger low = Cases.code(format, w -> bounds.low(0, w), 0);
      BigInteger high = Cases.code(format, w -> bounds.high(0, w), 0);
      assertTrue(high.subtract(low).intValueExact() <= (rounded ? 1 : 0), points::table);
    }
  }

  /** Inputs of the intervals come in pairs of ends: whatever lies between both is within. */
  private static void everyCodeBetweenIsWithin(
      Datapath points, Datapath intervals, List<BigInteger[]> pairs) {
    Random random = new Random(1);
    BitEvaluation bits = points.bits(1);
    BoundsEvaluation bounds = intervals.bounds(1);
    Format format = points.outputs().get(0).format();
    for (BigInteger[] ends : pairs) {
      BigInteger[] between = new BigInteger[ends.length / 2];
      for (int k = 0; k < between.length; k++) {
        BigInteger least = ends[2 * k].min(ends[2 * k + 1]);
        BigInteger more = ends[2 * k].max(ends[2 * k + 1]).subtract(least);
        between[k] = least.add(new BigInteger(more.bitLength() + 1, random).min(more));
      }
      Cases.fill(points, bits::input, List.<BigInteger[]>of(between), 0, 1);
      Cases.fill(intervals, bounds::input, List.<BigInteger[]>of(ends), 0, 1);
      bits.run(1);
      bounds.run(1);
      BigInteger code = Cases.code(format, w -> bits.output(0, w), 0);
      assertTrue(
          Cases.code(format, w -> bounds.low(0, w), 0).compareTo(code) <= 0
              && Cases.code(format, w -> bounds.high(0, w), 0).compareTo(code) >= 0,
          () -> code + " for " + List.of(between) + " in\n" + intervals);
    }
  }

  private static BigInteger raw(BigInteger code, int width) {
    return code.mod(ONE.shiftLeft(width));
  }

  private static BigInteger read(BigInteger raw, Format format) {
    return format.signed() && raw.testBit(format.width() - 1)
        ? raw.subtract(ONE.shiftLeft(format.width()))
        : raw;
  }

  /** The bits as digits, the highest first. */
  private static String digits(BigInteger code, int width) {
    String digits = raw(code, width).toString(2);
    return "0".repeat(width - digits.length()) + digits;
  }

  @Test
  void reinterpretedBitsAreTheSameBits() {
    for (int width : WIDTHS) {
      Format signed = new Format(true, width, 3);
      Format unsigned = new Format(false, width, 1);
      law((b, in) -> b.reinterpret("y", in.get(0), unsigned), c -> raw(c[0], width), signed);
      law((b, in) -> b.reinterpret("y", in.get(0), signed), c -> read(c[0], signed), unsigned);
      law((b, in) -> b.reinterpret("y", in.get(0), new Format(true, width, 7)), c -> c[0], signed);
    }
  }

  @Test
  void wordsStandSideBySide() {
    for (int[] widths : new int[][] {{1, 1}, {3, 2}, {2, 4}, {20, 40}, {33, 31}, {64, 63}}) {
      for (boolean signed : new boolean[] {false, true}) {
        Format high = new Format(signed, widths[0], 2);
        Format low = new Format(!signed, widths[1], 0);
        law(
            (b, in) -> b.concatenate("y", in.get(0), in.get(1)),
            c -> new BigInteger(digits(c[0], widths[0]) + digits(c[1], widths[1]), 2),
            high,
            low);
      }
    }
    Format bit = Format.bit();
    law(
        (b, in) -> b.concatenate("y", in.get(2), in.get(1), in.get(0)),
        c -> c[2].shiftLeft(2).add(c[1].shiftLeft(1)).add(c[0]),
        bit,
        bit,
        bit);
  }

  @Test
  void fieldsAreDigitsOfTheCode() {
    for (int width : WIDTHS) {
      for (int[] bits : new int[][] {{0, 0}, {3, 1}, {40, 7}, {70, 60}, {126, 1}, {127, 5}}) {
        Format format = new Format(true, width, 2);
        law(
            (b, in) -> b.field("y", in.get(0), bits[0], bits[1]),
            c -> {
              String all = digits(c[0], 128);
              return new BigInteger(all.substring(127 - bits[0], 128 - bits[1]), 2);
            },
            format);
      }
    }
  }

  @Test
  void bitsTurnRoundWithinTheWord() {
    for (int width : WIDTHS) {
      for (boolean signed : new boolean[] {false, true}) {
        Format format = new Format(signed, width, 1);
        Format places = Format.unsigned(4, 0);
        law(
            (b, in) -> b.rotateLeft("y", in.get(0), in.get(1)),
            c -> {
              String digits = digits(c[0], width);
              int by = c[1].intValue() % width;
              return read(
                  new BigInteger(digits.substring(by) + digits.substring(0, by), 2), format);
            },
            format,
            places);
        law(
            (b, in) -> {
              Value back = b.rotateRight("back", in.get(0), in.get(1));
              return b.rotateLeft("y", back, in.get(1));
            },
            c -> c[0],
            format,
            places);
      }
    }
  }

  @Test
  void normalisedCodesBeginAtTheTop() {
    for (int width : WIDTHS) {
      Format format = new Format(false, width, 3);
      for (int in : new int[] {width, Math.min(width + 3, 127)}) {
        law(
            (b, x) -> b.normalise("y", x.get(0), in),
            c -> c[0].shiftLeft(c[0].signum() == 0 ? 0 : in - c[0].bitLength()),
            format);
        law(
            (b, x) -> b.leadingZeros("y", x.get(0), in),
            c -> BigInteger.valueOf(in - c[0].bitLength()),
            format);
      }
    }
  }

  @Test
  void wordsAreCombinedBitByBit() {
    for (int width : WIDTHS) {
      for (boolean signed : new boolean[] {false, true}) {
        Format f = new Format(signed, width, 1);
        law((b, in) -> b.bitAnd("y", in.get(0), in.get(1)), c -> c[0].and(c[1]), f, f);
        law((b, in) -> b.bitOr("y", in.get(0), in.get(1)), c -> c[0].or(c[1]), f, f);
        law((b, in) -> b.exclusiveOr("y", in.get(0), in.get(1)), c -> c[0].xor(c[1]), f, f);
        law((b, in) -> b.bitNot("y", in.get(0)), c -> read(raw(c[0].not(), width), f), f);
        law(
            (b, in) -> b.ones("y", in.get(0)),
            c -> BigInteger.valueOf(digits(c[0], width).replace("0", "").length()),
            f);
        law(
            (b, in) -> b.parity("y", in.get(0)),
            c -> BigInteger.valueOf(digits(c[0], width).replace("0", "").length() % 2),
            f);
        law(
            (b, in) -> b.reverseBits("y", in.get(0)),
            c -> new BigInteger(new StringBuilder(digits(c[0], width)).reverse().toString(), 2),
            f);
      }
    }
  }

  @Test
  void oneOfManyIsTheOneAtTheIndex() {
    Format index = Format.unsigned(2, 0);
    Format small = Format.signed(2, 1);
    law(
        (b, in) -> {
          Value six = b.constant("six", Format.unsigned(3, 0), 6);
          return b.choose("y", in.get(0), in.get(1), six, in.get(2), in.get(1));
        },
        c -> List.of(c[1], BigInteger.valueOf(12), c[2], c[1]).get(c[0].intValue()),
        index,
        small,
        small);
    Format wide = Format.signed(70, 20);
    law(
        (b, in) -> b.choose("y", in.get(0), in.get(1), in.get(2), in.get(2), in.get(1)),
        c -> c[c[0].intValue() % 3 == 0 ? 1 : 2],
        index,
        wide,
        wide);
    law(
        (b, in) ->
            b.firstOf(
                "y",
                List.of(in.get(0), in.get(1)),
                List.of(in.get(2), in.get(3)),
                b.constant("none", Format.signed(2, 0), 1)),
        c -> c[0].signum() > 0 ? c[2] : c[1].signum() > 0 ? c[3] : ONE,
        Format.bit(),
        Format.bit(),
        Format.signed(2, 0),
        Format.signed(2, 0));
    law(
        (b, in) -> b.within("y", in.get(0), in.get(1), in.get(2)),
        c -> c[0].compareTo(c[1]) <= 0 && c[1].compareTo(c[2]) <= 0 ? ONE : BigInteger.ZERO,
        Format.signed(2, 0),
        Format.signed(3, 0),
        Format.signed(2, 0));
  }

  @Test
  void tablesGiveTheirEntries() {
    long[] entries = new Random(4).longs(64, -2000, 2000).toArray();
    law(
        (b, in) -> b.exactTable("y", in.get(0), Format.signed(9, 3), entries),
        c -> BigInteger.valueOf(entries[c[0].intValue()]),
        Format.unsigned(4, 2));
    for (Rounding rounding : Rounding.values()) {
      Format to = Format.signed(2, 5);
      law(
          (b, in) -> b.functionTable("y", in.get(0), to, rounding, x -> 3 * Math.sin(Math.PI * x)),
          c ->
              to.toCode(
                  3 * Math.sin(Math.PI * c[0].intValue() / 64.0), rounding, Overflow.SATURATE),
          Format.signed(1, 6));
    }
  }

  /** The same polynomial division, by digits. */
  private static BigInteger remainder(
      BigInteger register, String data, BigInteger polynomial, int width) {
    BigInteger divisor = ONE.shiftLeft(width).or(polynomial);
    BigInteger dividend =
        new BigInteger("0" + data, 2).shiftLeft(width).xor(register.shiftLeft(data.length()));
    for (int bit = dividend.bitLength() - 1; bit >= width; bit--) {
      if (dividend.testBit(bit)) {
        dividend = dividend.xor(divisor.shiftLeft(bit - width));
      }
    }
    return dividend;
  }

  @Test
  void checksAreRemaindersOfPolynomials() {
    Random random = new Random(8);
    for (int width : new int[] {1, 3, 16, 33, 63, 64}) {
      for (int bits : new int[] {1, 5, 64, 100}) {
        BigInteger polynomial = new BigInteger(width, random);
        Format register = Format.unsigned(width, 0);
        Format data = Format.unsigned(bits, 0);
        law(
            (b, in) -> b.crc("y", in.get(0), in.get(1), polynomial.longValue(), false),
            c -> remainder(c[0], digits(c[1], bits), polynomial, width),
            register,
            data);
        law(
            (b, in) -> b.crc("y", in.get(0), in.get(1), polynomial.longValue(), true),
            c -> {
              BigInteger turned = new BigInteger(reversed(digits(c[0], width)), 2);
              BigInteger rest = remainder(turned, reversed(digits(c[1], bits)), polynomial, width);
              return new BigInteger(reversed(digits(rest, width)), 2);
            },
            register,
            data);
      }
    }
  }

  private static String reversed(String digits) {
    return new StringBuilder(digits).reverse().toString();
  }

  @Test
  void whatHasNoMeaningIsRefused() {
    Datapath.Builder b = Datapath.named("refused");
    Value x = b.input("x", Format.signed(4, 4));
    Value u = b.input("u", Format.unsigned(4, 0));
    refused("reads the 8 bits", () -> b.reinterpret("a", x, Format.unsigned(4, 5)));
    refused("of one format", () -> b.bitAnd("b", x, u));
    refused("has register", () -> b.crc("c", x, u, 7, false));
    refused("divides by 0x10", () -> b.crc("d", u, x, 16, false));
    refused("from 3 values", () -> b.choose("e", u, x, x, x));
    refused(
        "has no number at code 0",
        () ->
            b.functionTable(
                "f", u, Format.signed(4, 4), Rounding.FLOOR, v -> v == 0 ? Double.NaN : 1 / v));
    refused("normalises", () -> b.normalise("g", x, 8));
    refused("side by side", () -> b.concatenate("h"));
    refused("2 conditions", () -> b.firstOf("i", List.of(u, u), List.of(x), x));
    refused("gives 0 values", () -> b.unrolled(2, List.of(x), (n, s) -> List.of()));
  }

  /**
   * What is too wide says which operand to narrow to how many bits, and with so many it is built.
   */
  @Test
  void tooWideAStepSaysWhatHelps() {
    Datapath.Builder b = Datapath.named("wide");
    Value x = b.input("x", Format.signed(40, 40));
    Value y = b.input("y", Format.signed(30, 40));
    refused("needs 150 bits", () -> b.multiply("a", x, y));
    refused("convert operand \"x\" from 80 to 58 bits or fewer first", () -> b.multiply("b", x, y));
    Format narrow = Format.signed(18, 40);
    Value fewer = b.convert("fewer", x, narrow, Rounding.FLOOR, Overflow.SATURATE);
    assertEquals(128, b.multiply("c", fewer, y).format().width());
  }

  private static void refused(String part, Runnable action) {
    String message = assertThrows(DatapathException.class, action::run).getMessage();
    assertTrue(message.contains(part), message);
  }

  @Test
  void passesOfALoopFollowOneAnother() {
    Datapath.Builder b = Datapath.named("triple");
    Value x = b.input("x", Format.signed(4, 0));
    List<Value> end =
        b.unrolled(
            3, List.of(x, x), (n, s) -> List.of(b.add("sum_" + n, s.get(0), s.get(1)), s.get(1)));
    Datapath datapath = b.output("y", end.get(0)).build();
    Laws.bitsAre(datapath, Cases.all(datapath.inputs()), c -> c[0].shiftLeft(2));
    assertEquals(4, datapath.steps().size());
  }
}
