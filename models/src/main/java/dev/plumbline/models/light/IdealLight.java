package dev.plumbline.models.light;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.picture.Picture;
import dev.plumbline.models.program.Program;

/**
 * Pixels in reals: the mathematics that {@link ExactLight} approximates, on the exact solids, with
 * no rounding until the colour.
 *
 * <pre>{@code
 * Picture ideal = IdealLight.of(program, lighting).frame(320, 200).picture();
 * double psnr = ideal.difference(exact.picture()).psnr();
 * }</pre>
 *
 * <p>Settings count with the values of their codes; rays of a stepped camera are as long as they
 * come out. Offsets of secondary rays and shares of mirrors are as declared. It belongs to one
 * thread.
 */
public final class IdealLight {
  private static final int AXES = SurfaceTable.AXES;
  private static final double FULL = 256;

  private final Lighting lighting;
  private final Program program;
  private final IdealScene scene;
  private final double[] lamp = new double[AXES];
  private final double epsilon;
  private final double[] eye = new double[AXES];
  private final double[] direction = new double[AXES];
  private final double[] scratch = new double[AXES];
  private final Hit first = new Hit();
  private final Hit second = new Hit();
  private long shadowRays;
  private long mirrorRays;
  private long mirrorShadowRays;

  /** A surface that a ray met. */
  static final class Hit {
    final double[] point = new double[AXES];
    final double[] normal = new double[AXES];
    final double[] start = new double[AXES];
    final double[] reflected = new double[AXES];
    final double[] colour = new double[3];
    Material material;
    double cosine;
    boolean lit;
  }

  private IdealLight(Program program, Lighting lighting) {
    this.program = program;
    this.lighting = lighting;
    this.scene = new IdealScene(program);
    Format word = lighting.formats().word();
    for (int k = 0; k < AXES; k++) {
      lamp[k] = lighting.formats().direction().toReal(lighting.lamp(k));
      eye[k] = word.toReal(lighting.camera().eye(k));
    }
    this.epsilon = word.toReal(lighting.epsilon());
  }

  /**
   * Light on a scene.
   *
   * @param program of the scene; the values of its codes count
   * @param lighting whose codes' values count
   * @return a model of pixels
   */
  public static IdealLight of(Program program, Lighting lighting) {
    return new IdealLight(program, lighting);
  }

  /**
   * A whole picture.
   *
   * @param width pixels in a row, 1 to 4096
   * @param height rows, 1 to 4096
   * @return the frame, each channel to the nearest integer
   * @throws IllegalArgumentException for other sizes
   */
  public Frame frame(int width, int height) {
    Sizes.require(width, height);
    Picture picture = Picture.of(width, height);
    double[] colour = new double[3];
    RayCounts sum = RayCounts.NONE;
    for (int y = 0; y < height; y++) {
      for (int x = 0; x < width; x++) {
        sum = sum.plus(pixel(x, y, colour));
        picture.set(x, y, whole(colour));
      }
    }
    return new Frame(picture, sum);
  }

  /**
   * One pixel.
   *
   * @param x 0 to 4095
   * @param y 0 to 4095
   * @param colour takes red, green and blue, 0 to 255
   * @return the rays that it took
   */
  public RayCounts pixel(int x, int y, double[] colour) {
    Camera camera = lighting.camera();
    Format word = lighting.formats().word();
    for (int k = 0; k < AXES; k++) {
      double aside = x * word.toReal(camera.right(k));
      double below = y * word.toReal(camera.down(k));
      direction[k] = word.toReal(camera.corner(k)) + aside + below;
    }
    double length = Math.sqrt(IdealScene.dot(direction, direction));
    for (int k = 0; k < AXES && !lighting.isStepped(); k++) {
      direction[k] /= length;
    }
    return light(eye, direction, colour);
  }

  /** The colour of any ray. */
  RayCounts light(double[] origin, double[] towards, double[] colour) {
    shadowRays = 0;
    mirrorRays = 0;
    mirrorShadowRays = 0;
    if (!shade(origin, towards, first)) {
      background(colour);
      return new RayCounts(1, 0, 0, 0);
    }
    shadowRays += first.cosine > 0 ? 1 : 0;
    System.arraycopy(first.colour, 0, colour, 0, 3);
    if (first.material.tint() > 0) {
      mirrorRays++;
      boolean met = shade(first.start, first.reflected, second);
      if (!met) {
        background(second.colour);
      }
      mirrorShadowRays += met && second.cosine > 0 ? 1 : 0;
      double share = first.material.share() / FULL;
      for (int i = 0; i < 3; i++) {
        colour[i] += share * (second.colour[i] - colour[i]);
      }
    }
    return new RayCounts(1, shadowRays, mirrorRays, mirrorShadowRays);
  }

  /** What a ray meets, in its own light. */
  boolean shade(double[] origin, double[] towards, Hit hit) {
    if (!scene.trace(origin, towards)) {
      return false;
    }
    for (int k = 0; k < AXES; k++) {
      hit.point[k] = origin[k] + scene.distance * towards[k];
    }
    hit.material = lighting.material(program.at(scene.address).material());
    scene.normal(origin, towards, hit.point, hit.normal);
    double slope = IdealScene.dot(hit.normal, towards);
    double side = slope > 0 ? -1 : 1;
    for (int k = 0; k < AXES; k++) {
      hit.normal[k] *= side;
      hit.start[k] = hit.point[k] + epsilon * hit.normal[k];
      hit.reflected[k] = towards[k] - 2 * side * slope * hit.normal[k];
    }
    hit.cosine = Math.max(0, Math.min(1, IdealScene.dot(hit.normal, lamp)));
    System.arraycopy(hit.start, 0, scratch, 0, AXES);
    hit.lit = hit.cosine > 0 && !scene.trace(scratch, lamp);
    double ambient = lighting.ambient() / FULL;
    double level = ambient + (1 - ambient) * (hit.lit ? hit.cosine : 0);
    for (int i = 0; i < 3; i++) {
      hit.colour[i] = (hit.material.colour() >> (16 - 8 * i) & 0xFF) * level;
    }
    return true;
  }

  private void background(double[] colour) {
    for (int i = 0; i < 3; i++) {
      colour[i] = lighting.background() >> (16 - 8 * i) & 0xFF;
    }
  }

  private static int whole(double[] colour) {
    int code = 0;
    for (double channel : colour) {
      code = code << 8 | (int) Math.max(0, Math.min(255, Math.round(channel)));
    }
    return code;
  }
}
