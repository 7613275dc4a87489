package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.Evaluated;
import dev.plumbline.models.IsotropicLines;
import dev.plumbline.models.datapath.BitEvaluation;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.unit.Reciprocal;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.Map;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The exact sphere against published figures. */
class SphereOutsideTest {
  private static final Format WORD = Format.signed(16, 16);
  private static final Format DIRECTION = Format.signed(2, 16);
  private static final Format FINE = Format.signed(2, 30);
  private static final int LINES = 1_000_000;
  private static final int BLOCK = 1000;
  private static final long SEED = 20253;

  private static long code(double value, Format format) {
    return Math.round(Math.scalb(value, format.fractionBits()));
  }

  @ParameterizedTest(name = "C1: unit sphere, ray along z from (0, {0}, {1})")
  @CsvSource({
    "0, -5, 1, 4, 6",
    "1, -5, 1, 5, 5",
    "2, -5, 0, 5, 5",
    "0, 0, 1, -1, 1",
    "0, 5, 0, -6, -4"
  })
  void unitSphere(long y, long z, double hit, double entry, double exit) {
    // J. Buck, The Ray Tracer Challenge, 2019, ch. 5; ours calls a sphere behind no hit.
    Map<String, Double> reals =
        Evaluated.reals(
            Sphere.of(WORD, DIRECTION).datapath(),
            Map.of(
                "origin_y",
                y << 16,
                "origin_z",
                z << 16,
                "radius",
                1L << 16,
                "direction_z",
                1L << 16));
    assertEquals(hit, reals.get("hit"));
    if (y < 2) {
      assertEquals(entry, reals.get("entry"));
      assertEquals(exit, reals.get("exit"));
    }
  }

  @Test
  @DisplayName("C2: a skew ray, its normal, and the power of a point")
  void skewRay() {
    // E. Haines in A. Glassner (ed.), An Introduction to Ray Tracing, 1989, ch. 2; Euclid III.
    Map<String, Long> codes = new LinkedHashMap<>();
    String[] axes = {"x", "y", "z"};
    long[] origin = {1, -2, -1};
    long[] centre = {3, 0, 5};
    double[] direction = {1, 2, 4};
    for (int k = 0; k < 3; k++) {
      codes.put("origin_" + axes[k], origin[k] << 16);
      codes.put("centre_" + axes[k], centre[k] << 16);
      codes.put("direction_" + axes[k], code(direction[k] / Math.sqrt(21), FINE));
    }
    codes.put("radius", 3L << 16);
    Sphere sphere =
        Sphere.of(WORD, FINE).withNormals(Reciprocal.between(WORD, Format.signed(18, 30)));
    Map<String, Double> reals = Evaluated.reals(sphere.datapath(), codes);
    double place = WORD.lsbs();
    assertEquals(1, reals.get("hit"));
    assertEquals(3.743477, reals.get("entry"), 1.5 * place);
    assertEquals(9.349596, reals.get("exit"), 1.5 * place);
    assertEquals(35, reals.get("entry") * reals.get("exit"), 15 * place);
    assertEquals(13.093073, reals.get("entry") + reals.get("exit"), 2 * place);
    double[] normal = {-.394369, -.122071, -.910808};
    for (int k = 0; k < 3; k++) {
      assertEquals(normal[k], reals.get("entry_normal_" + axes[k]), place);
    }
  }

  @Test
  @DisplayName("C4: lattice points on spheres of radius 0 to 15 are met exactly, and all of them")
  void latticePoints() {
    // OEIS A016725.
    int[] published = {1, 6, 6, 30, 6, 30, 30, 54, 6, 102, 30, 78, 30, 78, 54, 150};
    for (int r = 0; r < published.length; r++) {
      int side = 2 * r + 1;
      long[][] columns = new long[SphereCases.OPERANDS][side * side];
      for (int i = 0; i < side * side; i++) {
        columns[SphereCases.ORIGIN][i] = (long) (i % side - r) << 16;
        columns[SphereCases.ORIGIN + 1][i] = (long) (i / side - r) << 16;
        columns[SphereCases.ORIGIN + 2][i] = -20L << 16;
        columns[SphereCases.RADIUS][i] = (long) r << 16;
        columns[SphereCases.DIRECTION + 2][i] = 1L << 16;
      }
      Evaluated bits = Evaluated.bits(Sphere.of(WORD, DIRECTION).datapath(), columns);
      int points = 0;
      for (int i = 0; i < side * side; i++) {
        double entry = bits.real("entry", i);
        if (bits.codes("hit")[i] == 1 && entry == Math.rint(entry)) {
          points += entry == bits.real("exit", i) ? 1 : 2;
        }
      }
      assertEquals(published[r], points, "radius " + r);
    }
  }

  /** Chords of a sphere about the origin, cut by lines that hit a sphere of radius 8. */
  private static double[] chords(double radius, boolean joined) {
    BitEvaluation bits = Sphere.of(WORD, DIRECTION).datapath().bits(BLOCK);
    Arrays.fill(bits.input(SphereCases.RADIUS, 0), code(radius, WORD));
    IsotropicLines lines = new IsotropicLines(SEED, 8);
    java.util.Random random = new java.util.Random(SEED);
    double[] chords = new double[LINES];
    int hits = 0;
    for (int from = 0; from < LINES; from += BLOCK) {
      for (int i = 0; i < BLOCK; i++) {
        double[] origin = lines.origin;
        double[] direction = lines.direction;
        if (joined) {
          origin = onSphere(random, 8);
          double[] other = onSphere(random, 8);
          direction =
              new double[] {other[0] - origin[0], other[1] - origin[1], other[2] - origin[2]};
          double length = Math.hypot(Math.hypot(direction[0], direction[1]), direction[2]);
          for (int k = 0; k < 3; k++) {
            direction[k] /= length;
          }
        } else {
          lines.next();
        }
        for (int k = 0; k < 3; k++) {
          bits.input(SphereCases.ORIGIN + k, 0)[i] = code(origin[k], WORD);
          bits.input(SphereCases.DIRECTION + k, 0)[i] = code(direction[k], DIRECTION);
        }
      }
      bits.run(BLOCK);
      for (int i = 0; i < BLOCK; i++) {
        if (bits.output(0, 0)[i] == 1) {
          chords[hits++] = (bits.output(3, 0)[i] - bits.output(2, 0)[i]) * WORD.lsbs();
        }
      }
    }
    return Arrays.copyOf(chords, hits);
  }

  private static double[] onSphere(java.util.Random random, double radius) {
    double z = 2 * random.nextDouble() - 1;
    double turn = 2 * Math.PI * random.nextDouble();
    double ring = radius * Math.sqrt(1 - z * z);
    return new double[] {ring * Math.cos(turn), ring * Math.sin(turn), radius * z};
  }

  private static double hitsOff(double[] chords, double p) {
    return ((double) chords.length / LINES - p) / Math.sqrt(p * (1 - p) / LINES);
  }

  private static double meanOff(double[] chords, double radius) {
    // Mean 4R/3, variance 2R^2/9.
    double mean = Arrays.stream(chords).average().orElseThrow();
    return (mean - 4 * radius / 3) / Math.sqrt(2 * radius * radius / 9 / chords.length);
  }

  /** The largest gap between the law l^2 / 4R^2 and what was seen. */
  private static double lawOff(double[] chords, double radius) {
    double[] sorted = chords.clone();
    Arrays.sort(sorted);
    double worst = 0;
    for (int i = 0; i < sorted.length; i++) {
      double law = Math.min(sorted[i] * sorted[i] / (4 * radius * radius), 1);
      worst = Math.max(worst, Math.abs(law - (i + 0.5) / sorted.length));
    }
    return worst;
  }

  @ParameterizedTest(name = "C10, C11, C12, C13: sphere of radius 6 in one of 8, joined points {0}")
  @CsvSource({"false", "true"})
  void isotropicLines(boolean joined) {
    // Cauchy's formula, arXiv 1604.05815; Coleman, J. Appl. Prob. 6(2), 1969. Five standard errors
    // (I2), lines enough for 1 % (I3), Kolmogorov-Smirnov at one in a million.
    double p = 36.0 / 64;
    assertTrue(LINES >= 64 * (1 - p) / (1e-4 * p));
    double[] chords = chords(6, joined);
    assertEquals(0, hitsOff(chords, p), 5, "standard errors of the hits, seed " + SEED);
    assertEquals(0, meanOff(chords, 6), 5, "standard errors of the chord, seed " + SEED);
    assertTrue(lawOff(chords, 6) < 2.69 / Math.sqrt(chords.length), "law, seed " + SEED);
  }

  @Test
  @DisplayName("I9: a sphere 1 % too large fails hits, mean chord and chord law")
  void onePercentIsSeen() {
    double[] chords = chords(6.06, false);
    assertTrue(Math.abs(hitsOff(chords, 36.0 / 64)) > 5);
    assertTrue(Math.abs(meanOff(chords, 6)) > 5);
    assertTrue(lawOff(chords, 6) > 2.69 / Math.sqrt(chords.length));
  }
}
