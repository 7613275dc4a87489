package dev.plumbline.models.program;

import dev.plumbline.models.span.SpanOperator;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;

/**
 * A scene as a program: operations in the order of their addresses, checked and immutable.
 *
 * <pre>{@code
 * SceneFormats formats = SceneFormats.of(Format.signed(16, 16), Format.signed(2, 16));
 * Program.Builder b = Program.builder(formats, new ProgramLimits(256, 4, 256));
 * Program.Label past = b.label();
 * b.skip(past, -65536, -65536, -65536, 65536, 65536, 65536);
 * b.begin().sphere(3, 0, 0, 0, 65536).sphere(4, 0, 0, 0, 32768).difference().close();
 * Program shell = b.place(past).end().build();
 * }</pre>
 *
 * <p>Combinations come after what they combine; the lower list of the stack is the left one.
 */
public final class Program {
  private final SceneFormats formats;
  private final ProgramLimits limits;
  private final List<Operation> operations;

  private Program(SceneFormats formats, ProgramLimits limits, List<Operation> operations) {
    this.formats = formats;
    this.limits = limits;
    this.operations = List.copyOf(operations);
  }

  /**
   * A program of given operations.
   *
   * @param formats what the operands' codes mean
   * @param limits of the executor
   * @param operations in the order of their addresses
   * @return the program
   * @throws ProgramException when it cannot be; the message names the operation
   */
  public static Program of(SceneFormats formats, ProgramLimits limits, List<Operation> operations) {
    Objects.requireNonNull(formats, "formats");
    new ProgramCheck(formats, limits, operations).check();
    return new Program(formats, limits, operations);
  }

  /**
   * Begins a program.
   *
   * @param formats what the operands' codes mean
   * @param limits of the executor
   * @return a builder
   */
  public static Builder builder(SceneFormats formats, ProgramLimits limits) {
    return new Builder(formats, limits);
  }

  /**
   * What the operands' codes mean.
   *
   * @return as given
   */
  public SceneFormats formats() {
    return formats;
  }

  /**
   * What it was checked against.
   *
   * @return as given
   */
  public ProgramLimits limits() {
    return limits;
  }

  /**
   * All operations in the order of their addresses.
   *
   * @return an unmodifiable list
   */
  public List<Operation> operations() {
    return operations;
  }

  /**
   * The operation at an address.
   *
   * @param address from 0
   * @return the operation
   */
  public Operation at(int address) {
    return operations.get(address);
  }

  /**
   * How many operations there are.
   *
   * @return 1 or more
   */
  public int length() {
    return operations.size();
  }

  /**
   * The program as text, one operation a line: address, operation, operands in real numbers;
   * indented by the height of the stack, with a mark at one line.
   *
   * @param marked address of the line to mark with an arrow; any other number marks none
   * @return lines
   */
  public String disassembly(int marked) {
    return Disassembly.of(this, marked);
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof Program p
        && formats.equals(p.formats)
        && operations.equals(p.operations);
  }

  @Override
  public int hashCode() {
    return formats.hashCode() * 31 + operations.hashCode();
  }

  /** The disassembly. */
  @Override
  public String toString() {
    return disassembly(-1);
  }

  /** A place in a program that skips go to; it is placed once, behind them. */
  public static final class Label {
    private static final int NOWHERE = -1;
    private int address = NOWHERE;

    private Label() {}
  }

  /** Puts a program together, operation by operation; everything is checked when it is built. */
  public static final class Builder {
    private final SceneFormats formats;
    private final ProgramLimits limits;
    private final List<Operation> operations = new ArrayList<>();
    private final List<Label> targets = new ArrayList<>();

    private Builder(SceneFormats formats, ProgramLimits limits) {
      this.formats = formats;
      this.limits = limits;
    }

    private Builder add(Operation operation, Label target) {
      operations.add(operation);
      targets.add(target);
      return this;
    }

    /**
     * Adds any operation, a skip with the target that it has.
     *
     * @param operation what to add
     * @return this builder
     */
    public Builder add(Operation operation) {
      return add(operation, null);
    }

    /**
     * Begins an object.
     *
     * @return this builder
     */
    public Builder begin() {
      return add(Operation.of(OperationKind.BEGIN));
    }

    /**
     * Ends an object.
     *
     * @return this builder
     */
    public Builder close() {
      return add(Operation.of(OperationKind.CLOSE));
    }

    /**
     * Ends the program.
     *
     * @return this builder
     */
    public Builder end() {
      return add(Operation.of(OperationKind.END));
    }

    /**
     * A sphere.
     *
     * @param material of its surface
     * @param operands codes of {@code centre_x, centre_y, centre_z, radius}
     * @return this builder
     */
    public Builder sphere(int material, long... operands) {
      return add(Operation.solid(OperationKind.SPHERE, material, operands));
    }

    /**
     * A half-space.
     *
     * @param material of its surface
     * @param operands codes of {@code normal_x, normal_y, normal_z, level}
     * @return this builder
     */
    public Builder halfSpace(int material, long... operands) {
      return add(Operation.solid(OperationKind.HALF_SPACE, material, operands));
    }

    /**
     * An axis-parallel box.
     *
     * @param material of its surface
     * @param operands codes of {@code min_x, min_y, min_z, max_x, max_y, max_z}
     * @return this builder
     */
    public Builder box(int material, long... operands) {
      return add(Operation.solid(OperationKind.BOX, material, operands));
    }

    /**
     * A combination of the two topmost lists.
     *
     * @param operator how
     * @return this builder
     */
    public Builder combine(SpanOperator operator) {
      return add(Operation.of(OperationKind.of(operator)));
    }

    /**
     * The union of the two topmost lists.
     *
     * @return this builder
     */
    public Builder union() {
      return combine(SpanOperator.UNION);
    }

    /**
     * The intersection of the two topmost lists.
     *
     * @return this builder
     */
    public Builder intersection() {
      return combine(SpanOperator.INTERSECTION);
    }

    /**
     * The lower one of the two topmost lists without the upper one.
     *
     * @return this builder
     */
    public Builder difference() {
      return combine(SpanOperator.DIFFERENCE);
    }

    /**
     * A label to place later.
     *
     * @return a label of this builder
     */
    public Label label() {
      return new Label();
    }

    /**
     * A skip to a label when a box is missed.
     *
     * @param target placed behind this skip
     * @param box codes of {@code min_x, min_y, min_z, max_x, max_y, max_z}
     * @return this builder
     */
    public Builder skip(Label target, long... box) {
      return add(Operation.skip(0, box), Objects.requireNonNull(target, "target"));
    }

    /**
     * Places a label at the next operation.
     *
     * @param label not placed yet
     * @return this builder
     * @throws IllegalStateException when it is placed already
     */
    public Builder place(Label label) {
      if (label.address != Label.NOWHERE) {
        throw new IllegalStateException(
            "Label placed at "
                + label.address
                + " and again at "
                + operations.size()
                + ": it has one place; make another label.");
      }
      label.address = operations.size();
      return this;
    }

    /**
     * How many operations there are so far.
     *
     * @return the address of the next one
     */
    public int address() {
      return operations.size();
    }

    /**
     * Ends the description.
     *
     * @return the program
     * @throws ProgramException when it cannot be; the message names the operation
     */
    public Program build() {
      Operation[] resolved = operations.toArray(new Operation[0]);
      for (int i = 0; i < resolved.length; i++) {
        Label label = targets.get(i);
        if (label != null) {
          if (label.address == Label.NOWHERE) {
            throw new ProgramException(
                i, "skip at address " + i + " to a label without a place: place the label");
          }
          resolved[i] = resolved[i].withTarget(label.address);
        }
      }
      return of(formats, limits, Arrays.asList(resolved));
    }
  }
}
