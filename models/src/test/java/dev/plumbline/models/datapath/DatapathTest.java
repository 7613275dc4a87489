package dev.plumbline.models.datapath;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigInteger;
import java.util.List;
import java.util.function.Consumer;
import org.junit.jupiter.api.Test;

class DatapathTest {
  private static final Format WORD = Format.signed(16, 16);

  private static Datapath blend(Rounding rounding) {
    Datapath.Builder b = Datapath.named("blend");
    Value x = b.input("x", WORD);
    Value y = b.input("y", WORD);
    Value t = b.input("t", Format.unsigned(1, 15), BigInteger.ZERO, BigInteger.valueOf(32768));
    Value step = b.subtract("step", y, x);
    Value product = b.multiply("product", step, t);
    Value offset = b.convert("offset", product, WORD, rounding, Overflow.SATURATE);
    b.output("blended", b.add("sum", x, offset));
    return b.build();
  }

  @Test
  void aDatapathPrintsItsStepsFormulasAndFormats() {
    assertEquals(
        """
        datapath "blend"
        step     formula                                       format  range
        x        input                                         s16.16  -32768 .. 32767.99998
        y        input                                         s16.16  -32768 .. 32767.99998
        t        input                                         u1.15   0 .. 1
        step     y - x                                         s17.16  -65535.99998 .. 65535.99998
        product  step * t                                      s17.31  -65535.99998 .. 65535.99998
        offset   product to s16.16, rounding floor, saturates  s16.16  -32768 .. 32767.99998
        sum      x + offset                                    s17.16  -65536 .. 65535.99996
        blended  output sum                                    s17.16
        """,
        blend(Rounding.FLOOR).table());
  }

  @Test
  void operandsAndStepsAreNamedInOrder() {
    Datapath datapath = blend(Rounding.FLOOR);
    assertEquals("[x s16.16, y s16.16, t u1.15]", datapath.inputs().toString());
    assertEquals("[blended s17.16]", datapath.outputs().toString());
    assertEquals(
        List.of("x", "y", "t", "step", "product", "offset", "sum"),
        datapath.steps().stream().map(Operand::name).toList());
  }

  @Test
  void columnsStayTheSameFromRunToRun() {
    BitEvaluation e = blend(Rounding.FLOOR).bits(4);
    long[] x = e.input(0, 0);
    long[] y = e.output(0, 0);
    for (int run = 0; run < 3; run++) {
      x[2] = 65536L * run;
      e.run(3);
      assertSame(y, e.output(0, 0));
      assertEquals(65536L * run, y[2]);
      assertEquals(-65536L * run, e.step("step", 0)[2]);
    }
  }

  @Test
  void aWrongRoundingIsNoticed() {
    BitEvaluation down = blend(Rounding.FLOOR).bits(1);
    BitEvaluation half = blend(Rounding.HALF_CEILING).bits(1);
    for (BitEvaluation e : List.of(down, half)) {
      e.input(1, 0)[0] = 3;
      e.input(2, 0)[0] = 16384;
      e.run(1);
    }
    assertNotEquals(down.output(0, 0)[0], half.output(0, 0)[0]);
  }

  @Test
  void widthsFollowTheRangeAndNotTheFormat() {
    Datapath.Builder b = Datapath.named("narrow");
    Value x = b.input("x", Format.signed(32, 0), BigInteger.valueOf(-3), BigInteger.valueOf(5));
    assertEquals("x s32.0", x.toString());
    assertEquals(Format.unsigned(5, 0), b.multiply("square", x, x).format());
    assertEquals(Format.signed(6, 0), b.multiply("product", x, b.negate("n", x)).format());
    assertEquals(Format.unsigned(3, 0), b.absolute("a", x).format());
    Value word = b.input("w", Format.unsigned(64, 0));
    assertEquals(Format.signed(68, 0), b.multiply("wide", word, x).format());
  }

  @Test
  void unsignedWordsOf64BitsAreRawBits() {
    Datapath.Builder b = Datapath.named("raw");
    Value x = b.input("x", Format.unsigned(64, 0));
    BitEvaluation e = b.output(b.add("y", x, x)).output(x).build().bits(1);
    e.input(0, 0)[0] = -1;
    e.run(1);
    assertEquals(-2, e.output(0, 0)[0]);
    assertEquals(1, e.output(0, 1)[0]);
    assertEquals(-1, e.output(1, 0)[0]);
    assertThrows(DatapathException.class, () -> e.output(1, 1));
  }

  @Test
  void aWrapThatMayOverflowHasTheWholeRangeForBoundsAndNoIdeal() {
    Format small = Format.signed(4, 0);
    Datapath.Builder b = Datapath.named("wrap");
    Value x = b.input("x", Format.signed(6, 0));
    Datapath datapath = b.output(b.convert("y", x, small, Rounding.FLOOR, Overflow.WRAP)).build();
    BoundsEvaluation bounds = datapath.bounds(2);
    IdealEvaluation ideal = datapath.ideal(2);
    bounds.input(0, 0)[0] = 9;
    bounds.input(0, 0)[1] = -8;
    ideal.input(0, 0)[0] = 9;
    ideal.input(0, 0)[1] = -8;
    bounds.run(2);
    ideal.run(2);
    assertEquals(-8, bounds.low(0, 0)[0]);
    assertEquals(7, bounds.high(0, 0)[0]);
    assertTrue(Double.isNaN(ideal.output(0)[0]));
    assertEquals(-8, bounds.low(0, 0)[1]);
    assertEquals(-8, bounds.high(0, 0)[1]);
    assertEquals(-8.0, ideal.output(0)[1]);
  }

  @Test
  void decisionsAreDecidedOnlyWhereIntervalsPart() {
    Datapath.Builder b = Datapath.named("decide");
    Value x = b.input("x", Format.signed(4, 4));
    Value whole = b.convert("w", x, Format.signed(4, 0), Rounding.FLOOR, Overflow.SATURATE);
    Value one = b.constant("one", Format.unsigned(1, 0), 1);
    Value seven = b.constant("seven", Format.unsigned(3, 0), 7);
    Value less = b.lessThan("less", whole, one);
    Datapath datapath = b.output(less).output(b.select("chosen", less, seven, one)).build();
    BoundsEvaluation e = datapath.bounds(3);
    e.input(0, 0)[0] = 0;
    e.input(0, 0)[1] = 8;
    e.input(0, 0)[2] = 17;
    e.run(3);
    assertBounds(e, 0, 0, 1, 1);
    assertBounds(e, 1, 0, 7, 7);
    assertBounds(e, 0, 1, 0, 1);
    assertBounds(e, 1, 1, 1, 7);
    assertBounds(e, 0, 2, 0, 0);
    assertBounds(e, 1, 2, 1, 1);
  }

  private static void assertBounds(BoundsEvaluation e, int output, int i, long low, long high) {
    assertEquals(low, e.low(output, 0)[i]);
    assertEquals(high, e.high(output, 0)[i]);
  }

  @Test
  void anIllegalInputIsNamedWithItsCase() {
    Datapath datapath = blend(Rounding.FLOOR);
    BitEvaluation bits = datapath.bits(8);
    bits.input(2, 0)[5] = 32769;
    assertRefused(
        "Input code 32769 of t u1.15 in case 5 of datapath \"blend\": it has to be 0 to 32768",
        () -> bits.run(8));
    bits.run(5);
    bits.input(0, 0)[1] = 1L << 31;
    assertRefused("Input code 2147483648 of x s16.16 in case 1", () -> bits.run(5));
    BoundsEvaluation bounds = datapath.bounds(8);
    bounds.input(1, 0)[7] = Long.MIN_VALUE;
    assertRefused("of y s16.16 in case 7", () -> bounds.run(8));
    IdealEvaluation ideal = datapath.ideal(8);
    ideal.input(1, 0)[0] = Long.MAX_VALUE;
    assertRefused("of y s16.16 in case 0", () -> ideal.run(8));
    assertRefused("Run of 9 cases", () -> datapath.bits(8).run(9));
    assertRefused("for 0 cases", () -> datapath.bits(0));
  }

  @Test
  void wideInputsAreCheckedInBothWords() {
    Datapath.Builder b = Datapath.named("wide");
    BitEvaluation e = b.output(b.input("x", Format.signed(70, 0))).build().bits(2);
    e.input(0, 1)[1] = 1 << 5;
    assertRefused("Input code 590295810358705651712 of x s70.0 in case 1", () -> e.run(2));
    e.input(0, 1)[1] = (1 << 5) - 1;
    e.run(2);
    assertEquals(31, e.output(0, 1)[1]);
  }

  @Test
  void whatIsNotThereIsRefusedWithWhatIs() {
    BitEvaluation e = blend(Rounding.FLOOR).bits(1);
    assertRefused(
        "there are 3, counted from 0: [x s16.16, y s16.16, t u1.15]", () -> e.input(3, 0));
    assertRefused("Word 1 of x s16.16 in datapath \"blend\": it has 1", () -> e.input(0, 1));
    assertRefused("output 1 of datapath \"blend\"", () -> e.output(1, 0));
    assertRefused("Step \"t2\" of datapath \"blend\"", () -> e.step("t2", 0));
  }

  @Test
  void everyRefusalNamesTheStep() {
    refused("needs 156 bits (fourth * x of", (b, x) -> b.multiply("bad", fourth(b, x), x));
    refused("is described again", (b, x) -> b.add("bad", b.add("bad", x, x), x));
    refused("is no name for a step", (b, x) -> b.add("bad name", x, x));
    refused("takes w s16.16 of another", (b, x) -> b.add("bad", x, foreign()));
    refused("takes x s16.16 as a bit", (b, x) -> b.not("bad", x));
    refused("takes x s16.16 as a bit", (b, x) -> b.select("bad", x, x, x));
    refused(
        "takes the root of x s16.16 with codes from -2147483648",
        (b, x) -> b.squareRoot("bad", x, Rounding.FLOOR));
    refused("shifts by x s16.16", (b, x) -> b.shiftLeft("bad", x, x));
    refused("extends x s16.16 to 3", (b, x) -> b.extend("bad", x, 3));
    refused("counts the leading zeros of x", (b, x) -> b.leadingZeros("bad", x, 32));
    refused("takes bits 3 to 4", (b, x) -> b.field("bad", x, 3, 4));
    refused("looks up x", (b, x) -> b.table("bad", x, WORD, new long[] {1, 2}));
    refused("is the constant code 2", (b, x) -> b.constant("bad", Format.bit(), 2));
    refused(
        "has legal codes 3 to 2",
        (b, x) -> b.input("bad", WORD, BigInteger.valueOf(3), BigInteger.TWO));
    refused("has format u128.0", (b, x) -> b.input("bad", Format.unsigned(128, 0)));
    refused(
        "drops 200 fraction bits",
        (b, x) ->
            b.convert(
                "bad", b.scale("s", x, -184), Format.signed(8, 0), Rounding.FLOOR, Overflow.WRAP));
    refused("has 520 fraction bits", (b, x) -> b.scale("bad", x, -504));
    refused(
        "bits to bring x",
        (b, x) -> b.convert("bad", x, Format.signed(8, 120), Rounding.FLOOR, Overflow.WRAP));
    refused("divides x s16.16", (b, x) -> b.divide("bad", x, b.extend("e", x, 96), WORD));
    refused("as u16.16", (b, x) -> b.output("bad", x, Format.unsigned(16, 16)));
    refused("is given again", (b, x) -> b.output("bad", x).output("bad", x));
    assertRefused("has no output", () -> Datapath.named("none").build());
    Datapath.Builder built = Datapath.named("built");
    Value x = built.input("x", WORD);
    built.output(x).build();
    assertRefused("comes after build", () -> built.negate("late", x));
  }

  private static Value foreign() {
    return Datapath.named("other").input("w", WORD);
  }

  private static Value fourth(Datapath.Builder b, Value x) {
    Value square = b.multiply("square", x, x);
    return b.multiply("fourth", square, square);
  }

  /** Describes one more step than can be, on an input called x. */
  interface Describe {
    Object step(Datapath.Builder b, Value x);
  }

  private static void refused(String part, Describe describe) {
    Datapath.Builder b = Datapath.named("block");
    Value x = b.input("x", WORD);
    String message = assertThrows(DatapathException.class, () -> describe.step(b, x)).getMessage();
    Consumer<String> holds = text -> assertTrue(message.contains(text), message);
    holds.accept(part);
    holds.accept("Step \"bad");
    holds.accept("datapath \"block\"");
  }

  private static void assertRefused(String part, Runnable action) {
    String message = assertThrows(DatapathException.class, action::run).getMessage();
    assertTrue(message.contains(part), message);
  }
}
