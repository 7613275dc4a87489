package dev.plumbline.samples.outside;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.traversal.Rays;
import dev.plumbline.report.Run;
import dev.plumbline.samples.FlakeProgram;
import dev.plumbline.samples.ShownExecutor.Result;
import java.util.List;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** A published scene of 91 spheres through the RTL, with culling and without. */
class SphereFlakeTest {
  private static final Rays RAYS = FlakeProgram.rays(192);

  @ParameterizedTest(name = "sphere-flake of 91, {0}: every operation, each in its cycle")
  @EnumSource
  void agreesWithTheModel(FlakeProgram flake) {
    flake.bench(RAYS).recorder(Run.current()).check();
  }

  @Test
  @DisplayName("C15 the RTL finds the same with culling and without, in less work")
  void cullingChangesNothingButTheWork() {
    List<Result> flat = FlakeProgram.FLAT.results(RAYS);
    List<Result> few = FlakeProgram.FEWEST_OPERATIONS.results(RAYS);
    List<Result> quick = FlakeProgram.FEWEST_CYCLES.results(RAYS);
    for (int ray = 0; ray < RAYS.capacity(); ray++) {
      assertEquals(found(flat.get(ray)), found(few.get(ray)), "ray " + ray);
      assertEquals(found(flat.get(ray)), found(quick.get(ray)), "ray " + ray);
    }
    long hits = flat.stream().filter(Result::hit).count();
    assertTrue(hits > RAYS.capacity() / 4 && hits < RAYS.capacity(), hits + " hits");
    long all = flat.stream().mapToLong(Result::operations).sum();
    long left = few.stream().mapToLong(Result::operations).sum();
    assertTrue(left < all / 8, left + " of " + all + " operations");
    long slow = flat.stream().mapToLong(Result::cycles).sum();
    long fast = quick.stream().mapToLong(Result::cycles).sum();
    assertTrue(fast < slow * 2 / 3, fast + " of " + slow + " cycles");
  }

  private static List<Object> found(Result result) {
    return List.of(result.hit(), result.distance(), result.material(), result.reversed());
  }
}
