package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;

/**
 * Steps on three components at a time, named {@code name_x}, {@code name_y}, {@code name_z}.
 *
 * <pre>{@code
 * Vectors v = new Vectors(b);
 * Value[] arm = v.inputs("arm", Format.signed(4, 12));
 * Value[] force = v.inputs("force", Format.signed(4, 12));
 * Value[] torque = v.cross("torque", arm, force);
 * Value power = v.dot("power", arm, force);
 * }</pre>
 *
 * <p>A vector is an array of three values, which is never kept. Every result is exact; convert
 * components by {@link #each}.
 */
public final class Vectors {
  /** How many components a vector has. */
  public static final int COUNT = 3;

  private static final String[] AXES = {"_x", "_y", "_z"};

  private final Datapath.Builder b;

  /**
   * Steps of a builder.
   *
   * @param b describes them
   */
  public Vectors(Datapath.Builder b) {
    this.b = b;
  }

  /**
   * What ends a component's name.
   *
   * @param axis 0 to 2
   * @return such as {@code _x}
   */
  public static String suffix(int axis) {
    return AXES[axis];
  }

  /** What to do to one component. */
  @FunctionalInterface
  public interface Component {
    /**
     * Describes it.
     *
     * @param name of the component's step
     * @param axis 0 to 2
     * @return the component
     */
    Value of(String name, int axis);
  }

  /**
   * The same for each component.
   *
   * @param name what the components' names begin with
   * @param component describes one
   * @return three values
   */
  public Value[] each(String name, Component component) {
    Value[] values = new Value[AXES.length];
    for (int axis = 0; axis < values.length; axis++) {
      values[axis] = component.of(name + AXES[axis], axis);
    }
    return values;
  }

  /**
   * Three inputs of one format.
   *
   * @param name what their names begin with
   * @param format of each
   * @return a vector
   */
  public Value[] inputs(String name, Format format) {
    return each(name, (component, axis) -> b.input(component, format));
  }

  /**
   * The sums of components.
   *
   * @param name what their names begin with
   * @param left a vector
   * @param right a vector
   * @return left + right
   */
  public Value[] add(String name, Value[] left, Value[] right) {
    return each(name, (component, axis) -> b.add(component, left[axis], right[axis]));
  }

  /**
   * The differences of components.
   *
   * @param name what their names begin with
   * @param left a vector
   * @param right a vector
   * @return left - right
   */
  public Value[] subtract(String name, Value[] left, Value[] right) {
    return each(name, (component, axis) -> b.subtract(component, left[axis], right[axis]));
  }

  /**
   * The inner product; its parts are {@code name_x} and so on.
   *
   * @param name of the step
   * @param left a vector
   * @param right a vector
   * @return the sum of the products
   */
  public Value dot(String name, Value[] left, Value[] right) {
    return sum(name, products(name, left, right));
  }

  /**
   * The outer product; the two products of a component are {@code name_x_1} and {@code name_x_2}.
   *
   * @param name what the components' names begin with
   * @param left a vector
   * @param right a vector
   * @return left x right, by the rule of the right hand
   */
  public Value[] cross(String name, Value[] left, Value[] right) {
    return each(
        name,
        (component, axis) -> {
          int next = (axis + 1) % COUNT;
          int last = (axis + 2) % COUNT;
          Value plus = b.multiply(component + "_1", left[next], right[last]);
          return b.subtract(component, plus, b.multiply(component + "_2", left[last], right[next]));
        });
  }

  /**
   * The products of components.
   *
   * @param name what their names begin with
   * @param left a vector
   * @param right a vector
   * @return a vector
   */
  public Value[] products(String name, Value[] left, Value[] right) {
    return each(name, (component, axis) -> b.multiply(component, left[axis], right[axis]));
  }

  /**
   * The sum of three components; that of the first two is {@code name_xy}.
   *
   * @param name of the step
   * @param parts a vector
   * @return their sum
   */
  public Value sum(String name, Value[] parts) {
    return b.add(name, b.add(name + "_xy", parts[0], parts[1]), parts[2]);
  }
}
