package dev.plumbline.models.program;

import dev.plumbline.models.fixed.Format;

/**
 * The number formats of a scene program and its rays.
 *
 * @param word of points, radii, levels and distances; signed, up to 64 bits
 * @param direction of directions and normals; signed, up to 64 bits
 * @param inverse of the reciprocals of a direction's components
 */
public record SceneFormats(Format word, Format direction, Format inverse) {
  /** Checks that codes fit a {@code long} and may be negative. */
  public SceneFormats {
    for (Format format : new Format[] {word, direction, inverse}) {
      if (!format.signed() || format.width() > Long.SIZE) {
        throw new IllegalArgumentException(
            "Scene with numbers in " + format + ": they have to be signed, of 64 bits at most.");
      }
    }
  }

  /**
   * Inverses in the word's format.
   *
   * @param word of points and distances
   * @param direction of directions and normals
   * @return formats
   */
  public static SceneFormats of(Format word, Format direction) {
    return new SceneFormats(word, direction, word);
  }

  /** The format of one operand of an operation. */
  public Format operand(String name) {
    return OperationKind.isDirection(name) ? direction : word;
  }
}
