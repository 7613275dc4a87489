package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;

/**
 * An input or output of a datapath.
 *
 * @param name its name, as the description gave it
 * @param format what its codes mean and how many words they take
 */
public record Operand(String name, Format format) {
  @Override
  public String toString() {
    return name + " " + format;
  }
}
