package dev.plumbline.models.span;

import java.util.Locale;

/**
 * How two solids make one, point by point (S. Roth, "Ray Casting for Modeling Solids", Computer
 * Graphics and Image Processing 18, 1982).
 */
public enum SpanOperator {
  /** In the left one or in the right one. */
  UNION,
  /** In both. */
  INTERSECTION,
  /** In the left one and not in the right one. */
  DIFFERENCE;

  /**
   * The point rule.
   *
   * @param left whether the point is in the left solid
   * @param right whether it is in the right one
   * @return whether it is in the combination
   */
  public boolean contains(boolean left, boolean right) {
    return switch (this) {
      case UNION -> left || right;
      case INTERSECTION -> left && right;
      case DIFFERENCE -> left && !right;
    };
  }

  /** The word that scenes and disassemblies use: union, intersection, difference. */
  @Override
  public String toString() {
    return name().toLowerCase(Locale.ROOT);
  }
}
