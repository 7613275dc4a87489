package dev.plumbline.models.traversal;

import dev.plumbline.models.datapath.BitEvaluation;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.unit.Reciprocal;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * Rays in columns of codes, as an executor takes them.
 *
 * <p>Columns: {@code origin_x, origin_y, origin_z, direction_x, ..., inverse_x, ..., parallel_x,
 * ..., start, limit, any_hit, tag}. A surface counts strictly beyond {@code start} and strictly
 * nearer than {@code limit}, as {@link RayRules} say; where {@code any_hit} is 1, one that does
 * ends the ray. The tag, 32 bits, goes through to the result.
 */
public final class Rays {
  private static final List<String> NAMES =
      List.of(
          "origin_x",
          "origin_y",
          "origin_z",
          "direction_x",
          "direction_y",
          "direction_z",
          "inverse_x",
          "inverse_y",
          "inverse_z",
          "parallel_x",
          "parallel_y",
          "parallel_z",
          "start",
          "limit",
          "any_hit",
          "tag");

  private final SceneFormats formats;
  private final int capacity;
  private final Map<String, long[]> columns = new LinkedHashMap<>();
  private final BitEvaluation reciprocal;

  private Rays(SceneFormats formats, int capacity) {
    this.formats = formats;
    this.capacity = capacity;
    NAMES.forEach(name -> columns.put(name, new long[capacity]));
    this.reciprocal = Reciprocal.between(formats.direction(), formats.inverse()).datapath().bits(3);
  }

  /**
   * The columns' names.
   *
   * @return in the order above
   */
  public static List<String> names() {
    return NAMES;
  }

  /**
   * Columns for so many rays, all zero.
   *
   * @param formats of their codes
   * @param capacity how many, 1 or more
   * @return columns
   */
  public static Rays of(SceneFormats formats, int capacity) {
    return new Rays(formats, capacity);
  }

  /**
   * Sets a ray that looks for the nearest surface, however far, with the inverses that {@link
   * Reciprocal#between} gives.
   *
   * @param ray which, from 0
   * @param start the surface lies strictly beyond, in word codes
   * @param origin three word codes
   * @param direction three direction codes
   */
  public void nearest(int ray, long start, long[] origin, long[] direction) {
    for (int axis = 0; axis < 3; axis++) {
      column(axis)[ray] = origin[axis];
      column(3 + axis)[ray] = direction[axis];
      column(9 + axis)[ray] = direction[axis] == 0 ? 1 : 0;
      reciprocal.input(0, 0)[axis] = direction[axis];
    }
    reciprocal.run(3);
    for (int axis = 0; axis < 3; axis++) {
      column(6 + axis)[ray] = reciprocal.output(0, 0)[axis];
    }
    columns.get("start")[ray] = start;
    columns.get("limit")[ray] = formats.word().maxCode().longValueExact();
    columns.get("any_hit")[ray] = 0;
  }

  /**
   * Makes a ray one that ends at any surface before a limit.
   *
   * @param ray which, set before
   * @param limit in word codes, exclusive
   */
  public void anyHit(int ray, long limit) {
    columns.get("limit")[ray] = limit;
    columns.get("any_hit")[ray] = 1;
  }

  private long[] column(int index) {
    return columns.get(NAMES.get(index));
  }

  /**
   * A column by name, to read or to fill.
   *
   * @param name one of {@link #names}
   * @return the column itself, one element a ray
   * @throws IllegalArgumentException when there is none
   */
  public long[] column(String name) {
    long[] column = columns.get(name);
    if (column == null) {
      throw new IllegalArgumentException(
          "Column \"" + name + "\" of rays: there are " + NAMES + "; name one of these.");
    }
    return column;
  }

  /**
   * How many rays the columns hold.
   *
   * @return as made
   */
  public int capacity() {
    return capacity;
  }

  /**
   * The formats of the codes.
   *
   * @return as made
   */
  public SceneFormats formats() {
    return formats;
  }
}
