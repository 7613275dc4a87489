package dev.plumbline.coverage;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import java.util.List;

/** The three components of a vector as operands. */
public final class Axes {
  static final List<String> NAMES = List.of("x", "y", "z");

  private Axes() {}

  public static List<Operand> operands(String vector, Format format) {
    return NAMES.stream().map(axis -> new Operand(vector + "_" + axis, format)).toList();
  }
}
