package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class HullTest {
  private static final Format WORD = Format.signed(16, 16);
  private static final Format DIRECTION = Format.signed(2, 16);
  private static final double HIGHEST = 32768 - 0x1p-16;

  static Stream<Datapath> octahedra() {
    Hull hull = Hull.of(8, WORD, DIRECTION);
    return Stream.of(hull.datapath(), hull.budgeted());
  }

  /** Face f has the signs of f's bits: 1 is negative. */
  private static BoxRig octahedron(Datapath form) {
    BoxRig rig = new BoxRig(form);
    for (int face = 0; face < 8; face++) {
      rig.set("normal_" + face, sign(face, 0), sign(face, 1), sign(face, 2));
      rig.setOne("level_" + face, 1);
    }
    return rig;
  }

  private static int sign(int face, int axis) {
    return 1 - 2 * (face >> axis & 1);
  }

  @ParameterizedTest
  @MethodSource("octahedra")
  @DisplayName("D9: the octahedron of eight planes on the line x = y = 1/4: z from -1/2 to 1/2")
  void lineThroughTheOctahedron(Datapath form) {
    BoxRig rig = octahedron(form).set("origin", .25, .25, -5).set("direction", 0, 0, 1).run();
    assertTrue(rig.hit() && !rig.is("inside"));
    assertEquals(4.5, rig.entry());
    assertEquals(5.5, rig.exit());
    assertEquals(4, rig.real("entry_face"), "x + y - z <= 1");
    assertEquals(0, rig.real("exit_face"), "x + y + z <= 1");
    rig.set("origin", .25, .25, 0).run();
    assertTrue(rig.hit() && rig.is("inside"));
    assertEquals(-.5, rig.entry());
    assertFalse(rig.set("origin", .25, .25, 5).run().hit(), "behind");
    assertFalse(rig.set("origin", .75, .5, -5).run().hit(), "beside");
    assertTrue(rig.set("origin", .5, .5, -5).run().hit(), "through the edge, which is the hull's");
    assertEquals(5, rig.entry());
    assertEquals(5, rig.exit());
  }

  @ParameterizedTest
  @MethodSource("octahedra")
  void planesWithNothingInCommonAreNeverHit(Datapath form) {
    // z <= -1 and z >= 1, and all the others as before.
    BoxRig rig = octahedron(form);
    for (int face = 0; face < 8; face++) {
      rig.set("normal_" + face, 0, 0, sign(face, 0)).setOne("level_" + face, -1);
    }
    for (double z : new double[] {-5, -1, 0, 1, 5}) {
      rig.set("origin", .1, .2, z);
      for (double[] d : new double[][] {{0, 0, 1}, {0, 0, -1}, {1, 0, 0}, {.6, .64, .48}}) {
        rig.set("direction", d).run();
        assertTrue(!rig.hit() && !rig.is("inside"), "z " + z);
      }
    }
  }

  @Test
  void faceThatIsNeverCrossedIsNone() {
    BoxRig rig = new BoxRig(Hull.of(2, WORD, DIRECTION).datapath());
    // The wedge x <= 1, y <= 1, seen along z: inside both, parallel to both.
    rig.set("normal_0", 1, 0, 0).set("normal_1", 0, 1, 0).setOne("level_0", 1);
    rig.setOne("level_1", 1).set("direction", 0, 0, 1).run();
    assertTrue(rig.hit() && rig.is("inside"));
    assertEquals(2, rig.real("entry_face"));
    assertEquals(2, rig.real("exit_face"));
    // Leaving through one: still entered by none.
    rig.set("direction", 0, 1, 0).run();
    assertEquals(2, rig.real("entry_face"));
    assertEquals(1, rig.real("exit_face"));
    assertEquals(1, rig.exit());
    assertEquals(HIGHEST, rig.set("direction", 0, -1, 0).run().exit());
  }

  @Test
  void numberOfFacesIsLimited() {
    IllegalArgumentException refused =
        assertThrows(IllegalArgumentException.class, () -> Hull.of(0, WORD, DIRECTION));
    assertEquals("Hull of 0 faces: it has to have 1 to 64.", refused.getMessage());
  }
}
