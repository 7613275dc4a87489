package dev.plumbline.models.program;

import dev.plumbline.models.span.SpanOperator;
import java.util.List;
import java.util.Locale;

/** What an operation of a scene program does. */
public enum OperationKind {
  /** The ray is finished. */
  END(Role.CONTROL),
  /** A new object; no list is on the stack. */
  BEGIN(Role.CONTROL),
  /** Takes the object's one list off the stack and keeps its nearest surface if it is nearer. */
  CLOSE(Role.CONTROL),
  /** Goes on at a target when a box is missed. */
  SKIP(Role.CONTROL, Names.BOX),
  /** Puts the spans of a sphere on the stack. */
  SPHERE(Role.SOLID, List.of("centre_x", "centre_y", "centre_z", "radius")),
  /** Puts the spans of a half-space on the stack. */
  HALF_SPACE(Role.SOLID, List.of("normal_x", "normal_y", "normal_z", "level")),
  /** Puts the spans of an axis-parallel box on the stack. */
  BOX(Role.SOLID, Names.BOX),
  /** Puts the union of the two topmost lists in their place. */
  UNION(SpanOperator.UNION),
  /** Puts the intersection of the two topmost lists in their place. */
  INTERSECTION(SpanOperator.INTERSECTION),
  /** Puts the lower of the two topmost lists without the upper one in their place. */
  DIFFERENCE(SpanOperator.DIFFERENCE);

  private enum Role {
    CONTROL,
    SOLID,
    COMBINATION
  }

  private static final class Names {
    static final List<String> SPHERE_DERIVED = List.of("inverse_radius");
    static final List<String> BOX = List.of("min_x", "min_y", "min_z", "max_x", "max_y", "max_z");

    private Names() {}
  }

  private final Role role;
  private final SpanOperator operator;

  @SuppressWarnings("ImmutableEnumChecker") // It is List.of.
  private final List<String> operands;

  OperationKind(Role role) {
    this(role, List.of());
  }

  OperationKind(Role role, List<String> operands) {
    this.role = role;
    this.operands = operands;
    this.operator = null;
  }

  OperationKind(SpanOperator operator) {
    this.role = Role.COMBINATION;
    this.operands = List.of();
    this.operator = operator;
  }

  /**
   * The operation of a combination.
   *
   * @param operator how two lists become one
   * @return the kind of the same name
   */
  public static OperationKind of(SpanOperator operator) {
    return valueOf(operator.name());
  }

  /**
   * The names of its operands, in order; material and target are not among them.
   *
   * @return an unmodifiable list
   */
  public List<String> operands() {
    return operands;
  }

  /**
   * What a word may hold beside the operands, for whoever reads it to save a division: {@code
   * inverse_radius} of a sphere, which is one over its radius, rounded to the nearest code of its
   * field, halves up, and saturated; the highest code for a radius of 0 or less.
   *
   * @return an unmodifiable list of names
   */
  public List<String> derived() {
    return this == SPHERE ? Names.SPHERE_DERIVED : List.of();
  }

  /**
   * Whether it puts a solid's list on the stack, and so has a material.
   *
   * @return true for sphere, half-space and box
   */
  public boolean isSolid() {
    return role == Role.SOLID;
  }

  /**
   * Whether it makes one list of two.
   *
   * @return true for union, intersection and difference
   */
  public boolean isCombination() {
    return role == Role.COMBINATION;
  }

  /**
   * The operator of a combination.
   *
   * @return the one of the same name
   * @throws IllegalStateException when this is no combination
   */
  public SpanOperator operator() {
    if (!isCombination()) {
      throw new IllegalStateException("Operator of \"" + this + "\": only combinations have one.");
    }
    return operator;
  }

  /**
   * Whether an operand is a component of a direction.
   *
   * @param operand its name
   * @return true for components of directions and normals
   */
  public static boolean isDirection(String operand) {
    return operand.startsWith("normal");
  }

  /** How many lists the stack grows by. */
  int growth() {
    return switch (role) {
      case SOLID -> 1;
      case COMBINATION -> -1;
      case CONTROL -> this == CLOSE ? -1 : 0;
    };
  }

  /** The name as disassemblies write it: half_space. */
  @Override
  public String toString() {
    return name().toLowerCase(Locale.ROOT);
  }
}
