package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import java.util.Optional;

/**
 * An input or output of a datapath.
 *
 * @param name its name, as the description gave it
 * @param format what its codes mean and how many words they take; an unsigned integer where they
 *     are those of floating point
 * @param floating the floating-point format whose codes they are; empty in fixed point
 */
public record Operand(String name, Format format, Optional<FloatFormat> floating) {
  /**
   * An operand in fixed point.
   *
   * @param name its name
   * @param format what its codes mean
   */
  public Operand(String name, Format format) {
    this(name, format, Optional.empty());
  }

  /**
   * An operand in floating point.
   *
   * @param name its name
   * @param floating what its codes mean
   */
  public Operand(String name, FloatFormat floating) {
    this(name, floating.bits(), Optional.of(floating));
  }

  /**
   * What its codes mean, in words.
   *
   * @return such as {@code s16.16} or {@code binary16}
   */
  public String meaning() {
    return floating.map(FloatFormat::toString).orElse(format.toString());
  }

  @Override
  public String toString() {
    return name + " " + meaning();
  }
}
