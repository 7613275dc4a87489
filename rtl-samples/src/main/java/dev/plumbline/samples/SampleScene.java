package dev.plumbline.samples;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.lockstep.LockstepBench;
import dev.plumbline.models.light.Camera;
import dev.plumbline.models.light.Lighting;
import dev.plumbline.models.light.Material;
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
 * @param daylight towards the one distant lamp of whole pictures
 * @param materials of whole pictures, by the numbers in the text
 */
public record SampleScene(
    String name,
    View view,
    Point lamp,
    double lampRadius,
    Point daylight,
    List<Material> materials) {
  /** The folder of the texts. */
  static final Path FOLDER = SampleRtl.FOLDER.resolveSibling("scenes");

  /** No ray that hits anything begins further away from it than this. */
  private static final double REACH = 256;

  /** Light without the lamp, in 256ths, and what is behind everything. */
  private static final int AMBIENT = 56;

  private static final int DUSK = 0x101830;

  private static final SampleExecutor EXECUTOR = SampleExecutor.STANDARD;

  /**
   * Those of the folder.
   *
   * @return in no order that matters
   */
  public static List<SampleScene> all() {
    Material none = new Material(0xFFFFFF, 0); // of number 0, which no text has
    return List.of(
        new SampleScene(
            "planets",
            view(-10, -19, 9, 0, 0, -0.5, 0.55),
            new Point(0, 0, 0),
            1.2,
            new Point(-5, -4, 9),
            List.of(
                none,
                new Material(0xFFE9B0, 0), // lamp
                new Material(0x6B4428, 64), // oak
                new Material(0xB5573A, 0), // clay
                new Material(0x66758C, 40), // slate
                new Material(0xD09A3B, 0), // ochre
                new Material(0xF0E6CC, 0), // ivory
                new Material(0x3FA58A, 48))), // verdigris
        new SampleScene(
            "frame",
            view(-9, -17, 12, 0, 0, 3, 0.5),
            new Point(60, -90, 140),
            1,
            new Point(6, -9, 14),
            List.of(
                none,
                new Material(0x8A8880, 24), // stone
                new Material(0xD8A848, 80), // brass
                new Material(0xA9B4C2, 128), // steel
                new Material(0x7A4E2A, 16))), // oak
        new SampleScene(
            "rings",
            view(3, -17, 11, -0.5, 1, -1.5, 0.68),
            new Point(-60, -80, 120),
            1,
            new Point(-6, -8, 12),
            List.of(
                none,
                new Material(0x4A5568, 72), // slate
                new Material(0x9FD8D0, 120), // glass
                new Material(0xD8A848, 64), // brass
                new Material(0xF0E6CC, 0), // ivory
                new Material(0xB5573A, 0)))); // clay
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
   * What a whole picture is taken with: the same view, the distant lamp, the materials.
   *
   * @param width pixels in a row
   * @param height rows
   * @return in the executor's formats
   */
  public Lighting lighting(int width, int height) {
    double across = 2 * view.wide();
    Camera camera =
        Camera.looking(
            formats().word(),
            coordinates(view.eye()),
            coordinates(view.target()),
            across * height / width,
            width,
            height);
    return Lighting.of(formats(), camera, coordinates(daylight))
        .withMaterials(materials)
        .withAmbient(AMBIENT)
        .withBackground(DUSK);
  }

  private static double[] coordinates(Point point) {
    return new double[] {point.x(), point.y(), point.z()};
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
