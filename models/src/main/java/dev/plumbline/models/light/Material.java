package dev.plumbline.models.light;

/**
 * What a surface looks like.
 *
 * @param colour 24 bits: red in bits 23 to 16, green in 15 to 8, blue in 7 to 0
 * @param tint share of what it mirrors, u0.8: 0 to 255; 0 is no mirror
 */
public record Material(int colour, int tint) {
  private static final int MAX_COLOUR = 0xFFFFFF;
  private static final int MAX_TINT = 255;

  /** Checks both ranges. */
  public Material {
    requireColour("Material", colour);
    if (tint < 0 || tint > MAX_TINT) {
      throw new IllegalArgumentException(
          "Material of tint \"" + tint + "\": it has to be 0 to " + MAX_TINT + ".");
    }
  }

  static void requireColour(String what, int colour) {
    if (colour < 0 || colour > MAX_COLOUR) {
      throw new IllegalArgumentException(
          what + " of colour \"" + Integer.toHexString(colour) + "\": it has to have 24 bits.");
    }
  }

  /**
   * The material as a word of a table: tint in bits 31 to 24, colour in bits 23 to 0.
   *
   * @return 32 bits
   */
  public long word() {
    return (long) tint << 24 | colour;
  }

  /**
   * The share of a mirrored colour: tint + floor(tint / 128).
   *
   * @return 0 to 256, in 256ths
   */
  public int share() {
    return tint + (tint >> 7);
  }
}
