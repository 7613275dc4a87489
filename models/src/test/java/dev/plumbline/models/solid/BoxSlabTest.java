package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.solid.BoxSlab.OnFace;
import dev.plumbline.models.unit.Reciprocal;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class BoxSlabTest {
  private static final Format WORD = Format.signed(16, 16);

  /** Directions fine enough that the inverse's LSB decides. */
  private static final Reciprocal RECIPROCAL = Reciprocal.between(Format.signed(2, 20), WORD);

  static Stream<Datapath> forms() {
    return Stream.of(
        BoxSlab.of(WORD).fromInverse(WORD), BoxSlab.of(WORD).fromDirection(RECIPROCAL));
  }

  @ParameterizedTest
  @MethodSource("forms")
  @DisplayName("C3: rays against the box (-1,-1,-1) to (1,1,1): entry 4, exit 6, or misses")
  void publishedRays(Datapath form) {
    // J. Buck, The Ray Tracer Challenge, 2019, chapter 12.
    BoxRig rig = new BoxRig(form).set("min", -1, -1, -1).set("max", 1, 1, 1);
    double[][] hits = {
      {5, .5, 0, -1, 0, 0, 4, 6},
      {-5, .5, 0, 1, 0, 0, 4, 6},
      {.5, 5, 0, 0, -1, 0, 4, 6},
      {.5, -5, 0, 0, 1, 0, 4, 6},
      {.5, 0, 5, 0, 0, -1, 4, 6},
      {.5, 0, -5, 0, 0, 1, 4, 6},
      {0, .5, 0, 0, 0, 1, -1, 1}
    };
    for (double[] ray : hits) {
      rig.set("origin", ray[0], ray[1], ray[2]).direction(ray[3], ray[4], ray[5]).run();
      assertTrue(rig.hit());
      assertEquals(ray[6], rig.entry());
      assertEquals(ray[7], rig.exit());
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
    rig.set("origin", -2, 0, 0).direction(.2673, .5345, .8018).run();
    assertEquals(3.7411, rig.entry(), 1e-4);
    assertEquals(1.2472, rig.exit(), 1e-4);
  }

  @ParameterizedTest
  @MethodSource("forms")
  @DisplayName("C5: the skew ray enters at sqrt(21)/2 after it left at sqrt(21)/4: a miss")
  void skewRay(Datapath form) {
    // E. Haines in Glassner (ed.), An Introduction to Ray Tracing, 1989, chapter 2.
    double length = Math.sqrt(21);
    BoxRig rig =
        new BoxRig(form)
            .set("origin", 0, 4, 2)
            .direction(1 / length, -2 / length, 4 / length)
            .set("min", -1, 2, 1)
            .set("max", 3, 3, 3)
            .run();
    assertFalse(rig.hit());
    assertEquals(2.291288, rig.entry(), 1e-4);
    assertEquals(1.145644, rig.exit(), 1e-4);
  }

  @ParameterizedTest
  @MethodSource("forms")
  @DisplayName("C7: a zero component hits between the faces, misses outside, both whole codes away")
  void zeroComponentDecidesByPosition(Datapath form) {
    // Kay and Kajiya 1986; Williams, Barrus, Morley and Shirley 2005.
    double place = WORD.lsbs();
    BoxRig rig = new BoxRig(form).set("min", -1, -1, -1).set("max", 1, 1, 1).direction(0, 0, 1);
    for (double x : new double[] {-1 + place, 0, 1 - place}) {
      assertTrue(rig.set("origin", x, 0, -5).run().hit());
      assertEquals(4, rig.entry());
      assertEquals(6, rig.exit());
    }
    for (double x : new double[] {-1 - place, 1 + place, 100, -32768}) {
      assertFalse(rig.set("origin", x, 0, -5).run().hit(), "x " + x);
      assertFalse(rig.set("origin", 0, x, -5).run().hit(), "y " + x);
      assertEquals(WORD.toReal(WORD.maxCode()), rig.entry());
      assertEquals(-32768, rig.exit());
    }
  }

  @Test
  @DisplayName("C7: a parallel ray exactly in a face goes as declared")
  void rayInFaceGoesAsDeclared() {
    for (OnFace onFace : OnFace.values()) {
      BoxSlab slab = BoxSlab.of(WORD).withOnFace(onFace);
      for (Datapath form : List.of(slab.fromInverse(WORD), slab.fromDirection(RECIPROCAL))) {
        BoxRig rig = new BoxRig(form).set("min", -1, -1, -1).set("max", 1, 1, 1);
        rig.direction(0, 0, 1);
        for (int side = -1; side <= 1; side += 2) {
          boolean inside = onFace == OnFace.INSIDE;
          assertEquals(inside, rig.set("origin", side, 0, -5).run().hit());
          assertEquals(inside, rig.set("origin", 0, side, -5).run().hit());
          assertEquals(inside, rig.set("origin", side, side, -5).run().hit());
          // A face that is crossed, however late, is no parallel face.
          assertTrue(rig.set("origin", 0, 0, side).run().hit());
        }
      }
    }
  }

  @ParameterizedTest
  @MethodSource("forms")
  void boxBehindIsMissedAndBoxAroundIsHit(Datapath form) {
    BoxRig rig = new BoxRig(form).set("min", -1, -1, -1).set("max", 1, 1, 1);
    rig.direction(.6, .48, .64);
    assertTrue(rig.set("origin", 0, 0, 0).run().hit());
    assertTrue(rig.entry() < 0);
    assertFalse(rig.set("origin", 6, 4.8, 6.4).run().hit());
    assertTrue(rig.exit() < 0);
    assertTrue(rig.set("origin", -6, -4.8, -6.4).run().hit());
  }

  @ParameterizedTest
  @MethodSource("forms")
  void crossedFacesAreTakenInOrder(Datapath form) {
    BoxRig rig = new BoxRig(form).set("origin", -6, -4.8, -6.4).direction(.6, .48, .64);
    rig.set("min", -1, -1, -1).set("max", 1, 1, 1).run();
    double entry = rig.entry();
    double exit = rig.exit();
    rig.set("min", 1, 1, 1).set("max", -1, -1, -1).run();
    assertTrue(rig.hit());
    assertEquals(entry, rig.entry());
    assertEquals(exit, rig.exit());
    // A parallel axis has no inside between crossed faces.
    assertFalse(rig.set("origin", 0, 0, -5).direction(0, 0, 1).run().hit());
  }

  @Test
  void marginIsCountedInLsbsOfTheWord() {
    double place = WORD.lsbs();
    for (int margin : new int[] {0, 1, 2, 15, 16, 255}) {
      BoxRig rig = new BoxRig(BoxSlab.of(WORD).withMargin(margin).fromInverse(WORD));
      // Entry on x, exit on y, both with inverse 1: they part by the difference of the faces.
      rig.direction(1, 1, 1).set("origin", 0, 0, 0).set("max", 9, 3, 9);
      assertTrue(rig.set("min", 3 + margin * place, 0, 0).run().hit());
      assertFalse(rig.set("min", 3 + (margin + 1) * place, 0, 0).run().hit());
      // Behind the origin by so much.
      rig.set("min", -2, -2, -2);
      assertTrue(rig.set("max", 9, -margin * place, 9).run().hit());
      assertFalse(rig.set("max", 9, -(margin + 1) * place, 9).run().hit());
    }
  }

  @Test
  void operandsStandInTheOrderOfThePorts() {
    assertEquals(
        "origin_x origin_y origin_z inverse_x inverse_y inverse_z parallel_x parallel_y parallel_z"
            + " min_x min_y min_z max_x max_y max_z hit entry exit",
        names(BoxSlab.of(WORD).fromInverse(WORD)));
    assertEquals(
        "origin_x origin_y origin_z direction_x direction_y direction_z"
            + " min_x min_y min_z max_x max_y max_z hit entry exit",
        names(BoxSlab.of(WORD).fromDirection(RECIPROCAL)));
  }

  @Test
  void marginOutsideEightBitsIsRefused() {
    IllegalArgumentException refused =
        assertThrows(IllegalArgumentException.class, () -> BoxSlab.of(WORD).withMargin(256));
    assertEquals("Box slab with a margin of 256 LSB: it has to be 0 to 255.", refused.getMessage());
  }

  private static String names(Datapath datapath) {
    return String.join(
        " ",
        Stream.concat(datapath.inputs().stream(), datapath.outputs().stream())
            .map(Operand::name)
            .toList());
  }
}
