package dev.plumbline.models.traversal;

import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;

/**
 * Numbers of surfaces, as a traversal's lists have them at their ends: which solid of the program,
 * and which of its faces.
 *
 * <p>A box's face is twice its axis, and one more at the upper plane: 0 is the lower x face, 5 the
 * upper z face. Spheres and half-spaces have face 0 alone.
 */
public final class SurfaceNumber {
  private static final int FACE_BITS = 3;
  private static final String[] FACES = {"-x", "+x", "-y", "+y", "-z", "+z"};

  private SurfaceNumber() {}

  /**
   * The number of a surface.
   *
   * @param address of the solid, 0 to 2<sup>27</sup> - 1
   * @param face 0 to 7
   * @return 0 or more
   */
  public static int of(int address, int face) {
    return address << FACE_BITS | face;
  }

  /**
   * Where its solid is in the program.
   *
   * @param surface its number
   * @return an address
   */
  public static int address(int surface) {
    return surface >> FACE_BITS;
  }

  /**
   * Which face of the solid it is.
   *
   * @param surface its number
   * @return 0 to 7
   */
  public static int face(int surface) {
    return surface & ((1 << FACE_BITS) - 1);
  }

  /**
   * The material of its solid.
   *
   * @param surface its number
   * @param program that has the solid
   * @return as the program gives it
   */
  public static int material(int surface, Program program) {
    return program.at(address(surface)).material();
  }

  /**
   * A face as text, for a solid that may be missing from the program.
   *
   * @param surface its number
   * @param program that has the solid
   * @return such as {@code -x} of a box; nothing for face 0 of anything else
   */
  public static String faceText(int surface, Program program) {
    int face = face(surface);
    int address = address(surface);
    boolean isBox = address < program.length() && program.at(address).kind() == OperationKind.BOX;
    if (!isBox && face == 0) {
      return "";
    }
    return isBox && face < FACES.length ? FACES[face] : "face " + face;
  }
}
