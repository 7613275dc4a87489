package dev.plumbline.models.light;

import dev.plumbline.models.datapath.BoundsEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.light.BoundedScene.Answer;
import dev.plumbline.models.picture.Picture;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.SceneFormats;
import java.util.Arrays;
import java.util.BitSet;

/**
 * Pixels in bounds: the colours that hardware in the declared formats may come to, where every
 * rounding may fall either way.
 *
 * <pre>{@code
 * BoundedFrame bounds = BoundedLight.of(program, lighting).frame(320, 200);
 * BoundedFrame.Verdict verdict = bounds.judge(picture);
 * }</pre>
 *
 * <p>It takes the formulas of {@link PrimaryRay}, {@link SurfacePoint} and {@link ColourChannel}
 * and those that the sample chip declares for solids, in any order of evaluation that rounds each
 * quantity once; lists of spans hold all there are. Directions, points and normals are intervals,
 * and a surface counts only where it is the nearest for every ray and every rounding within them.
 * What several surfaces might be is open. It belongs to one thread.
 */
public final class BoundedLight {
  private static final int AXES = SurfaceTable.AXES;
  private static final int BLOCK = 256;
  private static final int PEAK = 0xFF;

  private final Lighting lighting;
  private final SurfaceTable table;
  private final BoundedScene scene;
  private final SceneFormats formats;
  private final BoundsEvaluation rays;
  private final long[][] directionLow = new long[AXES][];
  private final long[][] directionHigh = new long[AXES][];
  private final long[] pixelX;
  private final long[] pixelY;
  private final Datapath point;
  private final BoundsEvaluation points;
  private final long[] turnedLow; // whether the normal had to be turned to face the ray
  private final long[] turnedHigh;
  private final Datapath channel = ColourChannel.lit(true);
  private final BoundsEvaluation channels = channel.bounds(1);
  private final Datapath mix = ColourChannel.mixed(true);
  private final BoundsEvaluation mixes = mix.bounds(1);
  private final Interval[] origin = intervals();
  private final Interval[] direction = intervals();
  private final Interval[] shadowOrigin = intervals();
  private final Interval[] lamp = intervals();
  private boolean open;

  // How far the squared lengths of the ray's direction and of the surface's normal are from 1.
  private double lengthSlack;
  private double normalSlack;
  private final int[] low = new int[3];
  private final int[] high = new int[3];

  private BoundedLight(Program program, Lighting lighting) {
    this.lighting = lighting;
    this.formats = lighting.formats();
    if (!formats.equals(program.formats())) {
      throw new IllegalArgumentException(
          "Light in \""
              + formats
              + "\" on a scene in "
              + program.formats()
              + ": both have to be the same.");
    }
    this.table = new SurfaceTable(program);
    this.scene = new BoundedScene(program);
    Datapath ray = PrimaryRay.of(lighting);
    this.rays = ray.bounds(BLOCK);
    this.pixelX = Codes.input(ray, rays, "pixel_x");
    this.pixelY = Codes.input(ray, rays, "pixel_y");
    this.point = SurfacePoint.bounded(formats);
    this.points = point.bounds(1);
    this.turnedLow = points.stepLow("away", 0);
    this.turnedHigh = points.stepHigh("away", 0);
    Camera camera = lighting.camera();
    for (int axis = 0; axis < AXES; axis++) {
      String suffix = "_" + "xyz".charAt(axis);
      Arrays.fill(Codes.input(ray, rays, "corner" + suffix), camera.corner(axis));
      Arrays.fill(Codes.input(ray, rays, "right" + suffix), camera.right(axis));
      Arrays.fill(Codes.input(ray, rays, "down" + suffix), camera.down(axis));
      int output = Codes.index(ray.outputs(), "direction" + suffix);
      directionLow[axis] = rays.low(output, 0);
      directionHigh[axis] = rays.high(output, 0);
      set("lamp" + suffix, lighting.lamp(axis));
      double towards = formats.direction().toReal(lighting.lamp(axis));
      lamp[axis].set(towards, towards);
    }
    set("epsilon", lighting.epsilon());
    Codes.input(channel, channels, "ambient")[0] = lighting.ambient();
  }

  private static Interval[] intervals() {
    return new Interval[] {new Interval(), new Interval(), new Interval()};
  }

  /**
   * Light on a scene.
   *
   * @param program of the scene
   * @param lighting in the same formats
   * @return a model of pixels
   * @throws IllegalArgumentException when the formats differ
   */
  public static BoundedLight of(Program program, Lighting lighting) {
    return new BoundedLight(program, lighting);
  }

  /**
   * A whole picture.
   *
   * @param width pixels in a row, 1 to 4096
   * @param height rows, 1 to 4096
   * @return bounds of each pixel's colour
   * @throws IllegalArgumentException for other sizes
   */
  public BoundedFrame frame(int width, int height) {
    Sizes.require(width, height);
    Picture least = Picture.of(width, height);
    Picture greatest = Picture.of(width, height);
    BitSet undecided = new BitSet();
    int pixels = width * height;
    for (int from = 0; from < pixels; from += BLOCK) {
      int count = Math.min(BLOCK, pixels - from);
      for (int i = 0; i < count; i++) {
        pixelX[i] = ((long) from + i) % width;
        pixelY[i] = ((long) from + i) / width;
      }
      rays.run(count);
      for (int i = 0; i < count; i++) {
        pixel(i);
        least.set((int) pixelX[i], (int) pixelY[i], low[0] << 16 | low[1] << 8 | low[2]);
        greatest.set((int) pixelX[i], (int) pixelY[i], high[0] << 16 | high[1] << 8 | high[2]);
        undecided.set(from + i, open);
      }
    }
    return new BoundedFrame(least, greatest, undecided);
  }

  private void pixel(int i) {
    open = false;
    scene.solids().fromAnywhere();
    for (int axis = 0; axis < AXES; axis++) {
      long eye = lighting.camera().eye(axis);
      ray(axis, eye, eye, directionLow[axis][i], directionHigh[axis][i]);
    }
    lengthSlack = lengthSlack(direction);
    if (!shade()) {
      return;
    }
    Material material = lighting.material(table.material(scene.address));
    if (material.tint() == 0) {
      return;
    }
    lengthSlack += 4 * normalSlack + 16 * formats.direction().lsbs();
    int[] ownLow = low.clone();
    int[] ownHigh = high.clone();
    for (int axis = 0; axis < AXES; axis++) {
      String suffix = "_" + "xyz".charAt(axis);
      int start = Codes.index(point.outputs(), "start" + suffix);
      int reflected = Codes.index(point.outputs(), "reflected" + suffix);
      ray(
          axis,
          points.low(start, 0)[0],
          points.high(start, 0)[0],
          points.low(reflected, 0)[0],
          points.high(reflected, 0)[0]);
    }
    shade();
    Codes.input(mix, mixes, "share")[0] = material.share();
    for (int k = 0; k < low.length; k++) {
      Codes.input(mix, mixes, "own_low")[0] = ownLow[k];
      Codes.input(mix, mixes, "own_high")[0] = ownHigh[k];
      Codes.input(mix, mixes, "mirrored_low")[0] = low[k];
      Codes.input(mix, mixes, "mirrored_high")[0] = high[k];
      mixes.run(1);
      low[k] = (int) mixes.low(0, 0)[0];
      high[k] = (int) mixes.high(0, 0)[0];
    }
  }

  /** Sets a ray, as codes for the surface point and as reals for the scene. */
  private void ray(int axis, long originLow, long originHigh, long least, long most) {
    String suffix = "_" + "xyz".charAt(axis);
    set("origin" + suffix + "_low", originLow);
    set("origin" + suffix + "_high", originHigh);
    set("direction" + suffix + "_low", least);
    set("direction" + suffix + "_high", most);
    Format word = formats.word();
    Format unit = formats.direction();
    origin[axis].set(word.toReal(originLow), word.toReal(originHigh));
    direction[axis].set(unit.toReal(least), unit.toReal(most));
  }

  private void set(String name, long code) {
    Codes.input(point, points, name)[0] = code;
  }

  /** The bounds of what the ray sees; whether that is one surface for sure. */
  private boolean shade() {
    scene.solids().lengthSlack = lengthSlack;
    Answer met = scene.trace(origin, direction);
    if (met != Answer.YES) {
      open |= met == Answer.OPEN;
      for (int k = 0; k < low.length; k++) {
        int background = lighting.background() >> (16 - 8 * k) & PEAK;
        low[k] = met == Answer.OPEN ? 0 : background;
        high[k] = met == Answer.OPEN ? PEAK : background;
      }
      return false;
    }
    int address = scene.address;
    int face = scene.face;
    boolean inside = scene.leaving;
    double slack = scene.solids().slack(address, scene.high, lengthSlack);
    double lsb = formats.word().lsbs();
    double longest = formats.word().toReal(formats.word().maxCode());
    set("distance_low", (long) Math.floor(Math.max(0, scene.low) / lsb));
    set("distance_high", (long) Math.ceil(Math.min(longest, scene.high) / lsb));
    set("sphere", table.sphere(address));
    set("box", table.box(address));
    set("face", scene.face);
    set("inverse_radius", table.inverseRadius(address));
    for (int axis = 0; axis < AXES; axis++) {
      String suffix = "_" + "xyz".charAt(axis);
      set("centre" + suffix, table.centre(address, axis));
      set("plane" + suffix, table.plane(address, axis));
    }
    points.run(1);
    double epsilon = formats.word().toReal(lighting.epsilon());
    scene.solids().fromAnywhere();
    if (turnedLow[0] == turnedHigh[0]) { // else it may begin on either side
      scene.solids().fromSurface(address, inside, face, epsilon, slack);
    }
    normalSlack = scene.solids().normalSlack(address, slack);
    Material material = lighting.material(table.material(address));
    int cosine = Codes.index(point.outputs(), "cosine");
    long darkest = points.low(cosine, 0)[0];
    long brightest = points.high(cosine, 0)[0];
    Answer blocked = brightest > 0 ? shadow() : Answer.NO;
    open |= blocked == Answer.OPEN;
    Codes.input(channel, channels, "cosine_low")[0] = blocked == Answer.NO ? darkest : 0;
    Codes.input(channel, channels, "cosine_high")[0] = blocked == Answer.YES ? 0 : brightest;
    for (int k = 0; k < low.length; k++) {
      Codes.input(channel, channels, "base")[0] = material.colour() >> (16 - 8 * k) & PEAK;
      channels.run(1);
      low[k] = (int) channels.low(0, 0)[0];
      high[k] = (int) channels.high(0, 0)[0];
    }
    scene.address = address;
    return true;
  }

  private static double lengthSlack(Interval... direction) {
    double low = 0;
    double high = 0;
    for (Interval component : direction) {
      low += component.least() * component.least();
      high += component.most() * component.most();
    }
    return Math.max(Math.abs(1 - low), Math.abs(high - 1));
  }

  private Answer shadow() {
    Format word = formats.word();
    for (int axis = 0; axis < AXES; axis++) {
      int start = Codes.index(point.outputs(), "start_" + "xyz".charAt(axis));
      shadowOrigin[axis].set(
          word.toReal(points.low(start, 0)[0]), word.toReal(points.high(start, 0)[0]));
    }
    scene.solids().lengthSlack = lengthSlack(lamp);
    return scene.isBlocked(shadowOrigin, lamp);
  }
}
