package dev.plumbline.models.datapath;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.unit.Reciprocal;
import java.util.BitSet;
import java.util.function.LongUnaryOperator;
import org.junit.jupiter.api.Test;

/** Changes of limits, of comparisons that are shared, of registers that wait, of single ports. */
class LimitVariationsTest {
  private static final Format WIDE = Format.signed(10, 0);
  private static final Format WORD = Format.signed(4, 0);
  private static final int ALL = 1 << 10;

  private static Variation named(Variations variations, String words) {
    return variations.all().stream()
        .filter(one -> one.toString().equals(words))
        .findFirst()
        .orElseThrow(() -> new AssertionError(words + " among " + variations.all()));
  }

  /** Every code of ten bits through one step that saturates. */
  private static void limited(String words, LongUnaryOperator expected) {
    Datapath.Builder b = Datapath.named("limit");
    Value x = b.input("x", WIDE);
    b.output(b.convert("y", x, WORD, Rounding.FLOOR, Overflow.SATURATE));
    Variations variations = b.build().variations(ALL);
    for (int n = 0; n < ALL; n++) {
      variations.input(0, 0)[n] = (long) n - ALL / 2;
    }
    assertTrue(variations.run(named(variations, "step y " + words), ALL));
    for (int n = 0; n < ALL; n++) {
      long code = (long) n - ALL / 2;
      assertEquals(expected.applyAsLong(code), variations.output(0, 0)[n], words + " of " + code);
    }
  }

  private static long saturated(long code) {
    return Math.max(-8, Math.min(7, code));
  }

  @Test
  void aLimitIsBesideTheEndOnlyWhereItLimits() {
    limited("saturates to 1 LSB above the lowest", code -> code < -8 ? -7 : saturated(code));
    limited("saturates to 1 LSB below the highest", code -> code > 7 ? 6 : saturated(code));
  }

  @Test
  void aLimitThatComesLateLetsOneCodeWrap() {
    limited("saturates 1 LSB late above", code -> code == 8 ? -8 : saturated(code));
    limited("saturates 1 LSB late below", code -> code == -9 ? 7 : saturated(code));
  }

  @Test
  void aRoundingMayGiveTheCodeBeside() {
    Datapath.Builder b = Datapath.named("round");
    Value x = b.input("x", Format.signed(4, 2));
    b.output(b.convert("y", x, WORD, Rounding.FLOOR, Overflow.SATURATE));
    Variations variations = b.build().variations(64);
    for (int n = 0; n < 64; n++) {
      variations.input(0, 0)[n] = n - 32L;
    }
    assertTrue(variations.run(named(variations, "step y rounds so and gives the code above"), 64));
    for (int n = 0; n < 64; n++) {
      long floor = Math.floorDiv(n - 32, 4);
      assertEquals(Math.min(7, floor + 1), variations.output(0, 0)[n], "of " + (n - 32));
    }
  }

  @Test
  void aLimitOfNoughtMayLoseTheSignInAnotherFormat() {
    Datapath.Builder b = Datapath.named("above");
    Value x = b.input("x", WORD);
    b.output(b.maximum("y", x, b.constant("nought", Format.unsigned(1, 0), 0)));
    Variations variations = b.build().variations(16);
    for (int n = 0; n < 16; n++) {
      variations.input(0, 0)[n] = n - 8L;
    }
    assertTrue(variations.run(named(variations, "step y is x without its sign bit"), 16));
    for (int n = 0; n < 16; n++) {
      assertEquals(n & 7, variations.output(0, 0)[n]); // -8 is 0, -1 is 7
    }
  }

  @Test
  void oneComparatorMayBeBlindToTheLowestBitForAll() {
    Datapath.Builder b = Datapath.named("later");
    Value left = b.input("left", WORD);
    Value right = b.input("right", WORD);
    b.output(b.maximum("later", left, right));
    b.output(b.lessThan("by_right", left, right));
    Variations variations = b.build().variations(256);
    for (int n = 0; n < 256; n++) {
      variations.input(0, 0)[n] = (n & 15) - 8L;
      variations.input(1, 0)[n] = (n >> 4) - 8L;
    }
    String words =
        "left and right are compared without their lowest bits, equal ones give left, in later,"
            + " by_right";
    assertTrue(variations.run(named(variations, words), 256));
    for (int n = 0; n < 256; n++) {
      long l = (n & 15) - 8L;
      long r = (n >> 4) - 8L;
      boolean isRight = Math.floorDiv(l, 2) < Math.floorDiv(r, 2);
      assertEquals(isRight ? r : l, variations.output(0, 0)[n], l + ", " + r);
      assertEquals(isRight ? 1 : 0, variations.output(1, 0)[n], l + ", " + r);
    }
  }

  /** A decision that is an output and chooses another. */
  private static Variations chosen() {
    Datapath.Builder b = Datapath.named("chosen");
    Value x = b.input("x", WORD);
    Value below = b.lessThan("below", x, b.constant("nought", WORD, 0));
    b.output(below);
    b.output(b.select("y", below, b.constant("low", WORD, -5), x));
    return b.build().variations(8);
  }

  @Test
  void aRegisterMayWaitForTheValidOfAnotherStage() {
    Variations variations = chosen();
    long[] x = {-3, 1, -2, 4, -1, 6, 7, -4};
    System.arraycopy(x, 0, variations.input(0, 0), 0, 8);
    BitSet taken = new BitSet();
    taken.set(0, 8);
    taken.clear(3);
    taken.clear(4); // bubbles: what stands before them keeps what it was
    variations.takeAt(taken);
    String words = "keeps what it was where no case comes 1 cycle later";
    assertTrue(variations.run(named(variations, "step below " + words), 8));
    long[] below = {1, 0, 0, 0, 1, 0, 0, 1}; // rows 2 and 3 are those of row 1
    for (int n = 0; n < 8; n++) {
      assertEquals(below[n], variations.output(0, 0)[n], "row " + n);
      assertEquals(below[n] == 1 ? -5 : x[n], variations.output(1, 0)[n], "row " + n);
    }
    assertTrue(variations.run(named(variations, "output below " + words), 8));
    for (int n = 0; n < 8; n++) {
      assertEquals(below[n], variations.output(0, 0)[n], "row " + n);
      assertEquals(x[n] < 0 ? -5 : x[n], variations.output(1, 0)[n], "what it chooses is right");
    }
    assertTrue(variations.run(null, 8));
    assertEquals(1, variations.output(0, 0)[2]);
  }

  @Test
  void aFlagOfAUnitMayBeTakenForADecisionBeforeIt() {
    Format word = Format.signed(4, 4);
    Datapath.Builder b = Datapath.named("slope");
    Value x = b.input("x", word);
    Value flat = b.equal("flat", x, b.constant("nought", word, 0));
    Value inverse = b.unit("inverse", Reciprocal.between(word, word).unit(), x);
    b.output(b.select("y", flat, b.constant("none", word, 0), inverse));
    b.output(flat);
    Variations variations = b.build().variations(256);
    for (int n = 0; n < 256; n++) {
      variations.input(0, 0)[n] = n - 128L;
    }
    assertTrue(variations.run(named(variations, "step flat is inverse.overflow"), 256));
    for (int n = 0; n < 256; n++) {
      long code = n - 128L;
      // 256 / code is beyond -128 to 127 from 2 down to -1, and there is none of 0
      boolean overflows = code == 0 || 256.0 / code >= 128 || 256.0 / code < -128;
      assertEquals(overflows ? 1 : 0, variations.output(1, 0)[n], "of " + code);
      assertEquals(overflows ? 0 : 256 / code, variations.output(0, 0)[n], "of " + code);
    }
  }

  @Test
  void whatIsHeldAgainstNoughtIsHeldAgainstItsNeighbourByAnotherComparison() {
    Variations variations = chosen();
    assertEquals(Variation.Kind.DECISION, named(variations, "step nought is 1 LSB less").kind());
    assertEquals(Variation.Kind.CONSTANT, named(variations, "step low is 1 LSB less").kind());
  }
}
