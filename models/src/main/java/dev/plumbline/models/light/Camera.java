package dev.plumbline.models.light;

import dev.plumbline.models.fixed.Format;
import java.util.Arrays;

/**
 * Where primary rays come from and go: an eye, and a plane of pixels before it, in codes of a word.
 *
 * <pre>{@code
 * Camera camera =
 *     Camera.looking(word, new double[] {0, -20, 8}, new double[3], 0.7, 320, 200);
 * }</pre>
 *
 * <p>The ray of pixel (x, y) goes along {@code corner + x right + y down}.
 */
public final class Camera {
  private final Format word;
  private final long[] eye;
  private final long[] corner;
  private final long[] right;
  private final long[] down;

  private Camera(Format word, long[] eye, long[] corner, long[] right, long[] down) {
    this.word = word;
    this.eye = checked("eye", eye);
    this.corner = checked("corner", corner);
    this.right = checked("right", right);
    this.down = checked("down", down);
  }

  private long[] checked(String name, long[] codes) {
    if (codes.length != 3) {
      throw new IllegalArgumentException(
          "Camera with \"" + Arrays.toString(codes) + "\" for " + name + ": it has three codes.");
    }
    for (long code : codes) {
      word.toReal(code);
    }
    return codes.clone();
  }

  /**
   * A camera by its codes.
   *
   * @param word their format
   * @param eye where rays begin
   * @param corner from the eye to the centre of pixel (0, 0)
   * @param right from a pixel to the next to the right
   * @param down from a pixel to the next below
   * @return a camera
   * @throws IllegalArgumentException when there are not three of each, or one is no code
   */
  public static Camera of(Format word, long[] eye, long[] corner, long[] right, long[] down) {
    return new Camera(word, eye, corner, right, down);
  }

  /**
   * A camera that looks at a point, upright: z points up in its picture. Its plane lies at distance
   * 1 before the eye; pixels are square.
   *
   * @param word format of its codes
   * @param eye where it stands
   * @param at what is in the middle of the picture; not above or below the eye
   * @param height of the picture on its plane, twice the tangent of half the angle of view
   * @param columns pixels in a row
   * @param rows of pixels
   * @return a camera of the nearest codes
   * @throws IllegalArgumentException when it would look straight up or down
   */
  public static Camera looking(
      Format word, double[] eye, double[] at, double height, int columns, int rows) {
    double[] ahead = {at[0] - eye[0], at[1] - eye[1], at[2] - eye[2]};
    double length = Math.sqrt(ahead[0] * ahead[0] + ahead[1] * ahead[1] + ahead[2] * ahead[2]);
    double level = Math.hypot(ahead[0], ahead[1]);
    if (!(level > 1e-6 * length)) {
      throw new IllegalArgumentException(
          "Camera at \""
              + Arrays.toString(eye)
              + "\" that looks at "
              + Arrays.toString(at)
              + ": it has to look to some side; move one of the two, or give codes.");
    }
    double pixel = height / rows;
    long[] corner = new long[3];
    long[] right = new long[3];
    long[] down = new long[3];
    double[] across = {ahead[1] / level, -ahead[0] / level, 0};
    double[] up = {
      -ahead[0] * ahead[2] / (level * length),
      -ahead[1] * ahead[2] / (level * length),
      level / length
    };
    for (int i = 0; i < 3; i++) {
      right[i] = Codes.code(word, across[i] * pixel);
      down[i] = Codes.code(word, -up[i] * pixel);
      // From the steps' own codes, so that the middle stays in the middle.
      double middle = ahead[i] / length;
      double aside = word.toReal(right[i]) * (columns - 1) / 2;
      double above = word.toReal(down[i]) * (rows - 1) / 2;
      corner[i] = Codes.code(word, middle - aside - above);
    }
    long[] place = Arrays.stream(eye).mapToLong(real -> Codes.code(word, real)).toArray();
    return new Camera(word, place, corner, right, down);
  }

  /**
   * The format of the codes.
   *
   * @return as given
   */
  public Format word() {
    return word;
  }

  /**
   * Where rays begin.
   *
   * @param axis 0 to 2
   * @return a code
   */
  public long eye(int axis) {
    return eye[axis];
  }

  /**
   * From the eye to the centre of pixel (0, 0).
   *
   * @param axis 0 to 2
   * @return a code
   */
  public long corner(int axis) {
    return corner[axis];
  }

  /**
   * From a pixel to the next to the right.
   *
   * @param axis 0 to 2
   * @return a code
   */
  public long right(int axis) {
    return right[axis];
  }

  /**
   * From a pixel to the next below.
   *
   * @param axis 0 to 2
   * @return a code
   */
  public long down(int axis) {
    return down[axis];
  }
}
