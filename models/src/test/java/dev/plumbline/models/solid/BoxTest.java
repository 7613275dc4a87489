package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.unit.Reciprocal;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class BoxTest {
  private static final Format WORD = Format.signed(16, 16);
  private static final Reciprocal RECIPROCAL = Reciprocal.between(Format.signed(2, 20), WORD);

  static Stream<Datapath> forms() {
    Box box = Box.of(WORD);
    Budget budget = box.budget(WORD);
    return Stream.of(
        box.fromInverse(WORD),
        box.fromDirection(RECIPROCAL),
        box.budgetedFromInverse(WORD, budget),
        box.budgetedFromDirection(RECIPROCAL, budget));
  }

  private static BoxRig rig(Datapath form) {
    return new BoxRig(form).set("min", -1, -1, -1).set("max", 1, 1, 1);
  }

  @ParameterizedTest
  @MethodSource("forms")
  @DisplayName("C3: rays against the box (-1,-1,-1) to (1,1,1), and the faces they pass")
  void publishedRays(Datapath form) {
    // J. Buck, The Ray Tracer Challenge, 2019, chapter 12; faces by the sign of the direction.
    BoxRig rig = rig(form);
    double[][] hits = {
      {5, .5, 0, -1, 0, 0, 4, 6, 1, 0},
      {-5, .5, 0, 1, 0, 0, 4, 6, 0, 1},
      {.5, 5, 0, 0, -1, 0, 4, 6, 3, 2},
      {.5, -5, 0, 0, 1, 0, 4, 6, 2, 3},
      {.5, 0, 5, 0, 0, -1, 4, 6, 5, 4},
      {.5, 0, -5, 0, 0, 1, 4, 6, 4, 5},
      {0, .5, 0, 0, 0, 1, -1, 1, 4, 5}
    };
    for (double[] ray : hits) {
      rig.set("origin", ray[0], ray[1], ray[2]).direction(ray[3], ray[4], ray[5]).run();
      assertTrue(rig.hit());
      assertEquals(ray[6], rig.entry());
      assertEquals(ray[7], rig.exit());
      assertEquals(ray[8], rig.real("entry_face"));
      assertEquals(ray[9], rig.real("exit_face"));
      assertEquals(ray[6] < 0, rig.is("inside"));
    }
    double[][] misses = {
      {-2, 0, 0, .2673, .5345, .8018},
      {0, -2, 0, .8018, .2673, .5345},
      {0, 0, -2, .5345, .8018, .2673},
      {2, 0, 2, 0, 0, -1},
      {0, 2, 2, 0, -1, 0},
      {2, 2, 0, -1, 0, 0}
    };
    for (double[] ray : misses) {
      rig.set("origin", ray[0], ray[1], ray[2]).direction(ray[3], ray[4], ray[5]).run();
      assertFalse(rig.hit());
    }
  }

  @ParameterizedTest
  @MethodSource("forms")
  @DisplayName("C5: the skew ray enters at sqrt(21)/2 after it left at sqrt(21)/4: a miss")
  void skewRay(Datapath form) {
    // E. Haines in Glassner (ed.), An Introduction to Ray Tracing, 1989, chapter 2.
    double length = Math.sqrt(21);
    BoxRig rig = new BoxRig(form).set("min", -1, 2, 1).set("max", 3, 3, 3).set("origin", 0, 4, 2);
    assertFalse(rig.direction(1 / length, -2 / length, 4 / length).run().hit());
    assertEquals(2.291288, rig.entry(), 1e-4);
    assertEquals(1.145644, rig.exit(), 1e-4);
  }

  @ParameterizedTest
  @MethodSource("forms")
  @DisplayName("C7: a ray in a face, on an edge, starting on a face; behind; crossed boxes")
  void edges(Datapath form) {
    // Kay and Kajiya 1986 leave 0 * infinity open; here faces are the solid's.
    BoxRig rig = rig(form).direction(0, 0, 1);
    assertTrue(rig.set("origin", 1, .5, -5).run().hit(), "in a face");
    assertTrue(rig.set("origin", 1, -1, -5).run().hit(), "along an edge");
    assertTrue(rig.set("origin", 0, 0, 1).run().hit() && rig.is("inside"), "leaving from a face");
    assertEquals(0, rig.exit());
    double place = WORD.lsbs();
    assertFalse(rig.set("origin", 0, 0, 1 + place).run().hit(), "an LSB behind: no margin");
    assertFalse(rig.set("origin", 1 + place, 0, -5).run().hit(), "an LSB beside");
    // An edge met dead on: both faces at one distance, the first is named.
    rig.set("origin", -2, 0, -2).direction(1, 0, 1).run();
    assertTrue(rig.hit());
    assertEquals(0, rig.real("entry_face"));
    assertEquals(1, rig.real("exit_face"));
    // Crossed: nothing, whatever the direction.
    rig.set("min", 1, -1, -1).set("max", -1, 1, 1);
    for (double x : new double[] {-5, -1, 0, 1, 5}) {
      rig.set("origin", x, .25, .5);
      for (double[] d : new double[][] {{1, 0, 0}, {-1, 0, 0}, {0, 0, 1}, {.6, .64, .48}}) {
        assertTrue(!rig.direction(d).run().hit() && !rig.is("inside"), "x " + x);
      }
    }
  }

  @ParameterizedTest
  @MethodSource("forms")
  void everyAxisParallelIsAHitInsideAndNoFace(Datapath form) {
    BoxRig rig = rig(form).direction(0, 0, 0).set("origin", 0, .5, -.5).run();
    assertTrue(rig.hit() && rig.is("inside"));
    assertEquals(6, rig.real("entry_face"));
    assertEquals(6, rig.real("exit_face"));
    assertFalse(rig.set("origin", 0, 2, 0).run().hit());
  }
}
