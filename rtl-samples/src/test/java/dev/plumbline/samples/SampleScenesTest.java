package dev.plumbline.samples;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.program.Program;
import dev.plumbline.models.scene.Scene;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.models.traversal.SceneUnits;
import dev.plumbline.models.traversal.Traversal;
import dev.plumbline.report.RunReport;
import dev.plumbline.stimulus.SeedText;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The demo scenes through model and RTL; the regression does the same with larger pictures. */
@Tag("thorough")
class SampleScenesTest {
  private static final long PIXELS = 192;

  static List<SampleScene> scenes() {
    return SampleScene.all();
  }

  @ParameterizedTest
  @MethodSource("scenes")
  void isRunOperationByOperationAndCycleByCycle(SampleScene scene) {
    scene
        .bench(SampleScene.model(), PIXELS)
        .seed(SeedText.ofRun())
        .recorder(RunReport.current())
        .check();
  }

  /** What the rays of a picture came to. */
  private record Picture(List<String> found, int hits, int operations, boolean overflowed) {}

  private static Picture picture(Program program, Rays rays) {
    List<String> found = new ArrayList<>();
    int[] counts = new int[2];
    boolean[] overflowed = new boolean[1];
    Traversal.exact(SceneUnits.of(program.formats()), SampleExecutor.STANDARD.spans())
        .run(
            program,
            rays,
            0,
            rays.capacity(),
            null,
            observed -> {
              counts[1]++;
              overflowed[0] |= observed.hasOverflowed();
              if (observed.isLast()) {
                counts[0] += observed.isFound() ? 1 : 0;
                // Of surfaces before the lamp an any-hit ray takes the first that it comes upon.
                boolean any = rays.column("any_hit")[observed.ray()] == 1;
                found.add(
                    !observed.isFound()
                        ? "none"
                        : any ? "some" : observed.distance() + " of " + observed.material());
              }
            });
    return new Picture(found, counts[0], counts[1], overflowed[0]);
  }

  @ParameterizedTest(name = "C15 {0}: the same picture with culling and without, in less work")
  @MethodSource("scenes")
  void cullingChangesNothingButTheWork(SampleScene scene) {
    Program culled = scene.program();
    Rays rays = scene.rays(culled, 4 * PIXELS);
    Picture with = picture(culled, rays);
    Picture without =
        picture(scene.scene().program(SampleScene.formats(), SampleScene.limits()), rays);

    List<String> nearest = without.found().subList(0, (int) (4 * PIXELS));
    assertEquals(nearest, with.found().subList(0, nearest.size()));
    assertTrue(with.operations() < without.operations(), with + " " + without);
    assertFalse(with.overflowed(), "every list has room for its spans");
    assertTrue(with.hits() > rays.capacity() / 4, "most rays see something: " + with.hits());
  }

  @Test
  @DisplayName("every text of the folder is one of the demo scenes, and reads back")
  void everyTextIsRun() throws IOException {
    try (Stream<Path> files = Files.list(SampleScene.FOLDER)) {
      assertEquals(
          SampleScene.all().stream().map(SampleScene::file).sorted().toList(),
          files.sorted().toList());
    }
    for (SampleScene scene : SampleScene.all()) {
      assertEquals(scene.scene(), Scene.parse(scene.scene().toString()));
    }
  }
}
