package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.datapath.BitEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.unit.Reciprocal;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * The shadow a solid throws on a plane across the light, measured by parallel lines through the
 * exact models: the share of a disc's lines that hit is the shadow's share of the disc.
 *
 * <p>Five standard errors (I2); lines enough to see 1 % with three to spare (I3).
 */
class ShadowTest {
  private static final Format WORD = Format.signed(16, 16);
  private static final Format DIRECTION = Format.signed(2, 16);
  private static final int BLOCK = 1000;
  private static final long SEED = 20103;

  /** Half the edge of a cube of edge 8, and the radius of the disc the lines come through. */
  private static final double HALF = 4;

  private static final double DISC = HALF * Math.sqrt(3);

  /** A solid's exact model with its own operands set, and the outcome of lines through it. */
  private record Target(String name, BitEvaluation bits, int origin, int direction) {
    static Target of(String name, Datapath datapath, double... own) {
      List<String> inputs = datapath.inputs().stream().map(Operand::name).toList();
      BitEvaluation bits = datapath.bits(BLOCK);
      int next = 0;
      for (int k = 0; k < inputs.size(); k++) {
        if (!inputs.get(k).startsWith("origin_") && !inputs.get(k).startsWith("direction_")) {
          Arrays.fill(bits.input(k, 0), code(own[next++], datapath.inputs().get(k).format()));
        }
      }
      assertEquals(own.length, next, name);
      return new Target(name, bits, inputs.indexOf("origin_x"), inputs.indexOf("direction_x"));
    }

    /** How many of so many lines along a direction, through a disc about the origin, hit. */
    int hits(double[] n, int lines, Random random) {
      double[] u = across(n);
      double[] v = {
        n[1] * u[2] - n[2] * u[1], n[2] * u[0] - n[0] * u[2], n[0] * u[1] - n[1] * u[0]
      };
      int hits = 0;
      for (int from = 0; from < lines; from += BLOCK) {
        for (int i = 0; i < BLOCK; i++) {
          double reach = DISC * Math.sqrt(random.nextDouble());
          double turn = 2 * Math.PI * random.nextDouble();
          for (int k = 0; k < 3; k++) {
            double at = reach * (Math.cos(turn) * u[k] + Math.sin(turn) * v[k]) - 2 * DISC * n[k];
            bits.input(origin + k, 0)[i] = code(at, WORD);
            bits.input(direction + k, 0)[i] = code(n[k], DIRECTION);
          }
        }
        bits.run(BLOCK);
        for (int i = 0; i < BLOCK; i++) {
          hits += (int) bits.output(0, 0)[i];
        }
      }
      return hits;
    }

    private static double[] across(double[] n) {
      double length = Math.sqrt(n[0] * n[0] + n[1] * n[1]);
      return new double[] {-n[1] / length, n[0] / length, 0};
    }

    @Override
    public String toString() {
      return name;
    }
  }

  private static long code(double value, Format format) {
    return Math.round(Math.scalb(value, format.fractionBits()));
  }

  private static Target slab(double half) {
    double[] faces = {-half, -half, -half, half, half, half};
    return Target.of(
        "cull volume", BoxSlab.of(WORD).fromDirection(Reciprocal.between(DIRECTION, WORD)), faces);
  }

  private static Target box() {
    double[] faces = {-HALF, -HALF, -HALF, HALF, HALF, HALF};
    return Target.of("box", Box.of(WORD).fromDirection(Reciprocal.between(DIRECTION, WORD)), faces);
  }

  private static Target hull() {
    Faces cube = Faces.cube(HALF);
    double[] own =
        cube.normals().stream()
            .flatMapToDouble(n -> Arrays.stream(new double[] {n[0], n[1], n[2], cube.level()}))
            .toArray();
    return Target.of("hull", Hull.of(6, WORD, DIRECTION).datapath(), own);
  }

  private static Target sphere() {
    double[] own = {0, 0, 0, HALF};
    return Target.of("sphere", Sphere.of(WORD, DIRECTION).datapath(), own);
  }

  static Stream<Arguments> shadows() {
    double root3 = Math.sqrt(3);
    double[][] directions = {
      {1 / 3.0, 2 / 3.0, 2 / 3.0}, {2 / 7.0, 3 / 7.0, 6 / 7.0}, {1 / root3, 1 / root3, 1 / root3}
    };
    // Of the unit cube, by |nx| + |ny| + |nz|. Cauchy 1841, 1850; Slepian, arXiv 1109.0595.
    double[] published = {5 / 3.0, 11 / 7.0, root3};
    String[] names = {"(1, 2, 2)/3", "(2, 3, 6)/7", "(1, 1, 1)/sqrt 3"};
    return Stream.of(slab(HALF), box(), hull(), sphere())
        .flatMap(
            target ->
                java.util.stream.IntStream.range(0, 3)
                    .mapToObj(
                        i ->
                            Arguments.of(
                                target,
                                names[i],
                                directions[i],
                                // A sphere's shadow is its great circle, whatever the direction.
                                target.name().equals("sphere") ? Math.PI / 4 : published[i])));
  }

  /** The part of the disc that the shadow covers; given for a solid of edge 1. */
  private static double share(double area) {
    return area * 4 * HALF * HALF / (Math.PI * DISC * DISC);
  }

  /** How many standard errors the hits are off. */
  private static double off(int hits, int lines, double share) {
    assertTrue(lines >= 64 * (1 - share) / (1e-4 * share), "enough lines to see 1 %");
    return ((double) hits / lines - share) / Math.sqrt(share * (1 - share) / lines);
  }

  private static double off(Target target, double[] direction, double area) {
    double share = share(area);
    int lines = (int) Math.ceil(64 * (1 - share) / (1e-4 * share) / BLOCK) * BLOCK;
    return off(target.hits(direction, lines, new Random(SEED)), lines, share);
  }

  @ParameterizedTest(name = "C9: shadow of a {0} of edge 1 along {1}: {3}")
  @MethodSource("shadows")
  void shadowAlongADirection(Target target, String name, double[] direction, double area) {
    assertEquals(0, off(target, direction, area), 5, "standard errors, seed " + SEED);
  }

  @Test
  @DisplayName("I9: a cube 1 % too large throws too large a shadow")
  void onePercentIsSeen() {
    double[] direction = {1 / 3.0, 2 / 3.0, 2 / 3.0};
    assertTrue(off(slab(1.01 * HALF), direction, 5 / 3.0) > 5);
  }

  @Test
  @DisplayName("C9: the mean shadow of the cube over all directions is 3/2 = S/4")
  void meanShadow() {
    // A direction anywhere in each cell of equal solid angle.
    int rows = 20;
    Random random = new Random(SEED);
    Target box = box();
    int hits = 0;
    for (int row = 0; row < rows; row++) {
      for (int column = 0; column < rows; column++) {
        double z = 2 * (row + random.nextDouble()) / rows - 1;
        double turn = 2 * Math.PI * (column + random.nextDouble()) / rows;
        double ring = Math.sqrt(1 - z * z);
        double[] direction = {ring * Math.cos(turn), ring * Math.sin(turn), z};
        hits += box.hits(direction, BLOCK, random);
      }
    }
    assertEquals(0, off(hits, rows * rows * BLOCK, share(1.5)), 5, "standard errors, seed " + SEED);
  }
}
