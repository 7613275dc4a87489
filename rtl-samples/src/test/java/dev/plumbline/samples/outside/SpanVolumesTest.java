package dev.plumbline.samples.outside;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.Batch;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.samples.SampleBenches;
import java.util.Arrays;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/**
 * Volumes of combined spheres from the RTL's own span lists: isotropic random lines through {@code
 * sphere_pipeline} twice, its spans through {@code span_combiner}; no model is asked. Of all lines
 * that meet a ball of radius R the mean total span in any solid within it is V / (pi R^2) (D6,
 * which follows from Cauchy's formula; Coleman, J. Appl. Prob. 6(2), 1969).
 *
 * <p>Tolerances are five standard errors, a false alarm in 1.7 million (outside check I2), and the
 * seed is fixed besides. There are lines enough to see what a radius 1 % too large does, which each
 * volume has a test for (I9).
 */
@Tag("thorough")
@Execution(ExecutionMode.CONCURRENT)
class SpanVolumesTest {
  private static final Format WORD = Format.signed(16, 16);
  private static final Format DIRECTION = Format.signed(2, 16);
  private static final int LINES = 1 << 17;
  private static final int BLOCK = 1024; // lines of a call
  private static final int LATENCY = WORD.width() + 20;
  private static final long SEED = 60606;
  private static final String[] AXES = {"x", "y", "z"};

  /** What is in either, in both, in each less the other; of every line. */
  private record Totals(SpanTotals union, SpanTotals common, SpanTotals rests) {
    Totals() {
      this(new SpanTotals(), new SpanTotals(), new SpanTotals());
    }
  }

  /** Two spheres on the z axis, so that one ball about the origin holds both, with no room left. */
  private record Pair(double leftRadius, double rightRadius, double distance) {
    double ball() {
      return (leftRadius + rightRadius + distance) / 2;
    }

    double leftCentre() {
      return leftRadius - ball();
    }

    double rightCentre() {
      return ball() - rightRadius;
    }
  }

  /** Radius and distance 1 in the published figures are 4 words here. */
  private static final Pair ONES = new Pair(4, 4, 4);

  private static final double CUBE = 4 * 4 * 4;

  /** MathWorld, Sphere-Sphere Intersection, pi (4 R + d) (2 R - d)^2 / 12 and what follows. */
  private static final double COMMON = 1.308996939 * CUBE;

  private static final double UNION = 7.068583471 * CUBE;
  private static final double RESTS = 2 * 2.879793266 * CUBE;

  @Test
  @DisplayName(
      "D6, D7: spheres of radius 1, 1 apart: union 9 pi / 4, common 5 pi / 12, rest 11 pi / 12")
  void equalSpheres() {
    Totals totals = totals(ONES);
    assertVolume(UNION, ONES, totals.union());
    assertVolume(COMMON, ONES, totals.common());
    assertVolume(RESTS, ONES, totals.rests());
  }

  @Test
  @DisplayName("D7: radii 13 and 15, distance 14: common volume 3388 pi / 3")
  void unequalSpheres() {
    // MathWorld, Sphere-Sphere Intersection.
    Pair pair = new Pair(13, 15, 14);
    assertVolume(3547.905303, pair, totals(pair).common());
  }

  @Test
  @DisplayName("D7: unit spheres .694592711 apart have half their volume in common")
  void halfInCommon() {
    // OEIS A133749.
    Pair pair = new Pair(4, 4, 4 * .694592711);
    assertVolume(2 * Math.PI / 3 * CUBE, pair, totals(pair).common());
  }

  @Test
  @DisplayName("I9: radii 1 % too large fail the volume of each combination")
  void onePercentTooLargeIsSeen() {
    Pair large = new Pair(4.04, 4.04, 4);
    Totals totals = totals(large);
    assertTrue(off(UNION, large, totals.union()) > 5);
    assertTrue(off(COMMON, large, totals.common()) > 5);
    assertTrue(off(RESTS, large, totals.rests()) > 5);
  }

  private static void assertVolume(double volume, Pair pair, SpanTotals totals) {
    assertEquals(LINES, totals.lines(), "every line is answered");
    assertEquals(0, off(volume, pair, totals), 5, "standard errors of the volume");
  }

  /** How many standard errors the mean span is off from that of a volume in the pair's ball. */
  private static double off(double volume, Pair pair, SpanTotals totals) {
    return totals.off(volume / (Math.PI * pair.ball() * pair.ball()));
  }

  private static Totals totals(Pair pair) {
    Totals totals = new Totals();
    RandomLines lines = new RandomLines(SEED, pair.ball());
    try (Dut spheres =
            reset(CompiledDesign.of(SampleBenches.sharpest("sphere_pipeline").rtl()).open());
        Dut combiner =
            reset(CompiledDesign.of(SampleBenches.sharpest("span_combiner").rtl()).open())) {
      SphereRows rows = new SphereRows(spheres);
      CombinerCases cases = new CombinerCases(combiner);
      for (int done = 0; done < LINES; done += BLOCK) {
        rows.run(lines, pair);
        cases.run(rows, totals);
      }
    }
    return totals;
  }

  private static Dut reset(Dut dut) {
    dut.set("rst", 1);
    dut.cycle();
    dut.set("rst", 0);
    return dut;
  }

  /** The spans of a block of lines, left and right in turn; empty where a sphere is missed. */
  private static final class SphereRows {
    final long[] entry = new long[2 * BLOCK];
    final long[] exit = new long[2 * BLOCK];
    private final Dut dut;
    private final Batch batch;

    SphereRows(Dut dut) {
      this.dut = dut;
      this.batch = dut.batch(2 * BLOCK + LATENCY);
    }

    void run(RandomLines lines, Pair pair) {
      for (int row = 0; row < 2 * BLOCK; row++) {
        boolean left = row % 2 == 0;
        if (left) {
          lines.next();
        }
        for (int axis = 0; axis < 3; axis++) {
          batch.column("in_origin_" + AXES[axis])[row] = code(lines.origin[axis], WORD);
          batch.column("in_direction_" + AXES[axis])[row] = code(lines.direction[axis], DIRECTION);
        }
        double centre = left ? pair.leftCentre() : pair.rightCentre();
        batch.column("in_centre_z")[row] = code(centre, WORD);
        double radius = left ? pair.leftRadius() : pair.rightRadius();
        batch.column("in_radius")[row] = code(radius, WORD);
        batch.column("in_valid")[row] = 1;
      }
      dut.run(batch, 2 * BLOCK + LATENCY);
      int results = 0;
      for (int row = 0; row < 2 * BLOCK + LATENCY; row++) {
        if (batch.column("out_valid")[row] == 1) {
          boolean hit = batch.column("out_hit")[row] == 1;
          entry[results] = hit ? batch.column("out_entry")[row] : 0;
          exit[results] = hit ? batch.column("out_exit")[row] : 0;
          results++;
        }
      }
      assertEquals(2 * BLOCK, results);
    }

    private static long code(double value, Format format) {
      return Math.round(value / format.lsbs());
    }
  }

  /** Four combinations of each line's two spans, and what is left of them. */
  private static final class CombinerCases {
    private static final int UNION = 0;
    private static final int INTERSECTION = 1;
    private static final int DIFFERENCE = 2;
    private static final int EACH = 4;

    /** A case of two spans takes four cycles at most. */
    private static final int ROWS = 4 * EACH * BLOCK + 2;

    private final Dut dut;
    private final Batch batch;
    private final double[] length = new double[EACH * BLOCK];

    CombinerCases(Dut dut) {
      this.dut = dut;
      this.batch = dut.batch(ROWS);
      batch.handshake("in_valid", "in_ready");
      Arrays.fill(batch.column("in_valid"), 1);
    }

    void run(SphereRows spans, Totals totals) {
      for (int line = 0; line < BLOCK; line++) {
        int first = EACH * line;
        put(first, UNION, spans, 2 * line, 2 * line + 1);
        put(first + 1, INTERSECTION, spans, 2 * line, 2 * line + 1);
        put(first + 2, DIFFERENCE, spans, 2 * line, 2 * line + 1);
        put(first + 3, DIFFERENCE, spans, 2 * line + 1, 2 * line);
      }
      dut.run(batch, ROWS, EACH * BLOCK);
      int results = 0;
      for (int row = 0; row < ROWS; row++) {
        if (batch.column("out_valid")[row] == 1) {
          length[results++] = length(row);
        }
      }
      assertEquals(EACH * BLOCK, results);
      for (int line = 0; line < BLOCK; line++) {
        totals.union().add(length[EACH * line]);
        totals.common().add(length[EACH * line + 1]);
        totals.rests().add(length[EACH * line + 2] + length[EACH * line + 3]);
      }
    }

    private void put(int at, int operator, SphereRows spans, int left, int right) {
      batch.column("in_operator")[at] = operator;
      put(at, "left", spans, left);
      put(at, "right", spans, right);
    }

    private void put(int at, String side, SphereRows spans, int from) {
      long entry = spans.entry[from];
      long exit = spans.exit[from];
      batch.column("in_" + side + "_count")[at] = entry < exit ? 1 : 0;
      batch.column("in_" + side + "_distance")[at] = exit << 32 | (entry & 0xFFFF_FFFFL);
    }

    /** Of all spans together, in words; two spans make two at most. */
    private double length(int row) {
      long total = 0;
      for (int span = 0; span < batch.column("out_count")[row]; span++) {
        long ends = batch.column("out_distance", span)[row];
        total += (ends >> 32) - (int) ends;
      }
      return total * WORD.lsbs();
    }
  }
}
