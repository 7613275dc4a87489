package dev.plumbline.models.light;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.datapath.Vectors;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.unit.Reciprocal;
import dev.plumbline.models.unit.SquareRoot;

/**
 * The direction of a pixel's primary ray.
 *
 * <p>Operands {@code pixel_x, pixel_y} (12 bits), {@code corner_x, corner_y, corner_z, right_x,
 * ..., down_x, ...} (words); results {@code direction_x, direction_y, direction_z}. The vector
 * {@code u = corner + x right + y down} is exact, then saturated to the word.
 */
public final class PrimaryRay {
  private static final int PIXEL_BITS = 12;
  private static final int NEWTON_LEAST = 8;
  private static final int NEWTON_MOST = 32;

  private PrimaryRay() {}

  /**
   * Normalised: u over its length. The square of the length is rounded to a word, its root cut down
   * to one, the reciprocal of that cut towards zero, and each component times it rounded to the
   * nearest direction code (a tie goes up), everything saturated. Meant for lengths of 1/4 to 16.
   *
   * @param formats of the word and the direction
   * @return steps {@code u_x}, {@code squared}, {@code length}, {@code inverse}, {@code
   *     direction_x} and others
   */
  public static Datapath normalised(SceneFormats formats) {
    Datapath.Builder b = Datapath.named("primary_ray");
    Format word = formats.word();
    Value[] u = plane(b, word);
    Vectors vectors = new Vectors(b);
    Value squared = Codes.near(b, "squared", vectors.dot("squared_full", u, u), word);
    Value length = b.unit("length", SquareRoot.of(word).unit(), squared);
    Value inverse = b.unit("inverse", reciprocal(word).unit(), length);
    for (int i = 0; i < Vectors.COUNT; i++) {
      String axis = Vectors.suffix(i);
      Value full = b.multiply("direction_full" + axis, u[i], inverse);
      b.output(Codes.near(b, "direction" + axis, full, formats.direction()));
    }
    return b.build();
  }

  /**
   * Not normalised: u rounded to the nearest direction code (a tie goes up), saturated.
   *
   * @param formats of the word and the direction
   * @return steps {@code u_x}, {@code direction_x} and others
   */
  public static Datapath stepped(SceneFormats formats) {
    Datapath.Builder b = Datapath.named("stepped_ray");
    Value[] u = plane(b, formats.word());
    for (int i = 0; i < Vectors.COUNT; i++) {
      b.output(Codes.near(b, "direction" + Vectors.suffix(i), u[i], formats.direction()));
    }
    return b.build();
  }

  static Datapath of(Lighting lighting) {
    return lighting.isStepped() ? stepped(lighting.formats()) : normalised(lighting.formats());
  }

  /** The reciprocal unit of a word, by its own steps where there are such. */
  static Reciprocal reciprocal(Format word) {
    boolean newton =
        word.width() >= NEWTON_LEAST
            && word.width() <= NEWTON_MOST
            && word.fractionBits() >= 0
            && word.fractionBits() < word.width();
    return newton
        ? Reciprocal.newton(word.width(), word.fractionBits())
        : Reciprocal.between(word, word);
  }

  private static Value[] plane(Datapath.Builder b, Format word) {
    Vectors vectors = new Vectors(b);
    Value x = b.input("pixel_x", Format.unsigned(PIXEL_BITS, 0));
    Value y = b.input("pixel_y", Format.unsigned(PIXEL_BITS, 0));
    Value[] corner = vectors.inputs("corner", word);
    Value[] right = vectors.inputs("right", word);
    Value[] down = vectors.inputs("down", word);
    Value[] u = new Value[Vectors.COUNT];
    for (int i = 0; i < u.length; i++) {
      String axis = Vectors.suffix(i);
      Value aside = b.multiply("aside" + axis, x, right[i]);
      Value below = b.multiply("below" + axis, y, down[i]);
      Value row = b.add("row" + axis, corner[i], aside);
      u[i] = Codes.near(b, "u" + axis, b.add("u_full" + axis, row, below), word);
    }
    return u;
  }
}
