package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.datapath.Vectors;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;

/**
 * A direction thrown back by a mirror: {@code r = d - 2 (d . n) n}.
 *
 * <pre>{@code
 * Datapath mirror = Reflection.datapath(Format.signed(2, 16), Format.signed(2, 16));
 * }</pre>
 *
 * <p>Operands {@code direction_x, direction_y, direction_z}, {@code normal_x} and so on; results
 * {@code reflected_x, reflected_y, reflected_z} in the direction's format, each rounded once to the
 * nearest code (a tie goes up) and saturated. The normal is meant to be of unit length: at a
 * squared length of 1 + e the result is off by {@code 2 e (d . n) n} beyond that; its side does not
 * matter. A normal of zero gives the direction back.
 */
public final class Reflection {
  private Reflection() {}

  /**
   * The reflection as a datapath.
   *
   * @param direction format of the direction and the result
   * @param normal format of the normal
   * @return steps {@code along} (twice d . n, exact) and {@code turned_x} and so on, among others
   */
  public static Datapath datapath(Format direction, Format normal) {
    Datapath.Builder b = Datapath.named("reflection");
    Value[] directions = new Vectors(b).inputs("direction", direction);
    Value[] normals = new Vectors(b).inputs("normal", normal);
    Value along = b.scale("along", new Vectors(b).dot("dot", directions, normals), 1);
    for (int i = 0; i < Vectors.COUNT; i++) {
      String axis = Vectors.suffix(i);
      Value turned = b.multiply("turned" + axis, along, normals[i]);
      Value full = b.subtract("full" + axis, directions[i], turned);
      b.output(
          b.convert("reflected" + axis, full, direction, Rounding.HALF_CEILING, Overflow.SATURATE));
    }
    return b.build();
  }
}
