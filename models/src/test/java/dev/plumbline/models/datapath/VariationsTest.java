package dev.plumbline.models.datapath;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Steps that are changed, or taken from elsewhere. */
class VariationsTest {
  private static final Format WORD = Format.signed(4, 4);
  private static final int CASES = 64;

  /** Three of a kind, so that there are changes of several steps; one decision, one root. */
  private static Datapath datapath() {
    Datapath.Builder b = Datapath.named("crank");
    Value[] squares = new Value[3];
    Value inside = null;
    for (int i = 0; i < 3; i++) {
      String axis = "_" + "xyz".charAt(i);
      Value arm = b.input("arm" + axis, WORD);
      Value pin = b.input("pin" + axis, WORD);
      Value past = b.atMost("past" + axis, arm, pin);
      squares[i] = b.multiply("square" + axis, arm, arm);
      inside = inside == null ? past : b.and("inside" + axis, inside, past);
    }
    Value sum = b.add("sum", b.add("sum_2", squares[0], squares[1]), squares[2]);
    Value root = b.squareRoot("root", sum, Rounding.FLOOR);
    b.output("length", b.convert("short", root, WORD, Rounding.HALF_CEILING, Overflow.SATURATE));
    b.output("inside", inside);
    return b.build();
  }

  private static Variations filled(Datapath datapath, long seed) {
    Variations variations = datapath.variations(CASES);
    Random random = new Random(seed);
    for (int i = 0; i < datapath.inputs().size(); i++) {
      for (int n = 0; n < CASES; n++) {
        variations.input(i, 0)[n] = WORD.extend(random.nextInt());
      }
    }
    return variations;
  }

  @Test
  void noChangeOutlivesItsRun() {
    Variations variations = filled(datapath(), 1);
    assertTrue(variations.run(null, CASES));
    long[] length = variations.output(0, 0).clone();
    long[] inside = variations.output(1, 0).clone();
    assertTrue(variations.all().stream().anyMatch(one -> one.places() == 3));
    for (Variation one : variations.all()) {
      variations.run(one, CASES);
      assertTrue(variations.run(null, CASES));
      assertArrayEquals(length, variations.output(0, 0), one::toString);
      assertArrayEquals(inside, variations.output(1, 0), one::toString);
    }
  }

  @Test
  void ofStepsThatAreAlikeEachIsChangedOnce() {
    for (Variation one : datapath().variations(1).all()) {
      assertEquals(
          one.places(), one.parts().stream().map(Variation.Part::result).distinct().count());
    }
  }

  @Test
  void aStepTakenFromElsewhereIsWhatTheOthersGoOnFrom() {
    Variations variations = filled(datapath(), 2);
    long[][] sums = new long[2][CASES];
    for (int n = 0; n < CASES; n++) {
      sums[0][n] = (long) n * n << 8; // the square of n / 1, of 8 fraction bits
    }
    assertTrue(variations.runFrom(Map.of("sum", sums), CASES));
    for (int n = 0; n < CASES; n++) {
      assertEquals(
          Math.min(n << 4, 127), variations.output(0, 0)[n], "the root of " + n + " squared");
    }
    long[] before = variations.output(0, 0).clone();
    variations.run(null, CASES);
    assertFalse(Arrays.equals(before, variations.output(0, 0)), "it is taken once");
  }

  @Test
  void anInputTakenFromElsewhereStaysAsItWasFilled() {
    Variations variations = filled(datapath(), 3);
    long[] filled = variations.input(0, 0).clone();
    assertTrue(variations.runFrom(Map.of("arm_x", new long[2][CASES]), CASES));
    assertArrayEquals(filled, variations.input(0, 0));
  }

  @Test
  void aRootMissesExactFitsAlone() {
    Datapath.Builder b = Datapath.named("root");
    b.output(b.squareRoot("root", b.input("n", Format.unsigned(12, 0)), Rounding.FLOOR));
    Variations variations = b.build().variations(1 << 12);
    for (int n = 0; n < 1 << 12; n++) {
      variations.input(0, 0)[n] = n;
    }
    Variation missed = named(variations, "step root misses every exact fit");
    Variation digit = named(variations, "step root misses an exact fit at digit 1");
    for (Variation one : List.of(missed, digit)) {
      variations.run(one, 1 << 12);
      for (int n = 0; n < 1 << 12; n++) {
        int root = (int) Math.sqrt(n); // exact for integers of 12 bits
        boolean hit = root > 0 && root * root == n && (one == missed || (root & 3) == 2);
        assertEquals(hit ? root - 1 : root, variations.output(0, 0)[n], one + " of " + n);
      }
    }
  }

  private static Variation named(Variations variations, String words) {
    return variations.all().stream()
        .filter(one -> one.toString().equals(words))
        .findFirst()
        .orElseThrow();
  }
}
