package dev.plumbline.models.datapath;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigInteger;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

class UnitTest {
  private static final Format IN = Format.signed(4, 4);
  private static final Format OUT = Format.signed(5, 4);

  /** A reciprocal by table, exact but for rounding; zero gives the highest code. */
  private static Datapath reciprocal() {
    long[] entries = new long[256];
    for (int i = 0; i < 256; i++) {
      int code = (byte) i;
      entries[i] =
          code == 0
              ? OUT.maxCode().longValue()
              : OUT.toCode(256.0 / code / 16, Rounding.FLOOR, Overflow.SATURATE).longValue();
    }
    Datapath.Builder b = Datapath.named("reciprocal");
    Value x = b.input("x", IN);
    Value y = b.table("entry", b.field("index", x, 7, 0), OUT, entries);
    return b.output("zero", b.equal("zero", x, b.constant("none", IN, 0))).output("y", y).build();
  }

  private static Unit inverse() {
    return Unit.of(reciprocal(), "y", x -> 1 / x[0], 1).exceptAt(0);
  }

  private static Datapath user() {
    Datapath.Builder b = Datapath.named("user");
    Value a = b.input("a", Format.signed(3, 6));
    Value x = b.convert("x", a, IN, Rounding.HALF_CEILING, Overflow.SATURATE);
    Value y = b.unit("inverse", inverse(), x);
    return b.output(b.add("sum", y, a)).output(y).build();
  }

  @Test
  void aUnitIsItsOwnStepsInBitsAndItsFunctionInBoundsAndReals() {
    Datapath datapath = user();
    List<BigInteger[]> cases = Cases.all(datapath.inputs());
    Laws.hold(datapath, cases, 0);
    Laws.bitsAre(
        datapath,
        cases,
        c -> {
          BigInteger x =
              IN.toCode(c[0].intValue() / 64.0, Rounding.HALF_CEILING, Overflow.SATURATE);
          BigInteger y =
              x.signum() == 0
                  ? OUT.maxCode()
                  : OUT.toCode(16.0 / x.intValue(), Rounding.FLOOR, Overflow.SATURATE);
          return y.shiftLeft(2).add(c[0]);
        });
  }

  @Test
  void boundsOfAPointAreTheFunctionWithinItsErrorAndNoMore() {
    BoundsEvaluation e = user().bounds(3);
    e.input(0, 0)[0] = 3 << 6; // exactly 3: 1/3 is 5.33 LSB
    e.input(0, 0)[1] = 2 << 6; // exactly 2: 1/2 is 8 LSB
    e.input(0, 0)[2] = 1; // 0 or an LSB: the pole is reached from elsewhere
    e.run(3);
    assertEquals(5, e.low(1, 0)[0]);
    assertEquals(6, e.high(1, 0)[0]);
    assertEquals(7, e.low(1, 0)[1]);
    assertEquals(9, e.high(1, 0)[1]);
    assertEquals(OUT.minCode().longValue(), e.low(1, 0)[2]);
    assertEquals(OUT.maxCode().longValue(), e.high(1, 0)[2]);
  }

  @Test
  void aUnitsStepsAreFoundUnderItsName() {
    Datapath datapath = user();
    assertTrue(datapath.steps().stream().anyMatch(o -> o.name().equals("inverse.index")));
    assertTrue(datapath.table().contains("inverse.entry"), datapath.table());
    BitEvaluation e = datapath.bits(1);
    e.input(0, 0)[0] = -64;
    e.run(1);
    assertEquals(0xF0, e.step("inverse.index", 0)[0]);
    assertEquals(-16, e.step("inverse.entry", 0)[0]);
    assertEquals(-16, e.step("inverse", 0)[0]);
  }

  @Test
  void aRuleOfItsOwnEnclosesAFunctionThatTurns() {
    Format format = Format.signed(4, 2);
    Datapath.Builder b = Datapath.named("square");
    Value x = b.input("x", format);
    Value p = b.multiply("p", x, x);
    b.output(b.convert("y", p, Format.unsigned(8, 1), Rounding.HALF_EVEN, Overflow.SATURATE));
    Unit square =
        Unit.of(b.build(), "y", v -> v[0] * v[0], 0.5)
            .enclosedBy(
                (low, high, ends) -> {
                  double a = low[0] * low[0];
                  double c = high[0] * high[0];
                  ends[0] = low[0] <= 0 && high[0] >= 0 ? 0 : Math.min(a, c);
                  ends[1] = Math.max(a, c);
                });
    Datapath.Builder outer = Datapath.named("outer");
    Value a = outer.input("a", Format.signed(4, 4));
    Value rounded = outer.convert("x", a, format, Rounding.FLOOR, Overflow.SATURATE);
    Datapath datapath = outer.output(outer.unit("square", square, rounded)).build();
    Laws.hold(datapath, Cases.all(datapath.inputs()), 0);
  }

  /** The bounds of a unit over a given interval of codes of its operand. */
  private static List<Long> bounds(Unit unit, double low, double high) {
    Datapath.Builder b = Datapath.named("outer");
    Value ends = b.either("x", b.input("low", IN), b.input("high", IN));
    BoundsEvaluation e = b.output(b.unit("y", unit, ends)).build().bounds(1);
    e.input(0, 0)[0] = Math.round(low * 16);
    e.input(1, 0)[0] = Math.round(high * 16);
    e.run(1);
    return List.of(e.low(0, 0)[0], e.high(0, 0)[0]);
  }

  private static final List<Long> EVERYTHING =
      List.of(OUT.minCode().longValue(), OUT.maxCode().longValue());

  @Test
  void breaksAreKeptWhateverIsDeclaredAfterThem() {
    Unit.Enclosure tight =
        (low, high, ends) -> {
          ends[0] = 1;
          ends[1] = 2;
        };
    for (Unit unit :
        List.of(
            inverse().exceptAt(2),
            inverse().exceptAt(2).enclosedBy(tight),
            inverse().enclosedBy(tight).exceptAt(2),
            Unit.of(reciprocal(), "y", x -> 1 / x[0], 1).exceptAt(0, 2))) {
      assertEquals(EVERYTHING, bounds(unit, -1, 1));
      assertEquals(EVERYTHING, bounds(unit, 1, 3));
      assertTrue(bounds(unit, 3, 4).get(1) < 40, "between its breaks");
    }
    assertEquals(List.of(15L, 33L), bounds(inverse().enclosedBy(tight), 0.5, 1));
    assertTrue(bounds(inverse(), 1, 3).get(1) < 40, "a new unit leaves the old one as it is");
  }

  @Test
  void infiniteEndsAreTheRangesOwnAndNanLeavesAnEndOpen() {
    long least = EVERYTHING.get(0);
    long greatest = EVERYTHING.get(1);
    double infinite = Double.POSITIVE_INFINITY;
    assertEquals(EVERYTHING, boundsOfEnds(-infinite, infinite));
    assertEquals(EVERYTHING, boundsOfEnds(Double.NaN, Double.NaN));
    assertEquals(List.of(least, 17L), boundsOfEnds(Double.NaN, 1));
    assertEquals(List.of(15L, greatest), boundsOfEnds(1, Double.NaN));
    assertEquals(List.of(least, least + 1), boundsOfEnds(-infinite, -infinite));
    assertEquals(List.of(greatest - 1, greatest), boundsOfEnds(infinite, infinite));
  }

  private static List<Long> boundsOfEnds(double least, double greatest) {
    Unit unit =
        inverse()
            .enclosedBy(
                (low, high, ends) -> {
                  ends[0] = least;
                  ends[1] = greatest;
                });
    return bounds(unit, 1, 2);
  }

  @Test
  void aUnitOfTwoOperandsIsMonotoneInEach() {
    Format format = Format.signed(30, 33);
    Format product = Format.signed(60, 40);
    Datapath.Builder b = Datapath.named("product");
    Value p = b.multiply("p", b.input("x", format), b.input("y", format));
    b.output(b.convert("z", p, product, Rounding.FLOOR, Overflow.SATURATE));
    Unit unit = Unit.of(b.build(), "z", v -> v[0] * v[1], 1);
    Datapath.Builder outer = Datapath.named("outer");
    Value x = outer.input("x", Format.signed(30, 40));
    Value y = outer.input("y", Format.signed(30, 20));
    Value near = outer.convert("near", x, format, Rounding.FLOOR, Overflow.SATURATE);
    Datapath datapath = outer.output(outer.unit("z", unit, near, y)).build();
    Laws.hold(datapath, Cases.random(datapath.inputs(), 3000, new Random(2)), 0x1p-50);
  }

  @Test
  void anErrorTooSmallIsNoticed() {
    Datapath.Builder b = Datapath.named("outer");
    Value x = b.input("x", IN);
    Datapath datapath =
        b.output(b.unit("inverse", Unit.of(reciprocal(), "y", v -> 1.2 / v[0], 1), x)).build();
    List<BigInteger[]> cases = Cases.all(datapath.inputs());
    assertThrows(AssertionError.class, () -> Laws.hold(datapath, cases, 0));
  }

  @Test
  void bitsOnlyStepsNeedAUnitAroundThem() {
    Datapath datapath = reciprocal();
    for (Runnable wanted : List.<Runnable>of(() -> datapath.bounds(1), () -> datapath.ideal(1))) {
      String message = assertThrows(DatapathException.class, wanted::run).getMessage();
      assertTrue(message.contains("step \"entry\""), message);
      assertTrue(message.contains("Unit"), message);
    }
  }

  @Test
  void whatDoesNotFitAUnitIsRefused() {
    Datapath.Builder b = Datapath.named("outer");
    Value wide = b.input("a", Format.signed(9, 4));
    Value fine = b.input("f", Format.signed(2, 6));
    Unit unit = inverse();
    assertRefused("gives a s9.4", () -> b.unit("one", unit, wide));
    assertRefused("gives f s2.6", () -> b.unit("two", unit, fine));
    assertRefused("gives 2 values", () -> b.unit("three", unit, wide, wide));
    assertRefused("its outputs are [zero u1.0, y s5.4]", () -> other("z"));
    assertRefused("an error of NaN", () -> Unit.of(reciprocal(), "y", x -> 0, Double.NaN));
  }

  private static void other(String output) {
    Unit.of(reciprocal(), output, x -> 0, 1);
  }

  private static void assertRefused(String part, Runnable action) {
    String message = assertThrows(DatapathException.class, action::run).getMessage();
    assertTrue(message.contains(part), message);
  }
}
