package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;

/**
 * The named result of one step of a datapath; made by a {@link Datapath.Builder} and handed to its
 * later steps.
 */
public final class Value {
  private final StepMethods owner;
  private final int index;
  private final String name;
  private final Step step;
  private final Format format;
  private final boolean hidden;

  Value(StepMethods owner, int index, String name, Step step, boolean hidden) {
    this.owner = owner;
    this.index = index;
    this.name = name;
    this.step = step;
    this.hidden = hidden;
    Format declared = step.declaredFormat();
    this.format = declared != null ? declared : step.range().format(step.fractionBits());
  }

  /**
   * The name of the step.
   *
   * @return as described
   */
  public String name() {
    return name;
  }

  /**
   * The format of its codes.
   *
   * @return the declared one where the step declares one, else the smallest that holds the range
   */
  public Format format() {
    return format;
  }

  /**
   * The lowest code it can take.
   *
   * @return in LSB of the format
   */
  public BigInteger min() {
    return step.range().min();
  }

  /**
   * The highest code it can take.
   *
   * @return in LSB of the format
   */
  public BigInteger max() {
    return step.range().max();
  }

  /** The name and the format. */
  @Override
  public String toString() {
    return name + " " + format;
  }

  StepMethods owner() {
    return owner;
  }

  int index() {
    return index;
  }

  boolean isZero() {
    return min().signum() == 0 && max().signum() == 0;
  }

  /** Whether it has one code in every case, and in one word. */
  boolean fixed() {
    return min().equals(max()) && !wide();
  }

  /** Whether the bounds are one another's with the other sign: of nothing, or by the step. */
  boolean balanced() {
    return isZero() || step.balanced();
  }

  Step step() {
    return step;
  }

  Range range() {
    return step.range();
  }

  int fractionBits() {
    return step.fractionBits();
  }

  /** Whether the builder put it in by itself, to align a point; it has no row in the table. */
  boolean hidden() {
    return hidden;
  }

  /** Whether its codes take two columns. */
  boolean wide() {
    return Range.of(format).columnBits() > 64;
  }
}
