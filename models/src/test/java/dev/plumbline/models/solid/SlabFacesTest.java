package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.datapath.BitEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;
import java.util.BitSet;
import java.util.Random;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

/** Which faces a box says are met, against the rule worked in whole numbers. */
class SlabFacesTest {
  private static final Format WORD = Format.signed(16, 16);

  @Test
  @DisplayName("C3: the rays against the box (-1,-1,-1) to (1,1,1), by the faces they meet")
  void publishedRays() {
    // J. Buck, The Ray Tracer Challenge, 2019, chapter 12; the faces by the figures' axes.
    BoxRig rig = new BoxRig(BoxSlab.of(WORD).withFaces().fromInverse(WORD));
    rig.set("min", -1, -1, -1).set("max", 1, 1, 1);
    double[][] rays = {
      {5, .5, 0, -1, 0, 0, 1, 0},
      {-5, .5, 0, 1, 0, 0, 0, 1},
      {.5, 5, 0, 0, -1, 0, 3, 2},
      {.5, -5, 0, 0, 1, 0, 2, 3},
      {.5, 0, 5, 0, 0, -1, 5, 4},
      {.5, 0, -5, 0, 0, 1, 4, 5}
    };
    for (double[] ray : rays) {
      rig.set("origin", ray[0], ray[1], ray[2]).direction(ray[3], ray[4], ray[5]).run();
      assertEquals(ray[6], rig.real("entry_face"));
      assertEquals(ray[7], rig.real("exit_face"));
    }
    // Into the edge of x and y at one distance: the first axis; a negative direction, too.
    rig.set("origin", -3, -3, 0).direction(1, 1, 0).run();
    assertEquals(0, rig.real("entry_face"));
    assertEquals(1, rig.real("exit_face"));
    rig.set("origin", 0, 3, 3).direction(0, -1, -1).run();
    assertEquals(3, rig.real("entry_face"));
    assertEquals(2, rig.real("exit_face"));
  }

  @Test
  void everyFaceFollowsTheRuleOfWholeNumbers() {
    Random random = new Random(33);
    BitSet met = new BitSet();
    int ties = 0;
    for (int n = 0; n < 200; n++) {
      SlabFormats formats = SlabFormats.any(random, true);
      int cases = 50;
      long[][] columns = new SlabCases(formats, random).columns(cases);
      boolean saturated = n % 2 == 0;
      Datapath box =
          BoxSlab.of(formats.word())
              .withFaces()
              .withSaturatedAsParallel(saturated)
              .fromInverse(formats.ray());
      BitEvaluation bits = box.bits(cases);
      for (int i = 0; i < columns.length; i++) {
        System.arraycopy(columns[i], 0, bits.input(i, 0), 0, cases);
      }
      bits.run(cases);
      for (int k = 0; k < cases; k++) {
        Expected wanted = new Expected(formats, columns, k, saturated);
        String which = "seed 33, " + formats + ", case " + k;
        assertEquals(wanted.near[wanted.entry], bits.output(1, 0)[k], which);
        assertEquals(wanted.far[wanted.exit], bits.output(2, 0)[k], which);
        assertEquals(wanted.nearFace[wanted.entry], bits.output(3, 0)[k], which);
        assertEquals(wanted.farFace[wanted.exit], bits.output(4, 0)[k], which);
        met.set((int) bits.output(3, 0)[k]);
        met.set(8 + (int) bits.output(4, 0)[k]);
        ties += wanted.near[0] == wanted.near[1] ? 1 : 0;
      }
    }
    assertEquals(12, met.cardinality(), "each face entered and left: " + met);
    assertTrue(ties > 100, ties + " ties");
  }

  /** Distances and faces of each axis, and which axis counts. */
  private static final class Expected {
    private final long[] near = new long[3];
    private final long[] far = new long[3];
    private final int[] nearFace = new int[3];
    private final int[] farFace = new int[3];
    private int entry;
    private int exit;

    Expected(SlabFormats formats, long[][] columns, int k, boolean saturatedIsParallel) {
      long lowest = formats.word().minCode().longValueExact();
      long highest = formats.word().maxCode().longValueExact();
      int faces = formats.faces();
      for (int axis = 0; axis < 3; axis++) {
        long origin = columns[axis][k];
        long inverse = columns[3 + axis][k];
        long min = columns[faces + axis][k];
        long max = columns[faces + 3 + axis][k];
        boolean parallel = columns[6 + axis][k] == 1;
        boolean saturated =
            inverse == formats.ray().minCode().longValueExact()
                || inverse == formats.ray().maxCode().longValueExact();
        if (parallel || (saturated && saturatedIsParallel)) {
          boolean inside = min <= origin && origin <= max;
          near[axis] = inside ? lowest : highest;
          far[axis] = inside ? highest : lowest;
          nearFace[axis] = 2 * axis;
        } else {
          long first = distance(formats, min, origin, inverse);
          long second = distance(formats, max, origin, inverse);
          near[axis] = Math.min(first, second);
          far[axis] = Math.max(first, second);
          nearFace[axis] = 2 * axis + (first <= second ? 0 : 1);
        }
        farFace[axis] = nearFace[axis] ^ 1;
        entry = near[axis] > near[entry] ? axis : entry;
        exit = far[axis] < far[exit] ? axis : exit;
      }
    }

    /** (plane - origin) inverse, down to the word's LSB and saturated. */
    private static long distance(SlabFormats formats, long plane, long origin, long inverse) {
      BigInteger product =
          BigInteger.valueOf(plane)
              .subtract(BigInteger.valueOf(origin))
              .multiply(BigInteger.valueOf(inverse));
      int places = formats.ray().fractionBits();
      BigInteger floor = places < 0 ? product.shiftLeft(-places) : product.shiftRight(places);
      return floor.max(formats.word().minCode()).min(formats.word().maxCode()).longValueExact();
    }
  }
}
