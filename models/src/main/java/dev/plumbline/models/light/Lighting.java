package dev.plumbline.models.light;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.SceneFormats;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;

/**
 * What a picture is taken with: camera, one distant lamp, materials and the like.
 *
 * <pre>{@code
 * Lighting lighting =
 *     Lighting.of(formats, camera, new double[] {-1, -2, 3})
 *         .withMaterials(List.of(new Material(0xC08040, 0)))
 *         .withAmbient(48);
 * }</pre>
 *
 * <p>Instances are immutable.
 */
public final class Lighting {
  private static final int FULL = 256;
  private static final Material WHITE = new Material(0xFFFFFF, 0);

  private final SceneFormats formats;
  private final Camera camera;
  private final long[] lamp;
  private final long epsilon;
  private final int ambient;
  private final int background;
  private final List<Material> materials;
  private final boolean stepped;

  private Lighting(
      SceneFormats formats,
      Camera camera,
      long[] lamp,
      long epsilon,
      int ambient,
      int background,
      List<Material> materials,
      boolean stepped) {
    this.formats = Objects.requireNonNull(formats, "formats");
    this.camera = Objects.requireNonNull(camera, "camera");
    this.lamp = lamp;
    this.epsilon = epsilon;
    this.ambient = ambient;
    this.background = background;
    this.materials = List.copyOf(materials);
    this.stepped = stepped;
    if (!camera.word().equals(formats.word())) {
      throw new IllegalArgumentException(
          "Lighting in words of \""
              + formats.word()
              + "\" with a camera in "
              + camera.word()
              + ": both have to be the same.");
    }
    formats.word().toReal(epsilon);
    Material.requireColour("Background", background);
    if (ambient < 0 || ambient > FULL) {
      throw new IllegalArgumentException(
          "Ambient light of \"" + ambient + "\": it has to be 0 to 256, in 256ths.");
    }
  }

  /**
   * A camera and a lamp: everything is white, the background black, ambient light an eighth;
   * secondary rays begin 2<sup>-6</sup> off the surface.
   *
   * @param formats of the scene's program
   * @param camera in the same word
   * @param lamp towards the lamp, of any length but 0; made a unit vector of the nearest codes
   * @return a lighting
   * @throws IllegalArgumentException when the words differ, or the lamp is nowhere
   */
  public static Lighting of(SceneFormats formats, Camera camera, double[] lamp) {
    double length = Math.sqrt(lamp[0] * lamp[0] + lamp[1] * lamp[1] + lamp[2] * lamp[2]);
    if (!(length > 0) || Double.isInfinite(length)) {
      throw new IllegalArgumentException(
          "Lamp towards \""
              + Arrays.toString(lamp)
              + "\": it has to have a direction, in finite numbers, one of them not 0.");
    }
    Format direction = formats.direction();
    long[] codes = new long[3];
    for (int i = 0; i < codes.length; i++) {
      codes[i] = Codes.code(direction, lamp[i] / length);
    }
    long epsilon = Math.max(1, Codes.code(formats.word(), Math.scalb(1.0, -6)));
    return new Lighting(formats, camera, codes, epsilon, FULL / 8, 0, List.of(), false);
  }

  /**
   * The same with another lamp.
   *
   * @param codes three of the direction format, towards the lamp
   * @return a lighting
   * @throws IllegalArgumentException when one is no code
   */
  public Lighting withLamp(long... codes) {
    if (codes.length != 3) {
      throw new IllegalArgumentException(
          "Lamp by \"" + Arrays.toString(codes) + "\": it has three codes.");
    }
    for (long code : codes) {
      formats.direction().toReal(code);
    }
    return new Lighting(
        formats, camera, codes.clone(), epsilon, ambient, background, materials, stepped);
  }

  /**
   * The same with another offset of secondary rays.
   *
   * @param code of the word; along the normal, off the surface
   * @return a lighting
   * @throws IllegalArgumentException when it is no code of the word
   */
  public Lighting withEpsilon(long code) {
    return new Lighting(formats, camera, lamp, code, ambient, background, materials, stepped);
  }

  /**
   * The same with other ambient light.
   *
   * @param share in 256ths, 0 to 256
   * @return a lighting
   * @throws IllegalArgumentException for another share
   */
  public Lighting withAmbient(int share) {
    return new Lighting(formats, camera, lamp, epsilon, share, background, materials, stepped);
  }

  /**
   * The same before another background.
   *
   * @param colour of rays that meet nothing, 24 bits
   * @return a lighting
   * @throws IllegalArgumentException when the colour has more bits
   */
  public Lighting withBackground(int colour) {
    return new Lighting(formats, camera, lamp, epsilon, ambient, colour, materials, stepped);
  }

  /**
   * The same with other materials.
   *
   * @param table in the order of their numbers, from 0; those beyond are white without a mirror
   * @return a lighting
   */
  public Lighting withMaterials(List<Material> table) {
    return new Lighting(formats, camera, lamp, epsilon, ambient, background, table, stepped);
  }

  /**
   * The same with another camera.
   *
   * @param other in the same word
   * @return a lighting
   */
  public Lighting withCamera(Camera other) {
    return new Lighting(formats, other, lamp, epsilon, ambient, background, materials, stepped);
  }

  /**
   * The same without normalising: directions are the steps of the plane themselves, rounded, and as
   * long as they come out.
   *
   * @return a lighting
   */
  public Lighting withStepped() {
    return new Lighting(formats, camera, lamp, epsilon, ambient, background, materials, true);
  }

  /**
   * The formats of the scene's program.
   *
   * @return as given
   */
  public SceneFormats formats() {
    return formats;
  }

  /**
   * The camera.
   *
   * @return as given
   */
  public Camera camera() {
    return camera;
  }

  /**
   * Towards the lamp.
   *
   * @param axis 0 to 2
   * @return a code of the direction format
   */
  public long lamp(int axis) {
    return lamp[axis];
  }

  /**
   * How far off the surface secondary rays begin.
   *
   * @return a code of the word
   */
  public long epsilon() {
    return epsilon;
  }

  /**
   * Light without the lamp.
   *
   * @return 0 to 256, in 256ths
   */
  public int ambient() {
    return ambient;
  }

  /**
   * The colour of rays that meet nothing.
   *
   * @return 24 bits
   */
  public int background() {
    return background;
  }

  /**
   * A material by number.
   *
   * @param number 0 or more
   * @return white without a mirror where the table has none
   */
  public Material material(int number) {
    return number < materials.size() ? materials.get(number) : WHITE;
  }

  /**
   * Whether directions are not normalised.
   *
   * @return true after {@link #withStepped}
   */
  public boolean isStepped() {
    return stepped;
  }
}
