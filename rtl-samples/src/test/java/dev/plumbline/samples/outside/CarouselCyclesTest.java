package dev.plumbline.samples.outside;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.traversal.Rays;
import dev.plumbline.report.RunReport;
import dev.plumbline.samples.CarouselProgram;
import dev.plumbline.samples.ObservedExecutor.Result;
import java.util.List;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** A deep scene of 85 spheres through the RTL, with culling and without. */
@Tag("thorough")
class CarouselCyclesTest {
  private static final Rays RAYS = CarouselProgram.rays(192);

  @ParameterizedTest(name = "carousel of 85, {0}: every operation, each in its cycle")
  @EnumSource
  void agreesWithTheModel(CarouselProgram way) {
    way.bench(RAYS).recorder(RunReport.current()).check();
  }

  @Test
  @DisplayName("C15 the RTL finds the same with culling and without, in less work")
  void cullingChangesNothingButTheWork() {
    List<Result> flat = CarouselProgram.FLAT.results(RAYS);
    List<Result> few = CarouselProgram.FEWEST_OPERATIONS.results(RAYS);
    List<Result> quick = CarouselProgram.FEWEST_CYCLES.results(RAYS);
    int spheres = CarouselProgram.FLAT.program().length();
    int boxes = CarouselProgram.FEWEST_OPERATIONS.program().length() - spheres;
    for (int ray = 0; ray < RAYS.capacity(); ray++) {
      assertEquals(found(flat.get(ray)), found(few.get(ray)), "ray " + ray);
      assertEquals(found(flat.get(ray)), found(quick.get(ray)), "ray " + ray);
      // Whatever a ray meets: each operation of the flat program at most, and each box.
      assertTrue(few.get(ray).operations() <= flat.get(ray).operations() + boxes, "ray " + ray);
    }
    long hits = flat.stream().filter(Result::hit).count();
    assertTrue(hits > 0 && hits < RAYS.capacity(), hits + " hits");
    long all = flat.stream().mapToLong(Result::operations).sum();
    long left = few.stream().mapToLong(Result::operations).sum();
    assertTrue(left < all, left + " of " + all + " operations");
    long slow = flat.stream().mapToLong(Result::cycles).sum();
    long fast = quick.stream().mapToLong(Result::cycles).sum();
    assertTrue(fast < slow, fast + " of " + slow + " cycles");
  }

  /**
   * By the timing in the header of {@code scene_executor.sv}, of a program without combinations: an
   * operation a cycle from cycle 2 on, the last retired D later, a close a cycle later, both ends
   * counted; behind a skip predicted wrongly the next dispatch is 12 cycles later in place of one,
   * or more where it is known at its retirement alone.
   */
  @ParameterizedTest(name = "{0}: cycles are operations, D + 2, and 11 a wrong prediction")
  @EnumSource
  void cyclesFollowFromOperationsAndPredictions(CarouselProgram way) {
    int latency = 32 + 22; // D = W + 22
    for (Result result : way.results(RAYS)) {
      long least = result.operations() + latency + 2 + 11 * result.wrong();
      assertTrue(result.cycles() >= least, result + " took at least " + least);
      if (way == CarouselProgram.FLAT) {
        long closes = result.operations() / 3; // objects of one sphere
        assertEquals(least + closes, result.cycles(), result + " and closes");
      }
    }
  }

  private static List<Object> found(Result result) {
    return List.of(result.hit(), result.distance(), result.material(), result.reversed());
  }
}
