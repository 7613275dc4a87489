package dev.plumbline.samples.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.models.light.Camera;
import dev.plumbline.models.light.ExactLight;
import dev.plumbline.models.light.Lighting;
import dev.plumbline.models.light.Material;
import dev.plumbline.models.light.RayCounts;
import dev.plumbline.models.light.RayTracer;
import dev.plumbline.models.light.Surfaces;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.samples.chip.SequencerDriver.Pixel;
import dev.plumbline.samples.chip.SequencerDriver.Ray;
import dev.plumbline.samples.chip.SequencerDriver.Settings;
import dev.plumbline.stimulus.RandomStream;
import java.util.ArrayList;
import java.util.List;

/**
 * The ray sequencer held to the model of light, bit for bit and ray by ray: settings, solids and
 * materials by chance. What a ray meets is found by the same stand-in for both, so that nothing of
 * the executor's matters.
 */
final class SequencerBits {
  private final Formats formats;
  private final boolean normalised;
  private final RandomStream chance;
  private final RandomPictures drawn;

  SequencerBits(Formats formats, boolean normalised, long seed) {
    this.formats = formats;
    this.normalised = normalised;
    this.chance = RandomStream.of(seed);
    this.drawn = new RandomPictures(formats, normalised, 8, chance);
  }

  /** Scenes of a few pixels each. */
  void compare(CompiledDesign model, int scenes, int pixels) {
    int[] rays = new int[8];
    try (SequencerDriver driver = new SequencerDriver(model, formats, chance.next())) {
      for (int i = 0; i < scenes; i++) {
        StandInScene scene = drawn.scene();
        List<Material> materials = drawn.materials();
        driver.scene(scene, materials.stream().mapToInt(m -> (int) m.word()).toArray());
        Settings settings = drawn.settings(32, 32);
        driver.settings(settings);
        Recorded recorded = new Recorded(scene);
        ExactLight light = light(scene.program(), settings, materials, recorded);
        for (int k = 0; k < pixels; k++) {
          int x = chance.below(64);
          int y = chance.below(64);
          Pixel pixel = driver.pixel(x, y);
          int[] colour = new int[1];
          recorded.rays.clear();
          RayCounts counts = light.run(new int[] {x}, new int[] {y}, 1, colour);
          String where = "pixel " + x + ", " + y + " of scene " + i + " in " + formats;
          assertEquals(recorded.rays.size(), pixel.rays().size(), () -> "rays of " + where);
          for (int ray = 0; ray < pixel.rays().size(); ray++) {
            same(recorded.rays.get(ray), pixel.rays().get(ray), "ray " + ray + " of " + where);
          }
          assertEquals(Integer.toHexString(colour[0]), Integer.toHexString(pixel.colour()), where);
          int kinds = (int) (counts.shadow() | counts.mirror() << 1 | counts.mirrorShadow() << 2);
          assertEquals(kinds, pixel.kinds(), () -> "kinds of rays of " + where);
          rays[kinds]++;
        }
      }
    }
    int all = scenes * pixels;
    assertTrue(rays[0] < 0.9 * all && rays[1] + rays[3] + rays[7] > 0.05 * all, "too little met");
  }

  private static void same(Ray wanted, Ray given, String what) {
    assertEquals(wanted.anyHit(), given.anyHit(), () -> what + ", any hit");
    for (int k = 0; k < 3; k++) {
      String axis = what + ", axis " + k;
      assertEquals(wanted.origin()[k], given.origin()[k], () -> axis + ", origin");
      assertEquals(wanted.direction()[k], given.direction()[k], () -> axis + ", direction");
      boolean parallel = (wanted.parallel() >> k & 1) == 1;
      assertEquals(parallel, (given.parallel() >> k & 1) == 1, () -> axis + ", parallel");
      if (!parallel) {
        assertEquals(wanted.inverse()[k], given.inverse()[k], () -> axis + ", inverse");
      }
    }
  }

  /** The model's executor: the stand-in, and what it was asked. */
  private final class Recorded implements RayTracer {
    final List<Ray> rays = new ArrayList<>();
    private final StandInScene scene;

    Recorded(StandInScene scene) {
      this.scene = scene;
    }

    @Override
    public void trace(Rays asked, int count, Surfaces into) {
      for (int i = 0; i < count; i++) {
        boolean anyHit = asked.column("any_hit")[i] == 1;
        long[] origin = vector(asked, "origin", i);
        long[] direction = vector(asked, "direction", i);
        long[] flags = vector(asked, "parallel", i);
        rays.add(
            new Ray(
                origin,
                direction,
                vector(asked, "inverse", i),
                (int) (flags[0] | flags[1] << 1 | flags[2] << 2),
                anyHit));
        StandInScene.Hit hit = scene.meet(origin, direction);
        into.hit[i] = hit != null;
        boolean tells = hit != null && !anyHit;
        into.distance[i] = tells ? formats.wordCode(hit.distance()) : 0;
        into.address[i] = tells ? StandInScene.addressInProgram(hit.address()) : 0;
        into.face[i] = tells ? hit.face() : 0;
      }
    }

    private static long[] vector(Rays rays, String name, int ray) {
      return new long[] {
        rays.column(name + "_x")[ray], rays.column(name + "_y")[ray], rays.column(name + "_z")[ray]
      };
    }
  }

  private ExactLight light(
      Program program, Settings settings, List<Material> materials, RayTracer tracer) {
    Camera camera =
        Camera.of(
            program.formats().word(),
            settings.eye(),
            settings.corner(),
            settings.stepX(),
            settings.stepY());
    Lighting lighting =
        Lighting.of(program.formats(), camera, new double[] {0, 0, 1})
            .withLamp(settings.lamp())
            .withEpsilon(settings.epsilon())
            .withAmbient(settings.ambient())
            .withBackground(settings.background())
            .withMaterials(materials);
    return ExactLight.of(program, normalised ? lighting : lighting.withStepped(), tracer);
  }
}
