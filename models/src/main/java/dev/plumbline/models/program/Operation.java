package dev.plumbline.models.program;

import dev.plumbline.models.fixed.Format;
import java.util.Arrays;

/**
 * One operation of a scene program, free of any chip's bits: its kind, its operands as codes of the
 * program's {@link SceneFormats}, the material of a solid, the target of a skip.
 */
public final class Operation {
  private final OperationKind kind;
  private final long[] operands;
  private final int material;
  private final int target;

  Operation(OperationKind kind, long[] operands, int material, int target) {
    this.kind = kind;
    this.operands = operands;
    this.material = material;
    this.target = target;
  }

  /**
   * An operation without material and target.
   *
   * @param kind one that needs neither
   * @return the operation
   */
  public static Operation of(OperationKind kind) {
    return checked(new Operation(kind, new long[0], 0, 0));
  }

  /**
   * A solid.
   *
   * @param kind sphere, half-space or box
   * @param material 0 or more
   * @param operands codes in the order of {@link OperationKind#operands}
   * @return the operation
   * @throws IllegalArgumentException when their number is wrong or the material negative
   */
  public static Operation solid(OperationKind kind, int material, long... operands) {
    return checked(new Operation(kind, operands.clone(), material, 0));
  }

  /**
   * A skip.
   *
   * @param target address to go on at when the box is missed
   * @param box codes in the order of {@link OperationKind#operands}
   * @return the operation
   * @throws IllegalArgumentException when their number is wrong
   */
  public static Operation skip(int target, long... box) {
    return checked(new Operation(OperationKind.SKIP, box.clone(), 0, target));
  }

  private static Operation checked(Operation made) {
    int wanted = made.kind.operands().size();
    if (made.operands.length != wanted) {
      throw new IllegalArgumentException(
          made.kind
              + " with "
              + made.operands.length
              + " operands: it takes "
              + (wanted == 0 ? "none" : made.kind.operands())
              + ".");
    }
    if (made.material < 0) {
      throw new IllegalArgumentException(
          made.kind + " of material " + made.material + ": it has to be 0 or more.");
    }
    return made;
  }

  /** The same skip with another target. */
  Operation withTarget(int other) {
    return new Operation(kind, operands, material, other);
  }

  /**
   * What it does.
   *
   * @return the kind
   */
  public OperationKind kind() {
    return kind;
  }

  /**
   * One operand.
   *
   * @param index in the order of {@link OperationKind#operands}
   * @return its code
   */
  public long operand(int index) {
    return operands[index];
  }

  /**
   * The material of a solid.
   *
   * @return 0 for other kinds
   */
  public int material() {
    return material;
  }

  /**
   * Where a skip goes on when its box is missed.
   *
   * @return an address; 0 for other kinds
   */
  public int target() {
    return target;
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof Operation o
        && kind == o.kind
        && material == o.material
        && target == o.target
        && Arrays.equals(operands, o.operands);
  }

  @Override
  public int hashCode() {
    return ((kind.hashCode() * 31 + material) * 31 + target) * 31 + Arrays.hashCode(operands);
  }

  /** In codes, as {@code sphere 0 0 65536 32768 material 3}. */
  @Override
  public String toString() {
    return text(null);
  }

  /**
   * Reads an operation.
   *
   * @param text as {@link #text(SceneFormats)} writes it, such as {@code sphere 0 0 1 0.5 material
   *     3}
   * @param formats of its operands
   * @return the operation
   * @throws IllegalArgumentException when it is none, or an operand is no code of its format
   */
  public static Operation parse(String text, SceneFormats formats) {
    return new OperationText(text).read(formats);
  }

  /**
   * In real numbers, exactly: {@code sphere 0 0 1 0.5 material 3}.
   *
   * @param formats of its operands; null for codes
   * @return one line, which {@link #parse} reads
   */
  public String text(SceneFormats formats) {
    StringBuilder text = new StringBuilder(kind.toString());
    for (int i = 0; i < operands.length; i++) {
      text.append(' ');
      if (formats == null) {
        text.append(operands[i]);
      } else {
        Format format = formats.operand(kind.operands().get(i));
        text.append(format.toDecimal(format.fromWords(operands[i])).toPlainString());
      }
    }
    if (kind.isSolid()) {
      text.append(" material ").append(material);
    } else if (kind == OperationKind.SKIP) {
      text.append(" to ").append(target);
    }
    return text.toString();
  }
}
