package dev.plumbline.samples;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.lockstep.LockstepBench;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.scene.Culling;
import dev.plumbline.models.scene.Scene;
import dev.plumbline.models.traversal.Rays;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/**
 * A demo scene of the orrery: its text in the folder {@code scenes}, and from where it is looked at
 * and lit. Lengths are in words, which in all of them stand for 100 mm.
 *
 * @param name of the file
 * @param view the camera
 * @param lamp its middle
 * @param lampRadius what is nearer to its middle throws no shadow
 */
public record SampleScene(String name, View view, Point lamp, double lampRadius) {
  /** The folder of the texts. */
  static final Path FOLDER = SampleRtl.FOLDER.resolveSibling("scenes");

  /** No ray that hits anything begins further away from it than this. */
  private static final double REACH = 256;

  private static final SampleExecutor EXECUTOR = SampleExecutor.STANDARD;

  /**
   * Those of the folder.
   *
   * @return in no order that matters
   */
  public static List<SampleScene> all() {
    return List.of(
        new SampleScene("planets", view(-10, -19, 9, 0, 0, -0.5, 0.55), new Point(0, 0, 0), 1.2),
        new SampleScene("frame", view(-9, -17, 12, 0, 0, 3, 0.5), new Point(60, -90, 140), 1),
        new SampleScene(
            "rings", view(3, -17, 11, -0.5, 1, -1.5, 0.68), new Point(-60, -80, 120), 1));
  }

  private static View view(
      double x, double y, double z, double toX, double toY, double toZ, double wide) {
    return new View(new Point(x, y, z), new Point(toX, toY, toZ), wide);
  }

  static SceneFormats formats() {
    return EXECUTOR.formats();
  }

  static ProgramLimits limits() {
    return EXECUTOR.limits();
  }

  Path file() {
    return FOLDER.resolve(name + ".scene");
  }

  /** As it stands in its file. */
  Scene scene() {
    try {
      return Scene.parse(Files.readString(file()));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** With neighbours together and culling boxes where they save operations. */
  Scene culled() {
    Culling culling = Culling.of(formats(), REACH);
    return culling.culled(culling.sorted(scene()));
  }

  /**
   * The culled scene as the executor takes it.
   *
   * @return a program within its limits
   */
  public Program program() {
    return culled().program(formats(), limits());
  }

  /**
   * The rays of a picture and of its shadows.
   *
   * @param program the scene
   * @param pixels of the picture, or a few less
   * @return primary rays, then shadow rays
   */
  public Rays rays(Program program, long pixels) {
    return new PictureRays(program, EXECUTOR.spans(), view).with(lamp, lampRadius, pixels);
  }

  LockstepBench.Builder bench(CompiledDesign model, long pixels) {
    return bench(model, rays(program(), pixels));
  }

  /**
   * The bench over given rays.
   *
   * @param model the executor
   * @param rays the rays
   * @return a bench that offers each once
   */
  public LockstepBench.Builder bench(CompiledDesign model, Rays rays) {
    return EXECUTOR.bench(model).named(toString()).given(program(), rays);
  }

  /** The executor that takes it. */
  static CompiledDesign model() {
    return CompiledDesign.of(EXECUTOR.rtl());
  }

  @Override
  public String toString() {
    return EXECUTOR.name() + " scene " + name;
  }
}
