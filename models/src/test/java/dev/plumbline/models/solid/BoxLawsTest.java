package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.Evaluated;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.solid.BoxSlab.OnFace;
import dev.plumbline.models.unit.Reciprocal;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** Bits within bounds, ideal within bounds, and bounds that still say something. */
class BoxLawsTest {
  private static final Format SMALL = Format.signed(3, 1);
  private static final Format WORD = Format.signed(16, 16);

  @Test
  void lawsHoldForEveryCodeOfEachAxis() {
    for (Rounding rounding : new Rounding[] {Rounding.FLOOR, Rounding.HALF_EVEN}) {
      for (OnFace onFace : OnFace.values()) {
        BoxSlab slab = BoxSlab.of(SMALL).withMargin(1).withOnFace(onFace).withRounding(rounding);
        Reciprocal reciprocal = Reciprocal.between(Format.signed(2, 2), SMALL);
        for (Datapath box : List.of(slab.fromInverse(SMALL), slab.fromDirection(reciprocal))) {
          for (int axis = 0; axis < 3; axis++) {
            Evaluated.lawsHold(box, oneAxisWhole(box, axis), 1e-9);
          }
        }
      }
    }
  }

  @Test
  @Tag("thorough")
  void whatIsExactLiesWithinTheBudgetForEveryCodeOfEachAxis() {
    int[] margins =
        Boolean.getBoolean("plumbline.long") ? new int[] {0, 1, 15, 255} : new int[] {1};
    for (int margin : margins) {
      for (OnFace onFace : OnFace.values()) {
        BoxSlab slab = BoxSlab.of(SMALL).withMargin(margin).withOnFace(onFace);
        Reciprocal reciprocal = Reciprocal.between(Format.signed(2, 2), SMALL);
        Budget budget = slab.budget(SMALL);
        Datapath inverse = slab.budgetedFromInverse(SMALL, budget);
        Datapath direction = slab.budgetedFromDirection(reciprocal, budget);
        for (int axis = 0; axis < 3; axis++) {
          long[][] inverses = oneAxisWhole(inverse, axis);
          long[][] directions = oneAxisWhole(direction, axis);
          Evaluated.lawsHold(inverse, inverses, 1e-9);
          Evaluated.lawsHold(direction, directions, 1e-9);
          for (Rounding rounding : Rounding.values()) {
            BoxSlab exact = slab.withRounding(rounding);
            new Bounds(inverse, inverses).requireBitsOf(exact.fromInverse(SMALL), inverses);
            new Bounds(direction, directions)
                .requireBitsOf(exact.fromDirection(reciprocal), directions);
          }
        }
      }
    }
  }

  @Test
  void lawsHoldForRandomCodesAndBoundsStayNarrow() {
    long seed = 5;
    Reciprocal reciprocal = Reciprocal.between(Format.signed(2, 16), WORD);
    Datapath inverse = BoxSlab.of(WORD).fromInverse(WORD);
    Datapath direction = BoxSlab.of(WORD).fromDirection(reciprocal);
    for (Datapath box : List.of(inverse, direction)) {
      // Doubles hold products of 64 bits to 53: a saturated distance loses nothing of a place.
      List<Evaluated.Width> widths = Evaluated.lawsHold(box, random(box, seed), .01);
      for (Evaluated.Width width : widths) {
        String which = box.inputs().size() + " inputs, " + width + ", seed " + seed;
        boolean bit = width.output().equals("hit");
        // Origins and faces lie within 32 units, so up to 64 apart. 1/d lies between two codes of
        // the inverse, or on one and up to one off either way (two wide): 64 places for each. A
        // distance is then rounded either way, which adds one place at either end.
        long worst = bit ? 1 : box == inverse ? 1 : 64 * 2 + 2;
        // Few directions have an inverse that is a code (the powers of two), so one wide is usual.
        long usual = bit ? 0 : box == inverse ? 1 : 64 + 2;
        assertTrue(width.median() <= usual, which);
        assertTrue(width.worst() <= worst, which);
      }
    }
  }

  /** Every combination of one axis's operands; the other axes are parallel and inside. */
  private static long[][] oneAxisWhole(Datapath box, int axis) {
    List<Operand> inputs = box.inputs();
    int count = 1;
    for (Operand input : inputs) {
      count *= input.name().endsWith(suffix(axis)) ? 1 << input.format().width() : 1;
    }
    long[][] cases = new long[inputs.size()][count];
    int repeat = 1;
    for (int k = 0; k < inputs.size(); k++) {
      Format format = inputs.get(k).format();
      String name = inputs.get(k).name();
      if (name.endsWith(suffix(axis))) {
        int codes = 1 << format.width();
        for (int i = 0; i < count; i++) {
          cases[k][i] = format.minCode().longValueExact() + i / repeat % codes;
        }
        repeat *= codes;
      } else {
        long code =
            name.startsWith("min") ? -1 : name.startsWith("max") || format.width() == 1 ? 1 : 0;
        java.util.Arrays.fill(cases[k], code);
      }
    }
    return cases;
  }

  private static String suffix(int axis) {
    return "_" + "xyz".charAt(axis);
  }

  /** A scene of 32 units about the origin, directions with components of 1/64 or more. */
  private static long[][] random(Datapath box, long seed) {
    Random random = new Random(seed);
    List<Operand> inputs = box.inputs();
    long[][] cases = new long[inputs.size()][50_000];
    for (int k = 0; k < cases.length; k++) {
      for (int i = 0; i < cases[k].length; i++) {
        String name = inputs.get(k).name();
        if (name.startsWith("parallel")) {
          cases[k][i] = random.nextInt(8) == 0 ? 1 : 0;
        } else if (name.startsWith("direction")) {
          long code = random.nextInt(1 << 17) - (1L << 16);
          cases[k][i] = random.nextInt(8) == 0 ? 0 : Math.abs(code) < 1024 ? 1024 : code;
        } else if (name.startsWith("inverse")) {
          long code = (1L << 16) + (random.nextInt(1 << 22) >> random.nextInt(7));
          cases[k][i] = random.nextBoolean() ? code : -code;
        } else {
          cases[k][i] = random.nextInt(1 << 22) - (1L << 21);
        }
      }
    }
    return cases;
  }
}
