package dev.plumbline.models.scene;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.IsotropicLines;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.traversal.Rays;
import java.math.BigDecimal;
import java.util.List;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class CarouselTest {
  private static final double REACH = 11 / 5.0;

  private static int spheres(int generations) {
    return ((1 << (2 * (generations + 1))) - 1) / 3;
  }

  /** Centre and radius of each sphere in units of 8^-generations, exactly. */
  private static List<long[]> units(int generations) {
    BigDecimal unit = BigDecimal.valueOf(1L << (3 * generations));
    return Carousel.of(generations).items().stream()
        .map(item -> (Scene.Primitive) ((Scene.Piece) item).solid())
        .map(s -> s.numbers().stream().mapToLong(n -> n.multiply(unit).longValueExact()).toArray())
        .toList();
  }

  private static double squared(long[] a, long[] b) {
    double sum = 0;
    for (int axis = 0; axis < 3; axis++) {
      sum += (double) (a[axis] - b[axis]) * (a[axis] - b[axis]);
    }
    return sum; // below 2^53: exact
  }

  @ParameterizedTest(name = "{0} generations: (4^(g+1) - 1) / 3 spheres, 4^k of (3/8)^k")
  @ValueSource(ints = {0, 1, 2, 3, 4, 5})
  void everyGenerationHasFourTimesTheSpheres(int generations) {
    List<long[]> spheres = units(generations);
    assertEquals(spheres(generations), spheres.size());
    for (int k = 0; k <= generations; k++) {
      long radius = Math.round(Math.pow(3, k)) << (3 * (generations - k));
      assertEquals(1L << (2 * k), spheres.stream().filter(s -> s[3] == radius).count());
    }
  }

  @Test
  @DisplayName("no two of 341 spheres overlap, and each but the first touches one: its hub")
  void onlyHubAndBallTouch() {
    List<long[]> spheres = units(4);
    int touching = 0;
    for (int i = 0; i < spheres.size(); i++) {
      int hubs = 0;
      for (int j = 0; j < i; j++) {
        double together = (double) spheres.get(i)[3] + spheres.get(j)[3];
        double apart = squared(spheres.get(i), spheres.get(j));
        assertTrue(apart >= together * together, i + " and " + j);
        if (apart == together * together) {
          assertEquals(3 * spheres.get(j)[3], 8 * spheres.get(i)[3], i + " is borne by " + j);
          hubs++;
        }
      }
      assertEquals(i == 0 ? 0 : 1, hubs, "hubs of " + i);
      touching += hubs;
    }
    assertEquals(spheres(4) - 1, touching);
  }

  @Test
  void nothingIsFartherOutThanTheGeometricSeries() {
    for (long[] sphere : units(5)) {
      double outermost = Math.sqrt(squared(sphere, new long[3])) + sphere[3];
      assertTrue(outermost < REACH * (1 << 15), outermost / (1 << 15) + " from the middle");
    }
  }

  @Test
  void impossibleSizesAreRefused() {
    assertThrows(IllegalArgumentException.class, () -> Carousel.of(-1));
    assertEquals(
        "Carousel of 6 generations: 0 to 5 are allowed.",
        assertThrows(IllegalArgumentException.class, () -> Carousel.of(6)).getMessage());
  }

  /**
   * With a box around each carousel but the whole, a line that meets the ball of radius R around
   * all meets the box of one of generation k, which has at most the surface 24 (R q^k)^2, with a
   * probability of at most 24 / (4 pi) q^2k (Cauchy). There are 4^k of them, so a line enters at
   * most 1 + 6/pi (9/16 + (9/16)^2 + ...) = 1 + 6/pi * 9/7 of all carousels in the mean, however
   * many there are. In each it meets three operations of the hub and four boxes, and one ends the
   * program.
   */
  @Test
  @DisplayName("C10, C15: with culling a line costs no more than Cauchy allows, however deep")
  void culledWorkStaysBelowTheBoundOfSurfaces() {
    double most = 7 * (1 + 6 / Math.PI * 9 / 7) + 1;
    for (int generations = 2; generations <= 5; generations++) {
      Rays rays = lines(400);
      Scene carousel = Carousel.of(generations);
      CullingTable.Costs flat = CullingTable.costs(carousel, rays);
      CullingTable.Costs few =
          CullingTable.costs(Culling.of(CullingTable.FORMATS, 8).culled(carousel), rays);
      assertEquals(flat.hits(), few.hits());
      assertEquals(spheres(generations), flat.solids());
      assertTrue(few.solids() <= flat.solids());
      assertEquals(3 * spheres(generations) + 1, flat.operations());
      assertTrue(few.operations() < most, few.operations() + " of at most " + most);
    }
  }

  private static Rays lines(int count) {
    IsotropicLines lines = new IsotropicLines(5, REACH);
    Rays rays = Rays.of(CullingTable.FORMATS, count);
    for (int i = 0; i < count; i++) {
      lines.next();
      long[] origin = new long[3];
      for (int axis = 0; axis < 3; axis++) {
        origin[axis] = CullingTable.code(lines.origin[axis]);
      }
      rays.nearest(i, 16, origin, CullingTable.unit(lines.direction));
    }
    return rays;
  }

  /**
   * As the executor's timing has it: the first dispatch in cycle 2, one more each cycle, retired
   * the latency of 54 later, each of 85 closes a cycle later than that; both ends counted.
   */
  @Test
  void withoutSkipsEveryOperationTakesOneCycle() {
    CullingTable.Costs flat = CullingTable.costs(Carousel.of(3), lines(100));
    assertEquals(flat.operations() - 1 + 2 + 54 + 85 + 1, flat.cycles());
  }

  @Test
  void threeGenerationsFitTheSampleChipWithTheirBoxes() {
    Scene culled = Culling.of(CullingTable.FORMATS, 8).culled(Carousel.of(3));
    int length = culled.program(CullingTable.FORMATS, new ProgramLimits(1024, 4, 256)).length();
    assertTrue(length > 3 * spheres(3) + 1, "three operations a sphere, the end, boxes: " + length);
  }
}
