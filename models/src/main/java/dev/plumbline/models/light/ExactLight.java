package dev.plumbline.models.light;

import dev.plumbline.models.datapath.BitEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.picture.Picture;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.models.traversal.SceneUnits;
import java.util.Arrays;

/**
 * Pixels in the declared arithmetic, bit for bit: a primary ray, a shadow ray where the surface
 * faces the lamp, and where it mirrors one ray more with a shadow ray of its own.
 *
 * <pre>{@code
 * ExactLight light = ExactLight.of(program, lighting, 4);
 * Frame frame = light.frame(320, 200);
 * }</pre>
 *
 * <p>Directions are as {@link PrimaryRay} has them, surfaces as {@link SurfacePoint}, colours as
 * {@link ColourChannel}. A shadow ray is sent where the cosine is above 0, from the surface point
 * {@code epsilon} off along the normal, and a surface anywhere beyond puts the point in the shadow.
 * The mirrored ray begins there too; what it meets is shaded in the same way, and does not mirror.
 *
 * <p>It belongs to one thread; pixels are done a block at a time, and nothing is allocated for one.
 */
public final class ExactLight {
  private static final int AXES = SurfaceTable.AXES;
  private static final int BLOCK = 512;

  private final Lighting lighting;
  private final RayTracer tracer;
  private final BitEvaluation directions;
  private final long[] pixelX;
  private final long[] pixelY;
  private final long[][] direction = new long[AXES][];
  private final DirectionColumns inverses;
  private final Rays primary;
  private final Rays mirror;
  private final Surfaces seen = new Surfaces(BLOCK);
  private final Surfaces mirrored = new Surfaces(BLOCK);
  private final ShadePass shaded;
  private final ShadePass reflections;
  private final int[] mirroring = new int[BLOCK]; // entries of the shaded that mirror
  private final long[] scratch = new long[BLOCK];
  private final BitEvaluation mixes;
  private final long[] own;
  private final long[] other;
  private final long[] share;
  private final long[] mixed;
  private RayCounts counts = RayCounts.NONE;

  private ExactLight(Program program, Lighting lighting, RayTracer tracer) {
    this.lighting = lighting;
    this.tracer = tracer;
    SceneFormats formats = lighting.formats();
    if (!formats.equals(program.formats()) || !formats.inverse().equals(formats.word())) {
      throw new IllegalArgumentException(
          "Light in \""
              + formats
              + "\" on a scene in "
              + program.formats()
              + ": both have to be the same, with inverses in the word's format.");
    }
    SurfaceTable table = new SurfaceTable(program);
    Datapath ray = PrimaryRay.of(lighting);
    this.directions = ray.bits(BLOCK);
    this.pixelX = Codes.input(ray, directions, "pixel_x");
    this.pixelY = Codes.input(ray, directions, "pixel_y");
    this.inverses = new DirectionColumns(formats, BLOCK);
    this.primary = Rays.of(formats, BLOCK);
    this.mirror = Rays.of(formats, BLOCK);
    Camera camera = lighting.camera();
    for (int axis = 0; axis < AXES; axis++) {
      String suffix = "_" + "xyz".charAt(axis);
      Arrays.fill(Codes.input(ray, directions, "corner" + suffix), camera.corner(axis));
      Arrays.fill(Codes.input(ray, directions, "right" + suffix), camera.right(axis));
      Arrays.fill(Codes.input(ray, directions, "down" + suffix), camera.down(axis));
      Arrays.fill(primary.column("origin" + suffix), camera.eye(axis));
      direction[axis] = Codes.output(ray, directions, "direction" + suffix);
    }
    long limit = formats.word().maxCode().longValue();
    Arrays.fill(primary.column("limit"), limit);
    Arrays.fill(mirror.column("limit"), limit);
    this.shaded = new ShadePass(lighting, table, tracer, BLOCK);
    this.reflections = new ShadePass(lighting, table, tracer, BLOCK);
    Datapath mix = ColourChannel.mixed();
    this.mixes = mix.bits(BLOCK);
    this.own = Codes.input(mix, mixes, "own");
    this.other = Codes.input(mix, mixes, "mirrored");
    this.share = Codes.input(mix, mixes, "share");
    this.mixed = Codes.output(mix, mixes, "mixed");
  }

  /**
   * Light on a scene as its program is run.
   *
   * @param program of the scene
   * @param lighting in the same formats
   * @param spans most spans of a list
   * @return a model of pixels
   * @throws IllegalArgumentException when the formats differ
   */
  public static ExactLight of(Program program, Lighting lighting, int spans) {
    RayTracer tracer = RayTracer.of(program, SceneUnits.of(program.formats()), spans);
    return new ExactLight(program, lighting, tracer);
  }

  /**
   * Light on a scene that is traced in another way.
   *
   * @param program of the scene
   * @param lighting in the same formats
   * @param tracer what the scene does for a ray
   * @return a model of pixels
   * @throws IllegalArgumentException when the formats differ
   */
  public static ExactLight of(Program program, Lighting lighting, RayTracer tracer) {
    return new ExactLight(program, lighting, tracer);
  }

  /**
   * A whole picture.
   *
   * @param width pixels in a row, 1 to 4096
   * @param height rows, 1 to 4096
   * @return the frame
   * @throws IllegalArgumentException for other sizes
   */
  public Frame frame(int width, int height) {
    Sizes.require(width, height);
    Picture picture = Picture.of(width, height);
    int[] x = new int[BLOCK];
    int[] y = new int[BLOCK];
    int[] colours = new int[BLOCK];
    RayCounts sum = RayCounts.NONE;
    int pixels = width * height;
    for (int from = 0; from < pixels; from += BLOCK) {
      int count = Math.min(BLOCK, pixels - from);
      for (int i = 0; i < count; i++) {
        x[i] = (from + i) % width;
        y[i] = (from + i) / width;
      }
      sum = sum.plus(run(x, y, count, colours));
      for (int i = 0; i < count; i++) {
        picture.set(x[i], y[i], colours[i]);
      }
    }
    return new Frame(picture, sum);
  }

  /**
   * Some pixels.
   *
   * @param x of each, 0 to 4095
   * @param y of each, 0 to 4095
   * @param count how many
   * @param colours takes their colours, 24 bits each
   * @return the rays that they took
   */
  public RayCounts run(int[] x, int[] y, int count, int[] colours) {
    RayCounts sum = RayCounts.NONE;
    for (int from = 0; from < count; from += BLOCK) {
      int some = Math.min(BLOCK, count - from);
      for (int i = 0; i < some; i++) {
        pixelX[i] = x[from + i];
        pixelY[i] = y[from + i];
      }
      directions.run(some);
      for (int axis = 0; axis < AXES; axis++) {
        inverses.set(primary, axis, direction[axis], some);
      }
      light(primary, some, colours, from);
      sum = sum.plus(counts);
    }
    return sum;
  }

  /** Colours of rays that are given, of a block at most. */
  void light(Rays rays, int count, int[] colours, int from) {
    tracer.trace(rays, count, seen);
    shaded.run(rays, seen, count);
    Arrays.fill(colours, from, from + count, lighting.background());
    int mirrors = 0;
    for (int entry = 0; entry < shaded.count; entry++) {
      colours[from + shaded.ray[entry]] = shaded.colour[entry];
      if (shaded.material[entry].tint() > 0) {
        mirroring[mirrors++] = entry;
      }
    }
    int mirrorShadows = mirrors == 0 ? 0 : reflect(mirrors, colours, from);
    counts = new RayCounts(count, shaded.shadowRays, mirrors, mirrorShadows);
  }

  /** Mixes what is mirrored into the colours; gives how many shadow rays that took. */
  private int reflect(int mirrors, int[] colours, int from) {
    for (int axis = 0; axis < AXES; axis++) {
      long[] origin = mirror.column("origin_" + "xyz".charAt(axis));
      for (int k = 0; k < mirrors; k++) {
        origin[k] = shaded.start[axis][mirroring[k]];
        scratch[k] = shaded.reflected[axis][mirroring[k]];
      }
      inverses.set(mirror, axis, scratch, mirrors);
    }
    tracer.trace(mirror, mirrors, mirrored);
    reflections.run(mirror, mirrored, mirrors);
    Arrays.fill(scratch, 0, mirrors, lighting.background());
    for (int entry = 0; entry < reflections.count; entry++) {
      scratch[reflections.ray[entry]] = reflections.colour[entry];
    }
    for (int k = 0; k < mirrors; k++) {
      share[k] = shaded.material[mirroring[k]].share();
    }
    for (int shift = 16; shift >= 0; shift -= 8) {
      for (int k = 0; k < mirrors; k++) {
        own[k] = shaded.colour[mirroring[k]] >> shift & 0xFF;
        other[k] = scratch[k] >> shift & 0xFF;
      }
      mixes.run(mirrors);
      for (int k = 0; k < mirrors; k++) {
        int pixel = from + shaded.ray[mirroring[k]];
        colours[pixel] = (colours[pixel] & ~(0xFF << shift)) | ((int) mixed[k] << shift);
      }
    }
    return reflections.shadowRays;
  }

  /** The first rays' surfaces as they were shaded last. */
  ShadePass shaded() {
    return shaded;
  }

  /** The rays of the block that was lit last. */
  RayCounts counts() {
    return counts;
  }
}
