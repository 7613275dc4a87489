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
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Isotropic random lines through the RTL itself, against Cauchy's formulas: no model is asked.
 *
 * <p>Tolerances are five standard errors, a false alarm in 1.7 million runs (outside check I2), and
 * the seed is fixed besides. There are lines enough to see a shift of 1 % with three standard
 * errors to spare (I3).
 */
@Tag("thorough")
class RandomLinesTest {
  private static final Format WORD = Format.signed(16, 16);
  private static final Format DIRECTION = Format.signed(2, 16);
  private static final int LINES = 1 << 20;
  private static final int ROWS = 4096;
  private static final int DRAIN = 128; // longer than any latency here
  private static final long SEED = 20202;
  private static final String[] AXES = {"x", "y", "z"};

  // Hits: Cauchy's formula, in Tsukerman and Veomett, arXiv 1604.05815. Chords: Cauchy; Coleman,
  // J. Appl. Prob. 6(2), 1969.
  @Test
  @DisplayName("C10, C11, C12: sphere_pipeline, sphere of radius 6 in one of 8, seed " + SEED)
  void sphereKeepsCauchysFormulaAndTheChordLaw() {
    double p = 36.0 / 64;
    ChordSample sample = throughSphere(6);
    assertEnough(sample, p);
    assertEquals(0, sample.hitsOff(p), 5, "standard errors of the hits");
    assertEquals(0, sample.meanOff(4 * 6 / 3.0), 5, "standard errors of the mean chord");
    assertEquals(0, sample.meanSquareOff(6), 5, "standard errors of the mean square chord");
    assertEquals(0, sample.lawOff(6), 1, "distance from the chord law");
  }

  @Test
  @DisplayName("I9: sphere_pipeline given a radius 1 % too large fails hits, chords and their law")
  void sphereOnePercentTooLargeIsSeen() {
    ChordSample sample = throughSphere(6.06);
    assertTrue(sample.hitsOff(36.0 / 64) > 5, "" + sample.hitsOff(36.0 / 64));
    assertTrue(sample.meanOff(8) > 5, "" + sample.meanOff(8));
    assertTrue(sample.meanSquareOff(6) > 5, "" + sample.meanSquareOff(6));
    assertTrue(sample.lawOff(6) > 1, "" + sample.lawOff(6));
  }

  @ParameterizedTest(name = "C10, C11: box_pipeline, box of half sizes {0}, {1}, {2}, seed " + SEED)
  @CsvSource({"4, 4, 4, .636619772", "2, 4, 4, .565884242", "2, 4, 6, .500201250"})
  void boxKeepsCauchysFormula(double a, double b, double c, double published) {
    ChordSample sample = throughBox(a, b, c, Math.sqrt(a * a + b * b + c * c));
    assertEnough(sample, published);
    assertEquals(0, sample.hitsOff(published), 5, "standard errors of the hits");
    assertEquals(0, sample.meanOff(meanChord(a, b, c)), 5, "standard errors of the mean chord");
  }

  @Test
  @DisplayName("I9: box_pipeline given sides 1 % too long fails hits and chords")
  void boxOnePercentTooLargeIsSeen() {
    ChordSample sample = throughBox(4.04, 4.04, 4.04, Math.sqrt(48));
    assertTrue(sample.hitsOff(2 / Math.PI) > 5, "" + sample.hitsOff(2 / Math.PI));
    assertTrue(sample.meanOff(meanChord(4, 4, 4)) > 5, "" + sample.meanOff(meanChord(4, 4, 4)));
  }

  /** C11: 4 V / S. */
  private static double meanChord(double a, double b, double c) {
    return 4 * a * b * c / (a * b + b * c + c * a);
  }

  /** I3: so many lines see a shift of 1 % at five standard errors with three to spare. */
  private static void assertEnough(ChordSample sample, double p) {
    assertEquals(LINES, sample.lines(), "every line is answered");
    assertTrue(LINES >= 1_000_000 && LINES >= 64 * (1 - p) / (1e-4 * p));
  }

  private static ChordSample throughSphere(double radius) {
    try (Dut dut = open("sphere_pipeline")) {
      Batch batch = dut.batch(ROWS);
      Arrays.fill(batch.column("in_radius"), code(radius, WORD));
      long[][] directions = vector(batch, "in_direction_");
      return shoot(
          dut,
          batch,
          new RandomLines(SEED, 8),
          (row, direction) -> {
            for (int axis = 0; axis < 3; axis++) {
              directions[axis][row] = code(direction[axis], DIRECTION);
            }
          });
    }
  }

  private static ChordSample throughBox(double a, double b, double c, double radius) {
    double[] half = {a, b, c};
    try (Dut dut = open("box_pipeline")) {
      Batch batch = dut.batch(ROWS);
      for (int axis = 0; axis < 3; axis++) {
        Arrays.fill(batch.column("in_min_" + AXES[axis]), code(-half[axis], WORD));
        Arrays.fill(batch.column("in_max_" + AXES[axis]), code(half[axis], WORD));
      }
      long[][] inverses = vector(batch, "in_inverse_");
      return shoot(
          dut,
          batch,
          new RandomLines(SEED, radius),
          (row, direction) -> {
            for (int axis = 0; axis < 3; axis++) {
              // the cast cuts towards zero: an inverse falls short, as the header asks
              double longest = WORD.toReal(WORD.maxCode());
              double inverse = Math.max(-longest, Math.min(longest, 1 / direction[axis]));
              inverses[axis][row] = (long) (inverse / WORD.lsbs());
            }
          });
    }
  }

  private static Dut open(String unit) {
    return CompiledDesign.of(SampleBenches.sharpest(unit).rtl()).open();
  }

  /** Puts the direction of a line into a row, in whatever form the block takes it. */
  private interface Aim {
    void at(int row, double[] direction);
  }

  /** A line every cycle, and a drain; lines begin well before the solid. */
  private static ChordSample shoot(Dut dut, Batch batch, RandomLines lines, Aim aim) {
    dut.set("rst", 1);
    dut.cycle();
    dut.set("rst", 0);
    long[][] origins = vector(batch, "in_origin_");
    long[] offered = batch.column("in_valid");
    long[] answered = batch.column("out_valid");
    long[] hit = batch.column("out_hit");
    long[] entry = batch.column("out_entry");
    long[] exit = batch.column("out_exit");
    ChordSample sample = new ChordSample(16);
    int block;
    for (int left = LINES; left > -DRAIN; left -= block) {
      block = Math.min(ROWS, left > 0 ? left : DRAIN);
      Arrays.fill(offered, left > 0 ? 1 : 0);
      for (int row = 0; row < block && left > 0; row++) {
        lines.next();
        for (int axis = 0; axis < 3; axis++) {
          origins[axis][row] = code(lines.origin[axis], WORD);
        }
        aim.at(row, lines.direction);
      }
      dut.run(batch, block);
      for (int row = 0; row < block; row++) {
        if (answered[row] != 0) {
          if (hit[row] != 0) {
            sample.hit((exit[row] - entry[row]) * WORD.lsbs());
          } else {
            sample.miss();
          }
        }
      }
    }
    return sample;
  }

  private static long[][] vector(Batch batch, String lead) {
    return new long[][] {
      batch.column(lead + "x"), batch.column(lead + "y"), batch.column(lead + "z")
    };
  }

  private static long code(double value, Format format) {
    return Math.round(value / format.lsbs());
  }
}
