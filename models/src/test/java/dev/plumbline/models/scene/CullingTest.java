package dev.plumbline.models.scene;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.traversal.Rays;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

class CullingTest {
  private static final double REACH = 64;

  /**
   * Rays of every kind: anywhere; along an axis or a few LSB off it; and those that graze the
   * points in which a solid touches its box.
   */
  private static Rays rays(Random random, Scene scene, int count) {
    List<double[]> touched = touched(scene);
    Rays rays = Rays.of(CullingTable.FORMATS, count);
    for (int i = 0; i < count; i++) {
      double[] d = CullingTable.direction(random);
      long[] direction = CullingTable.unit(d);
      if (i % 3 == 0) {
        int axis = random.nextInt(3);
        direction = new long[3];
        for (int k = 0; k < 3; k++) {
          direction[k] = k == axis ? (1 << 16) : random.nextInt(9) - 4;
        }
      }
      long[] origin = new long[3];
      double[] at = touched.get(random.nextInt(touched.size()));
      double back = 20 * random.nextDouble();
      for (int k = 0; k < 3; k++) {
        double target = i % 2 == 0 ? at[k] : random.nextDouble() * 20 - 10;
        origin[k] = CullingTable.code(target - back * direction[k] / (1 << 16));
        origin[k] += random.nextInt(5) - 2;
      }
      rays.nearest(i, 16, origin, direction);
    }
    return rays;
  }

  private static List<double[]> touched(Scene scene) {
    List<double[]> points = new ArrayList<>();
    for (Scene.Item item : scene.items()) {
      double[] box = new Bounds(scene, CullingTable.FORMATS, 0).of(((Scene.Piece) item).solid());
      for (int side = 0; box != null && side < 6; side++) {
        double[] point = new double[3];
        for (int k = 0; k < 3; k++) {
          point[k] = side % 3 == k ? box[side] : (box[k] + box[k + 3]) / 2;
        }
        points.add(point);
      }
    }
    return points;
  }

  @Test
  @DisplayName("C15 a hierarchy changes no hit, to the last bit, and retires fewer operations")
  void everyRaySeesTheSame() {
    Random random = new Random(21);
    double before = 0;
    double after = 0;
    int hits = 0;
    for (int i = 0; i < 10; i++) {
      Scene scene = new RandomScenes(random, 8, i % 4 > 0).scene(1 + 5 * i, 2, false);
      Rays rays = rays(random, scene, 250);
      CullingTable.Costs flat = CullingTable.costs(scene, rays);
      for (double penalty : new double[] {0, 54}) {
        Culling culling = new Culling(CullingTable.FORMATS, REACH, penalty);
        Scene culled = culling.culled(scene);
        CullingTable.Costs costs = CullingTable.costs(culled, rays);
        assertEquals(flat.hits(), costs.hits());
        assertTrue(costs.operations() <= flat.operations());
        before += penalty == 0 ? flat.operations() : 0;
        after += penalty == 0 ? costs.operations() : 0;
        assertEquals(culled, Scene.parse(culled.toString()));
        assertEquals(culled, culling.culled(culled), "boxes that are there already are left out");
      }
      hits += 250 - Collections.frequency(flat.hits(), "none");
    }
    assertTrue(hits > 1000, hits + " hits");
    assertTrue(after < before / 2, after + " of " + before + " operations");
  }

  @Test
  void sortingChangesNoDistance() {
    Random random = new Random(22);
    Scene scene = new RandomScenes(random, 8, false).scene(60, 2, false);
    Rays rays = rays(random, scene, 300);
    Culling culling = Culling.of(CullingTable.FORMATS, REACH);
    Scene sorted = culling.sorted(scene);
    assertEquals(60, sorted.items().size());
    assertNotEquals(scene, sorted);
    CullingTable.Costs flat = CullingTable.costs(scene, rays);
    CullingTable.Costs moved = CullingTable.costs(sorted, rays);
    for (int i = 0; i < rays.capacity(); i++) {
      assertEquals(distance(flat.hits().get(i)), distance(moved.hits().get(i)));
    }
    double kept = CullingTable.costs(culling.culled(scene), rays).operations();
    double better = CullingTable.costs(culling.culled(sorted), rays).operations();
    assertTrue(better < kept, better + " of " + kept + " operations");
  }

  private static String distance(String hit) {
    return hit.substring(0, (hit + " ").indexOf(' '));
  }

  @Test
  void boxesEncloseHullsByTheirCornersAndLeaveOutWhatHasNone() {
    Scene scene =
        Scene.parse(
            """
            piece octahedron take hull of 1
              facing 1, 1, 1 up to 1     facing -1, 1, 1 up to 1
              facing 1, -1, 1 up to 1    facing -1, -1, 1 up to 1
              facing 1, 1, -1 up to 1    facing -1, 1, -1 up to 1
              facing 1, -1, -1 up to 1   facing -1, -1, -1 up to 1
            done done
            piece half
              take sphere at 0, 0, 0 radius 2 of 1
              keep half-space facing 0, 0, 1 up to 0.5 of 1
              cut box from -9, -9, -9 to 9, 9, 0 of 1
            done
            piece floor take half-space facing 0, 0, 1 up to 0 of 1 done
            piece far take sphere at 32767, 0, 0 radius 2 of 1 done
            piece prism
              take part take box from 0, 0, 0 to 1, 1, 1 of 1 keep
                half-space facing 1, 1, 0 up to 0.5 of 1 done
              add sphere at 0, 0, 0 radius 0.25 of 1
            done
            """);
    assertBox(scene, 0, -1, -1, -1, 1, 1, 1);
    assertBox(scene, 1, -2, -2, -2, 2, 2, 0.5);
    assertEquals(null, box(scene, 2));
    assertEquals(null, box(scene, 3));
    assertBox(scene, 4, -0.25, -0.25, -0.25, 0.5, 0.5, 1);
  }

  @Test
  void aSharpEdgeIsPaddedAlongItsFaces() {
    Scene scene =
        Scene.parse(
            """
            piece wedge take hull of 1
              facing 0.0625, 1, 0 up to 0     facing 0.0625, -1, 0 up to 0
              facing -1, 0, 0 up to 1         facing 0, 0, 1 up to 1
              facing 0, 0, -1 up to 1
            done done
            """);
    Scene.Piece wedge = (Scene.Piece) scene.items().get(0);
    double[] box = new Bounds(scene, CullingTable.FORMATS, 0.01).of(wedge.solid());
    // Faces by 0.01 x (1 + 1/256), so that the edge at x = 0 moves 16 times as far; the box by
    // 0.01.
    assertEquals(0.01 * (16 * 257 / 256.0 + 1), box[3], 1e-9);
    assertEquals(-1.02, box[0], 1e-9);
  }

  private static double[] box(Scene scene, int piece) {
    Scene.Piece at = (Scene.Piece) scene.items().get(piece);
    return new Bounds(scene, CullingTable.FORMATS, 0).of(at.solid());
  }

  private static void assertBox(Scene scene, int piece, double... expected) {
    double[] box = box(scene, piece);
    for (int i = 0; i < 6; i++) {
      assertEquals(expected[i], box[i], 1e-3, "side " + i + " of piece " + piece);
    }
  }

  @Test
  void paddingIsThatOfTheFormulaAndRangesAreChecked() {
    // 2 x 32 x 2^-16 and 4 LSB, by hand.
    double expected = (2 * 32 + 4) / 65536.0;
    assertEquals(expected, Culling.of(CullingTable.FORMATS, 32).padding(), 1e-7);
    for (double wrong : new double[] {0, -1, Double.NaN}) {
      assertThrows(IllegalArgumentException.class, () -> Culling.of(CullingTable.FORMATS, wrong));
    }
    assertThrows(IllegalArgumentException.class, () -> new Culling(CullingTable.FORMATS, 1, -1));
  }
}
