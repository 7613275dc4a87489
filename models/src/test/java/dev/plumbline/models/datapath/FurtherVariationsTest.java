package dev.plumbline.models.datapath;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.unit.Reciprocal;
import java.math.BigInteger;
import java.util.Arrays;
import java.util.BitSet;
import java.util.Map;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/**
 * Changes beside registers, of wide codes, of decisions, constants, and of steps that are alike.
 */
class FurtherVariationsTest {
  private static final Format WORD = Format.signed(8, 0);

  private static Variation named(Variations variations, String words) {
    return variations.all().stream()
        .filter(one -> one.toString().equals(words))
        .findFirst()
        .orElseThrow(() -> new AssertionError(words + " among " + variations.all()));
  }

  /** A total that wraps, and starts anew where a flag says so. */
  private static Variations total() {
    Datapath.Builder b = Datapath.named("total");
    Value x = b.input("x", WORD);
    Value clears = b.input("clears", Format.bit());
    Value total = b.register("total", WORD, 3);
    Value nought = b.constant("nought", WORD, 0);
    Value kept = b.select("kept", clears, nought, total);
    Value sum = b.convert("next", b.add("sum", kept, x), WORD, Rounding.FLOOR, Overflow.WRAP);
    b.next(total, sum);
    b.output("total", sum);
    return b.build().variations(64);
  }

  @Test
  void casesFollowEachOtherBesideRegisters() {
    Variations variations = total();
    Random random = new Random(5);
    for (int n = 0; n < 64; n++) {
      variations.input(0, 0)[n] = WORD.extend(random.nextInt());
      variations.input(1, 0)[n] = random.nextInt(8) == 0 ? 1 : 0;
    }
    BitSet begins = new BitSet();
    begins.set(40);
    variations.renewBefore(begins);
    for (int round = 0; round < 2; round++) {
      assertTrue(variations.run(null, 64));
      byte sum = 3;
      for (int n = 0; n < 64; n++) {
        sum = n == 40 ? 3 : sum;
        sum = (byte) ((variations.input(1, 0)[n] == 1 ? 0 : sum) + variations.input(0, 0)[n]);
        assertEquals(sum, variations.output(0, 0)[n], "case " + n);
      }
      assertTrue(variations.run(named(variations, "step kept is always total"), 64));
      sum = 3;
      for (int n = 0; n < 64; n++) {
        sum = (byte) ((n == 40 ? 3 : sum) + variations.input(0, 0)[n]);
        assertEquals(sum, variations.output(0, 0)[n], "case " + n);
      }
    }
    // A constant that is changed is changed once, not anew in each case.
    assertTrue(variations.run(named(variations, "step nought is 1 LSB more"), 64));
    int cleared =
        IntStream.range(0, 40)
            .filter(n -> variations.input(1, 0)[n] == 1)
            .findFirst()
            .orElseThrow();
    assertEquals((byte) (1 + variations.input(0, 0)[cleared]), variations.output(0, 0)[cleared]);
    assertFalse(
        variations.all().stream().anyMatch(one -> one.kind() == Variation.Kind.NEIGHBOUR),
        "rows are no cycles there");
  }

  @Test
  void noChangeBesideRegistersOutlivesItsRun() {
    Variations variations = total();
    Random random = new Random(6);
    for (int n = 0; n < 64; n++) {
      variations.input(0, 0)[n] = WORD.extend(random.nextInt());
      variations.input(1, 0)[n] = random.nextInt(4) == 0 ? 1 : 0;
    }
    variations.run(null, 64);
    long[] right = variations.output(0, 0).clone();
    for (Variation one : variations.all()) {
      variations.run(one, 64);
      assertTrue(variations.run(null, 64));
      assertArrayEquals(right, variations.output(0, 0), one::toString);
    }
  }

  /** A product of two long words, wider than one column. */
  @Test
  void wideCodesLoseBitsAndSigns() {
    Format word = Format.signed(40, 0);
    Datapath.Builder b = Datapath.named("wide");
    Value product = b.multiply("product", b.input("x", word), b.input("y", word));
    b.output(product);
    Datapath datapath = b.build();
    Variations variations = datapath.variations(64);
    Random random = new Random(7);
    for (int n = 0; n < 64; n++) {
      variations.input(0, 0)[n] = word.extend(random.nextLong());
      variations.input(1, 0)[n] = word.extend(random.nextLong());
    }
    Format format = datapath.outputs().get(0).format();
    BigInteger[] right = new BigInteger[64];
    for (int n = 0; n < 64; n++) {
      right[n] =
          BigInteger.valueOf(variations.input(0, 0)[n])
              .multiply(BigInteger.valueOf(variations.input(1, 0)[n]));
    }
    int less = format.width() - 2;
    variations.run(named(variations, "step product keeps its lowest " + less + " bits"), 64);
    for (int n = 0; n < 64; n++) {
      assertEquals(signed(right[n], less), code(variations, format, n));
    }
    variations.run(named(variations, "step product has the other sign"), 64);
    for (int n = 0; n < 64; n++) {
      assertEquals(right[n].negate(), code(variations, format, n));
    }
    variations.run(named(variations, "step product is half as much"), 64);
    for (int n = 0; n < 64; n++) {
      assertEquals(right[n].shiftRight(1), code(variations, format, n));
    }
    variations.run(named(variations, "step product is without its lowest 9 bits"), 64);
    for (int n = 0; n < 64; n++) {
      assertEquals(right[n].shiftRight(9).shiftLeft(9), code(variations, format, n));
    }
  }

  private static BigInteger signed(BigInteger code, int bits) {
    BigInteger span = BigInteger.ONE.shiftLeft(bits);
    BigInteger low = code.mod(span);
    return low.testBit(bits - 1) ? low.subtract(span) : low;
  }

  private static BigInteger code(Variations variations, Format format, int n) {
    return format.fromWords(new long[] {variations.output(0, 0)[n], variations.output(0, 1)[n]});
  }

  /** Two choices by one condition, two saturations to one format, a loop of three rounds. */
  @Test
  void whatStandsThereSeveralTimesIsChangedTogether() {
    Datapath.Builder b = Datapath.named("several");
    Value x = b.input("x", WORD);
    Value y = b.input("y", WORD);
    Value nought = b.constant("nought", WORD, 0);
    Value below = b.lessThan("below", x, nought);
    Value last = b.equal("last", y, nought);
    Format few = Format.signed(4, 0);
    Value p = b.convert("p", b.select("left", below, x, y), few, Rounding.FLOOR, Overflow.SATURATE);
    Value q =
        b.convert("q", b.select("right", below, y, x), few, Rounding.FLOOR, Overflow.SATURATE);
    Value sum = b.add("sum", p, q);
    for (int round = 0; round < 3; round++) {
      Value fits = b.lessThan("fits" + round, nought, sum);
      sum = b.select("rest" + round, fits, b.subtract("less" + round, sum, p), sum);
    }
    b.output("rest", sum).output("last", last);
    Variations variations = b.build().variations(16);
    for (String words :
        new String[] {
          "every step that chooses by below and not last",
          "every step that converts so wraps above, saturates below",
          "every step from s8.0 to s4.0 wraps instead of saturating",
        }) {
      assertEquals(2, named(variations, words).places(), words);
    }
    assertEquals(3, named(variations, "step fits* compares by <= instead of <").places());
    variations.input(0, 0)[0] = -1;
    variations.input(1, 0)[0] = 0;
    variations.run(named(variations, "step last is last and not below"), 1);
    variations.run(named(variations, "step nought has another bit 2"), 1);
    assertEquals(0, variations.output(1, 0)[0], "0 is no longer equal to it");
  }

  /**
   * Three levers, each of which lifts its own weight unless its own catch holds it: with the fault
   * in all three; a catch of the next lever is another fault.
   */
  @Test
  void eachAxisMayDependOnItsOwnDecisionOrOnItsNeighbours() {
    Datapath.Builder b = Datapath.named("levers");
    Value[] weights = new Vectors(b).inputs("weight", WORD);
    Value[] pulled = new Vectors(b).inputs("pulled", Format.bit());
    Value[] caught = new Vectors(b).inputs("caught", Format.bit());
    Value nought = b.constant("nought", WORD, 0);
    for (int axis = 0; axis < Vectors.COUNT; axis++) {
      String name = "lifted" + Vectors.suffix(axis);
      b.output(name, b.select(name, pulled[axis], weights[axis], nought));
      b.output("caught" + Vectors.suffix(axis), caught[axis]);
    }
    Variations variations = b.build().variations(64);
    for (int n = 0; n < 64; n++) {
      for (int axis = 0; axis < Vectors.COUNT; axis++) {
        variations.input(axis, 0)[n] = 1L + axis;
        variations.input(3 + axis, 0)[n] = n >> axis & 1;
        variations.input(6 + axis, 0)[n] = n >> (3 + axis) & 1;
      }
    }
    String own = "every step that chooses by pulled_* and not caught_*";
    for (String words : new String[] {own, own + "+1", own + "+2"}) {
      Variation change = named(variations, words);
      assertEquals(3, change.places(), words);
      assertTrue(variations.run(change, 64));
      int further = words.equals(own) ? 0 : words.charAt(words.length() - 1) - '0';
      for (int n = 0; n < 64; n++) {
        for (int axis = 0; axis < Vectors.COUNT; axis++) {
          boolean lifts = (n >> axis & 1) == 1 && (n >> (3 + (axis + further) % 3) & 1) == 0;
          assertEquals(lifts ? 1 + axis : 0, variations.output(2 * axis, 0)[n], words + " " + n);
        }
      }
    }
  }

  /** The shorter of two pendulums, the longer, and whether the left one is the shorter. */
  @Test
  void stepsThatRestOnOneComparisonGoWrongTogether() {
    Datapath.Builder b = Datapath.named("pendulums");
    Value left = b.input("left", WORD);
    Value right = b.input("right", WORD);
    b.output("shorter", b.minimum("shorter", left, right));
    b.output("longer", b.maximum("longer", right, left));
    b.output("left_first", b.atMost("left_first", left, right));
    b.output("right_first", b.lessThan("right_first", right, left));
    Variations variations = b.build().variations(3);
    System.arraycopy(new long[] {-5, 7, 4}, 0, variations.input(0, 0), 0, 3);
    System.arraycopy(new long[] {3, 7, -6}, 0, variations.input(1, 0), 0, 3);
    String in = ", in shorter, longer, left_first, right_first";
    long[][] expected = {
      {3, 7, 4, -5, 7, -6, 0, 1, 1, 1, 0, 0}, // each in the other's place
      {3, 7, 4, -5, 7, -6, 0, 0, 1, 1, 1, 0}, // all decisions denied
      {-5, 7, 4, 3, 7, -6, 1, 1, 1, 0, 0, 0}, // left is less
      {3, 7, -6, -5, 7, 4, 0, 0, 0, 1, 1, 1}, // right is less
    };
    String[] words = {
      "left and right are compared in each other's place" + in,
      "left and right are ordered the other way, equal ones too" + in,
      "left always counts as less than right" + in,
      "right always counts as less than left" + in,
    };
    for (int change = 0; change < words.length; change++) {
      assertTrue(variations.run(named(variations, words[change]), 3));
      for (int output = 0; output < 4; output++) {
        assertArrayEquals(
            Arrays.copyOfRange(expected[change], 3 * output, 3 * output + 3),
            Arrays.copyOf(variations.output(output, 0), 3),
            words[change] + ", output " + output);
      }
    }
  }

  /** The sign of what is not rounded yet, and that of the row after. */
  @Test
  void aDecisionMayTakeWhatIsNotRoundedYet() {
    Datapath.Builder b = Datapath.named("sign");
    Value x = b.input("x", Format.signed(8, 4));
    Value nought = b.constant("nought", WORD, 0);
    Value whole = b.convert("whole", x, WORD, Rounding.HALF_EVEN, Overflow.SATURATE);
    b.output("above", b.lessThan("above", nought, whole));
    Variations variations = b.build().variations(2);
    variations.input(0, 0)[0] = 0;
    variations.input(0, 0)[1] = 3; // rounded to 0
    variations.run(null, 2);
    assertArrayEquals(new long[] {0, 0}, variations.output(0, 0));
    variations.run(named(variations, "step above takes x for whole"), 2);
    assertArrayEquals(new long[] {0, 1}, variations.output(0, 0));
    variations.run(named(variations, "step above takes x for whole, of 1 cycle later"), 2);
    assertArrayEquals(new long[] {1, 1}, variations.output(0, 0));
  }

  /**
   * Two scalar products, both of whose multipliers along y are unsigned, or terms along y taken
   * away.
   */
  @Test
  void scalarProductsAreWrongAlongOneAxis() {
    Datapath.Builder b = Datapath.named("dots");
    Value[] a = new Vectors(b).inputs("a", WORD);
    Value[] c = new Vectors(b).inputs("c", WORD);
    Value[] d = new Vectors(b).inputs("d", WORD);
    b.output("one", new Vectors(b).dot("ac", a, c)).output("other", new Vectors(b).dot("ad", a, d));
    Variations variations = b.build().variations(64);
    Random random = new Random(8);
    for (int i = 0; i < 9; i++) {
      for (int n = 0; n < 64; n++) {
        variations.input(i, 0)[n] = WORD.extend(random.nextInt());
      }
    }
    Variation unsigned =
        named(variations, "every step *_y takes both operands without their signs");
    assertEquals(2, unsigned.places());
    variations.run(unsigned, 64);
    for (int n = 0; n < 64; n++) {
      long y = (short) ((in(variations, 1, n) & 0xFF) * (in(variations, 4, n) & 0xFF));
      long rest =
          in(variations, 0, n) * in(variations, 3, n) + in(variations, 2, n) * in(variations, 5, n);
      assertEquals(rest + y, variations.output(0, 0)[n]);
    }
    Variation away = named(variations, "every sum takes *_z away");
    assertEquals(2, away.places());
    variations.run(away, 64);
    for (int n = 0; n < 64; n++) {
      long rest =
          in(variations, 0, n) * in(variations, 6, n) + in(variations, 1, n) * in(variations, 7, n);
      assertEquals(rest - in(variations, 2, n) * in(variations, 8, n), variations.output(1, 0)[n]);
    }
  }

  private static long in(Variations variations, int input, int n) {
    return variations.input(input, 0)[n];
  }

  /** A step inside a unit is changed like any other, and taken from elsewhere. */
  @Test
  void stepsInsideAUnitAreChangedToo() {
    Datapath reciprocal = Reciprocal.newton(16, 8).datapath();
    Variations variations = reciprocal.variations(256);
    Format word = reciprocal.inputs().get(0).format();
    for (int n = 0; n < 256; n++) {
      variations.input(0, 0)[n] = word.extend(3L * n + 1);
    }
    assertTrue(variations.run(null, 256));
    long[] right = variations.output(0, 0).clone();
    variations.run(named(variations, "step quotient.one_more is always 1"), 256);
    assertFalse(Arrays.equals(right, variations.output(0, 0)), "some need no correction");
    assertTrue(variations.runFrom(Map.of("quotient.quotient_0", new long[2][256]), 256));
    assertFalse(Arrays.equals(right, variations.output(0, 0)), "a first quotient of 0");
    assertTrue(variations.run(null, 256));
    assertArrayEquals(right, variations.output(0, 0));
  }
}
