package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.Evaluated;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.unit.Reciprocal;
import java.math.BigInteger;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/** The one micro-architecture, against whole numbers; and what is declared at the edges. */
class SphereExactTest {
  private static final Format WORD = Format.signed(16, 16);
  private static final Format DIRECTION = Format.signed(2, 16);
  private static final int GUARD = 4;
  private static final int CASES = 20_000;
  private static final long SEED = 20252;

  static Stream<Arguments> formats() {
    return Stream.of(
        Arguments.of(WORD, DIRECTION),
        Arguments.of(Format.signed(18, 14), Format.signed(2, 14)),
        Arguments.of(Format.signed(12, 20), DIRECTION),
        Arguments.of(WORD, Format.signed(2, 30)),
        Arguments.of(Format.signed(5, 3), Format.signed(2, 6)));
  }

  @ParameterizedTest
  @MethodSource("formats")
  void everyBitIsThatOfTheDescription(Format word, Format direction) {
    SphereCases cases = new SphereCases(word, direction, CASES, SEED);
    Datapath datapath = Sphere.of(word, direction).datapath();
    Evaluated bits = Evaluated.bits(datapath, cases.columns, "projection", "root");
    for (int i = 0; i < CASES; i++) {
      long[] expected = expected(word, direction, cases.columns, i);
      String[] names = {"projection", "root", "entry", "exit", "hit", "inside"};
      for (int k = 0; k < names.length; k++) {
        int which = i;
        assertEquals(
            expected[k],
            bits.codes(names[k])[i],
            () -> Evaluated.describe(datapath, cases.columns, which) + ", seed " + SEED);
      }
    }
  }

  /** The description again, in whole numbers of unlimited size. */
  private static long[] expected(Format word, Format direction, long[][] columns, int i) {
    int places = word.fractionBits();
    int fine = places + GUARD;
    BigInteger[] offset = new BigInteger[3];
    BigInteger[] d = new BigInteger[3];
    BigInteger dot = BigInteger.ZERO;
    for (int k = 0; k < 3; k++) {
      offset[k] =
          BigInteger.valueOf(
              columns[SphereCases.CENTRE + k][i] - columns[SphereCases.ORIGIN + k][i]);
      d[k] = BigInteger.valueOf(columns[SphereCases.DIRECTION + k][i]);
      dot = dot.add(offset[k].multiply(d[k]));
    }
    BigInteger projection =
        saturated(near(dot, places + direction.fractionBits() - fine), word.width() + 2 + GUARD);
    BigInteger distance = BigInteger.ZERO;
    for (int k = 0; k < 3; k++) {
      BigInteger along = near(projection.multiply(d[k]), direction.fractionBits());
      BigInteger across =
          saturated(offset[k].shiftLeft(GUARD).subtract(along), word.width() + GUARD);
      distance = distance.add(across.multiply(across));
    }
    BigInteger radius = BigInteger.valueOf(columns[SphereCases.RADIUS][i]);
    BigInteger discriminant = radius.pow(2).shiftLeft(2 * GUARD).subtract(distance);
    BigInteger root = discriminant.max(BigInteger.ZERO).shiftRight(2 * GUARD).sqrt();
    BigInteger guarded = root.shiftLeft(GUARD);
    BigInteger entry = saturated(near(projection.subtract(guarded), GUARD), word.width());
    BigInteger exit = saturated(near(projection.add(guarded), GUARD), word.width());
    boolean hit = discriminant.signum() >= 0 && radius.signum() >= 0 && exit.signum() >= 0;
    boolean inside = hit && entry.signum() < 0;
    return new long[] {
      projection.longValueExact(),
      root.longValueExact(),
      entry.longValueExact(),
      exit.longValueExact(),
      hit ? 1 : 0,
      inside ? 1 : 0
    };
  }

  /** Half up; bits are appended where fewer are there. */
  private static BigInteger near(BigInteger code, int drop) {
    return drop <= 0
        ? code.shiftLeft(-drop)
        : code.add(BigInteger.ONE.shiftLeft(drop - 1)).shiftRight(drop);
  }

  private static BigInteger saturated(BigInteger code, int width) {
    BigInteger end = BigInteger.ONE.shiftLeft(width - 1);
    return code.max(end.negate()).min(end.subtract(BigInteger.ONE));
  }

  /** Rays along z from z = 0; every result by hand. */
  @ParameterizedTest(name = "{0}")
  @CsvSource({
    "tangent,                          3, 10,  3, 1, 0, 10, 10",
    "tangent in the origin,            3,  0,  3, 1, 0, 0, 0",
    "tangent behind,                   3, -1,  3, 0, 0, -1, -1",
    "origin on the surface before,     0,  3,  3, 1, 0, 0, 6",
    "origin on the surface behind,     0, -3,  3, 1, 1, -6, 0",
    "inside,                           0,  1,  3, 1, 1, -2, 4",
    "behind,                           0, -9,  3, 0, 0, -12, -6",
    "a point dead on,                  0,  5,  0, 1, 0, 5, 5",
    "a point missed,                   1,  5,  0, 0, 0, 5, 5",
    "a negative radius,                0,  5, -3, 0, 0, 2, 8",
    "a miss has the foot for both,     4,  5,  3, 0, 0, 5, 5"
  })
  void edgesAreAsDeclaredAtEveryLevel(
      String what, long x, long z, long radius, long hit, long inside, long entry, long exit) {
    Map<String, Double> reals =
        Evaluated.reals(
            Sphere.of(WORD, DIRECTION).datapath(),
            Map.of(
                "centre_x",
                x << 16,
                "centre_z",
                z << 16,
                "radius",
                radius << 16,
                "direction_z",
                1L << 16));
    assertEquals((double) hit, reals.get("hit"), what);
    assertEquals((double) inside, reals.get("inside"), what);
    assertEquals((double) entry, reals.get("entry"), what);
    assertEquals((double) exit, reals.get("exit"), what);
    long[][] one = new long[SphereCases.OPERANDS][1];
    one[SphereCases.CENTRE][0] = x << 16;
    one[SphereCases.CENTRE + 2][0] = z << 16;
    one[SphereCases.RADIUS][0] = radius << 16;
    one[SphereCases.DIRECTION + 2][0] = 1L << 16;
    Evaluated.lawsHold(Sphere.of(WORD, DIRECTION).datapath(), one, 1e-6);
    Sphere sphere = Sphere.of(WORD, DIRECTION);
    Evaluated.lawsHold(sphere.budgeted(), one, 1e-6);
    Bounds bounds = new Bounds(sphere.budgeted(), one);
    assertTrue(bounds.holds("hit", 0, hit) && bounds.holds("inside", 0, inside), what);
    assertTrue(bounds.holds("entry", 0, entry << 16) && bounds.holds("exit", 0, exit << 16), what);
  }

  @Test
  void distancesBeyondTheWordSaturateAndStillDecide() {
    // 60000 ahead along z, from one end of the word to the other.
    long[][] one = new long[SphereCases.OPERANDS][1];
    one[SphereCases.ORIGIN + 2][0] = -30000L << 16;
    one[SphereCases.CENTRE + 2][0] = 30000L << 16;
    one[SphereCases.RADIUS][0] = 5L << 16;
    one[SphereCases.DIRECTION + 2][0] = 1L << 16;
    assertEnds(one, 1, WORD.maxCode().longValue());
    one[SphereCases.DIRECTION + 2][0] = -1L << 16;
    assertEnds(one, 0, WORD.minCode().longValue());
  }

  private static void assertEnds(long[][] one, long hit, long end) {
    Sphere sphere = Sphere.of(WORD, DIRECTION);
    Evaluated bits = Evaluated.bits(sphere.datapath(), one);
    Bounds bounds = new Bounds(sphere.budgeted(), one);
    assertEquals(hit, bits.codes("hit")[0]);
    assertEquals(hit + " to " + hit, bounds.describe("hit", 0));
    for (String distance : new String[] {"entry", "exit"}) {
      assertEquals(end, bits.codes(distance)[0], distance);
      assertEquals(end + " to " + end, bounds.describe(distance, 0), distance);
    }
  }

  @Test
  void aDirectionOfZeroMeetsASphereAroundTheOrigin() {
    long[][] two = new long[SphereCases.OPERANDS][2];
    two[SphereCases.CENTRE] = new long[] {2L << 16, 4L << 16};
    two[SphereCases.RADIUS] = new long[] {3L << 16, 3L << 16};
    Sphere sphere = Sphere.of(WORD, DIRECTION);
    Evaluated bits = Evaluated.bits(sphere.datapath(), two);
    assertEquals(1, bits.codes("hit")[0]);
    assertEquals(0, bits.codes("hit")[1]);
    Bounds bounds = new Bounds(sphere.budgeted(), two);
    assertTrue(bounds.holds("hit", 0, 1), bounds.describe("hit", 0));
    assertTrue(bounds.holds("hit", 1, 0), bounds.describe("hit", 1));
  }

  @Test
  void normalsAreOfUnitLengthAtEveryLevel() {
    Reciprocal inverse = Reciprocal.between(WORD, Format.signed(18, 30));
    Sphere sphere = Sphere.of(WORD, DIRECTION).withNormals(inverse);
    SphereCases cases = new SphereCases(WORD, DIRECTION, CASES, SEED);
    Evaluated bits = Evaluated.bits(sphere.datapath(), cases.columns);
    Evaluated.lawsHold(sphere.datapath(), cases.columns, 1e-2);
    Evaluated.lawsHold(sphere.budgeted(), cases.columns, 1e-2);
    Bounds bounds = new Bounds(sphere.budgeted(), cases.columns);
    int compared = 0;
    for (int i = 0; i < CASES; i++) {
      if (bits.codes("hit")[i] == 0 || cases.kinds[i] == SphereCases.Kind.ANYTHING) {
        continue;
      }
      for (String at : new String[] {"entry", "exit"}) {
        double square = 0;
        for (String axis : new String[] {"_x", "_y", "_z"}) {
          String name = at + "_normal" + axis;
          square += Math.pow(bits.real(name, i), 2);
          assertTrue(bounds.holds(name, i, bits.codes(name)[i]), name + bounds.describe(name, i));
        }
        double radius = cases.columns[SphereCases.RADIUS][i] * WORD.lsbs();
        double along = Math.abs(bits.real(at, i));
        if (radius > 1 && along < 100 * radius) {
          // Each point is off by a place or so, and by a relative 2^-16 of its distance; a crossing
          // in front of the word's end only. Both grow where the ray grazes.
          double root = (bits.codes("exit")[i] - bits.codes("entry")[i]) * WORD.lsbs() / 2;
          double error = (along * 1e-4 + 1e-4) * (along + radius) / (root + 1e-9) / radius + 1e-4;
          assertEquals(1, square, Math.min(4 * error, 1.5), cases.kinds[i] + " at " + i);
          compared++;
        }
      }
    }
    assertTrue(compared > CASES / 10, compared + " compared");
  }

  @Test
  void whatCannotBeBuiltIsRefused() {
    String message =
        assertThrows(
                IllegalArgumentException.class, () -> Sphere.of(Format.unsigned(16, 16), DIRECTION))
            .getMessage();
    assertTrue(message.contains("both have to be signed"), message);
    message =
        assertThrows(
                IllegalArgumentException.class,
                () -> Sphere.of(WORD, DIRECTION).withNormals(Reciprocal.between(DIRECTION, WORD)))
            .getMessage();
    assertTrue(message.contains("Reciprocal.between(s16.16, ...)"), message);
    Budget other = Budget.of("cone", WORD);
    message =
        assertThrows(
                IllegalArgumentException.class, () -> Sphere.of(WORD, DIRECTION).budgeted(other))
            .getMessage();
    assertTrue(message.contains("Budget of a cone for a sphere"), message);
  }
}
