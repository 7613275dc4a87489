package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;

/** The three axes, by the letters that end the names of operands and steps. */
final class Axes {
  static final int COUNT = 3;

  private Axes() {}

  /** {@code _x}, {@code _y}, {@code _z}. */
  static String suffix(int axis) {
    return "_" + "xyz".charAt(axis);
  }

  /** An input for each axis. */
  static Value[] inputs(Datapath.Builder b, String name, Format format) {
    Value[] values = new Value[COUNT];
    for (int i = 0; i < COUNT; i++) {
      values[i] = b.input(name + suffix(i), format);
    }
    return values;
  }
}
