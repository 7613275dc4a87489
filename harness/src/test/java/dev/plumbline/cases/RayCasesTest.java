package dev.plumbline.cases;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.sun.management.ThreadMXBean;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.solid.Box;
import dev.plumbline.models.solid.HalfSpace;
import dev.plumbline.models.solid.Sphere;
import dev.plumbline.models.unit.Reciprocal;
import dev.plumbline.stimulus.Stimulus;
import java.lang.management.ManagementFactory;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** What rays promise whatever solid they are aimed at. */
class RayCasesTest {
  private static final Format WORD = Format.signed(16, 16);
  private static final Format DIRECTION = Format.signed(2, 16);
  private static final int CASES = 3000;

  /** A solid's rays and the operands of its model. */
  @SuppressWarnings("ImmutableEnumChecker") // both are immutable
  enum Solid {
    BOX(
        RayCases.atBoxes(WORD, DIRECTION),
        Box.of(WORD).fromDirection(Reciprocal.between(DIRECTION, WORD))),
    BOX_BY_INVERSE(RayCases.atBoxesByInverse(WORD, WORD), Box.of(WORD).fromInverse(WORD)),
    SPHERE(RayCases.atSpheres(WORD, DIRECTION), Sphere.of(WORD, DIRECTION).datapath()),
    PLANE(RayCases.atPlanes(WORD, DIRECTION), HalfSpace.of(WORD, DIRECTION).datapath());

    private final RayCases rays;
    private final List<Operand> operands;

    Solid(RayCases rays, Datapath model) {
      this.rays = rays;
      this.operands = model.inputs();
    }

    /** Rays with one aim alone. */
    RayCases only(RayCases.Aim aim) {
      RayCases some = rays;
      for (RayCases.Aim other : RayCases.Aim.values()) {
        some = some.weight(other, other == aim ? 1 : 0);
      }
      return some;
    }
  }

  /** One column an operand, one word each. */
  private static long[][][] cases(RayCases rays, List<Operand> operands, long seed, int... cuts) {
    long[][][] columns = new long[operands.size()][1][CASES];
    Stimulus.Source source = rays.stimulus().open(operands, seed, 0);
    int from = 0;
    for (int to : cuts) {
      source.fill(columns, from, to);
      from = to;
    }
    source.fill(columns, from, CASES);
    return columns;
  }

  @ParameterizedTest
  @EnumSource
  void aSeedRepeatsItsCasesHoweverTheyAreFetched(Solid solid) {
    long[][][] first = cases(solid.rays, solid.operands, 7);
    assertTrue(Arrays.deepEquals(first, cases(solid.rays, solid.operands, 7)));
    assertTrue(Arrays.deepEquals(first, cases(solid.rays, solid.operands, 7, 1, 5, 1024)));
    assertFalse(Arrays.deepEquals(first, cases(solid.rays, solid.operands, 8)));
    for (RayCases.Aim aim : RayCases.Aim.values()) {
      long[][][] aimed = cases(solid.only(aim), solid.operands, 7);
      assertTrue(Arrays.deepEquals(aimed, cases(solid.only(aim), solid.operands, 7)), "" + aim);
    }
  }

  /** Whatever a source has drawn before, and wherever in a block of its own it stands. */
  @ParameterizedTest
  @EnumSource
  void aSourceThatBeginsAnewDrawsWhatANewOneDoes(Solid solid) {
    beginsAnew(solid.rays, solid.operands, "all");
    for (RayCases.Aim aim : RayCases.Aim.values()) {
      beginsAnew(solid.only(aim), solid.operands, "" + aim);
    }
  }

  private static void beginsAnew(RayCases rays, List<Operand> operands, String which) {
    long[][][] columns = new long[operands.size()][1][CASES];
    Stimulus.Source source = rays.stimulus().open(operands, 5, 0);
    for (int drawn : new int[] {CASES, 1, 200}) {
      source.fill(columns, 0, drawn);
      assertTrue(source.restart(7 + drawn, 65536), which);
      source.fill(columns, 0, CASES);
      assertTrue(Arrays.deepEquals(cases(rays, operands, 7 + drawn), columns), which);
    }
  }

  @ParameterizedTest
  @EnumSource
  void operandsAreFoundByNameInAnyOrder(Solid solid) {
    long[][][] inOrder = cases(solid.rays, solid.operands, 7);
    List<Operand> shuffled = new ArrayList<>(solid.operands);
    Collections.shuffle(shuffled, new Random(3));
    long[][][] mixed = cases(solid.rays, shuffled, 7);
    for (int i = 0; i < shuffled.size(); i++) {
      Operand operand = shuffled.get(i);
      assertArrayEquals(
          inOrder[solid.operands.indexOf(operand)][0], mixed[i][0], operand.toString());
    }
  }

  @ParameterizedTest
  @EnumSource
  void everyCodeIsOneOfItsFormatAndEveryOperandMoves(Solid solid) {
    long[][][] columns = cases(solid.rays, solid.operands, 7);
    for (int i = 0; i < columns.length; i++) {
      Operand operand = solid.operands.get(i);
      long min = operand.format().minCode().longValueExact();
      long max = operand.format().maxCode().longValueExact();
      assertTrue(
          Arrays.stream(columns[i][0]).allMatch(code -> min <= code && code <= max),
          operand.toString());
      assertTrue(Arrays.stream(columns[i][0]).distinct().count() > 1, operand.toString());
    }
  }

  @ParameterizedTest
  @EnumSource(names = {"HIT", "MISS", "GRAZE"})
  void directionsAreOfUnitLengthAsFarAsTheirFormatGoes(RayCases.Aim aim) {
    for (Solid solid : List.of(Solid.SPHERE, Solid.PLANE)) {
      long[][][] columns = cases(solid.only(aim), solid.operands, 7);
      for (int i = 0; i < CASES; i++) {
        double square = 0;
        for (String axis : List.of("x", "y", "z")) {
          int at = solid.operands.indexOf(new Operand("direction_" + axis, DIRECTION));
          square += Math.pow(DIRECTION.toReal(columns[at][0][i]), 2);
        }
        // The nearest codes of a unit vector: half an LSB in each of three components.
        double most = 2 * Math.sqrt(3) * DIRECTION.lsbs() / 2 + 3 * 0x1p-34;
        assertEquals(1, square, most, solid + " " + aim + " " + i);
      }
    }
  }

  @ParameterizedTest
  @EnumSource
  void drawingAllocatesNothingForACase(Solid solid) {
    assumeTrue(ManagementFactory.getThreadMXBean() instanceof ThreadMXBean);
    ThreadMXBean threads = (ThreadMXBean) ManagementFactory.getThreadMXBean();
    long thread = Thread.currentThread().getId();
    long[][][] columns = new long[solid.operands.size()][1][CASES];
    Map<RayCases.Aim, Stimulus.Source> sources = new EnumMap<>(RayCases.Aim.class);
    for (RayCases.Aim aim : RayCases.Aim.values()) {
      sources.put(aim, solid.only(aim).stimulus().open(solid.operands, 7, 0));
    }
    sources.forEach(
        (aim, source) -> {
          source.fill(columns, 0, CASES);
          long before = threads.getThreadAllocatedBytes(thread);
          for (int i = 0; i < 10; i++) {
            source.fill(columns, 0, CASES);
          }
          long bytes = threads.getThreadAllocatedBytes(thread) - before;
          // The smallest object takes 16 bytes; the measurement itself and the JVM may take a few.
          assertTrue(
              bytes < 10L * CASES, aim + ": " + bytes + " bytes in 10 * " + CASES + " cases");
        });
  }

  @Test
  void anOperandThatIsNotThereIsNamed() {
    List<Operand> operands =
        Solid.SPHERE.operands.stream().filter(o -> !o.name().equals("centre_y")).toList();
    String message =
        assertThrows(
                IllegalArgumentException.class,
                () -> Solid.SPHERE.rays.stimulus().open(operands, 1, 0))
            .getMessage();
    assertTrue(message.startsWith("Rays need an operand \"centre_y\"; there are ["), message);
  }
}
