package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;

/** Steps on three components at a time, named {@code name_x}, {@code name_y}, {@code name_z}. */
final class Vectors {
  static final int COUNT = 3;
  private static final String[] AXES = {"_x", "_y", "_z"};

  private final Datapath.Builder b;

  Vectors(Datapath.Builder b) {
    this.b = b;
  }

  /** What ends a component's name. */
  static String suffix(int axis) {
    return AXES[axis];
  }

  /** What to do to one component. */
  interface Component {
    Value of(String name, int axis);
  }

  Value[] each(String name, Component component) {
    Value[] values = new Value[AXES.length];
    for (int axis = 0; axis < values.length; axis++) {
      values[axis] = component.of(name + AXES[axis], axis);
    }
    return values;
  }

  Value[] inputs(String name, Format format) {
    return each(name, (component, axis) -> b.input(component, format));
  }

  Value[] subtract(String name, Value[] left, Value[] right) {
    return each(name, (component, axis) -> b.subtract(component, left[axis], right[axis]));
  }

  /** The exact inner product; its parts are {@code name_x} and so on. */
  Value dot(String name, Value[] left, Value[] right) {
    return sum(name, products(name, left, right));
  }

  /** The exact products of components. */
  Value[] products(String name, Value[] left, Value[] right) {
    return each(name, (component, axis) -> b.multiply(component, left[axis], right[axis]));
  }

  /** The exact sum of three components. */
  Value sum(String name, Value[] parts) {
    return b.add(name, b.add(name + "_xy", parts[0], parts[1]), parts[2]);
  }
}
