package dev.plumbline.models.scene;

import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.span.SpanOperator;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;

/** Scenes of every shape, with short decimals, for round trips and for culling. */
public final class RandomScenes {
  private static final BigDecimal[] UNITS = {
    null, BigDecimal.ONE, BigDecimal.valueOf(25), new BigDecimal("0.3")
  };
  private static final List<SpanOperator> OPERATORS = List.of(SpanOperator.values());
  private static final List<OperationKind> SOLIDS =
      List.of(OperationKind.SPHERE, OperationKind.BOX, OperationKind.HALF_SPACE);

  private final Random random;
  private final double size;
  private final boolean bounded;
  private BigDecimal unit;

  /** Points lie within so many words of the middle; bounded pieces never go on for ever. */
  public RandomScenes(Random random, double size, boolean bounded) {
    this.random = random;
    this.size = size;
    this.bounded = bounded;
  }

  public Scene scene(int pieces, int depth, boolean culled) {
    unit = UNITS[random.nextInt(UNITS.length)];
    List<Scene.Item> items = items(pieces, depth, culled ? 3 : 0);
    return Scene.of(unit, Map.of("brass", 3, "glass", 7), items);
  }

  private List<Scene.Item> items(int pieces, int depth, int nesting) {
    List<Scene.Item> items = new ArrayList<>();
    for (int i = 0; i < pieces; i++) {
      if (nesting > 0 && random.nextInt(4) == 0) {
        items.add(
            new Scene.Within(
                numbers(OperationKind.BOX, 1), items(1 + random.nextInt(3), depth, nesting - 1)));
      } else {
        items.add(new Scene.Piece("p" + random.nextInt(100), solid(depth)));
      }
    }
    return items;
  }

  private Scene.Solid solid(int depth) {
    int shape = random.nextInt(depth > 0 ? 4 : 2);
    if (shape < 2) {
      int kinds = bounded ? 2 : 3;
      return primitive(SOLIDS.get(random.nextInt(kinds)), random.nextInt(9));
    }
    if (shape == 2) {
      return hull();
    }
    Scene.Solid first = solid(depth - 1);
    List<Scene.Step> steps = new ArrayList<>();
    for (int i = 0; i <= random.nextInt(2); i++) {
      steps.add(new Scene.Step(OPERATORS.get(random.nextInt(3)), solid(depth - 1)));
    }
    return new Scene.Part(first, steps);
  }

  /** Around a point: an octahedron whose corners are cut, or a wedge of two. */
  private Scene.Solid hull() {
    int faces = bounded || random.nextBoolean() ? 8 : 2;
    double[] middle = {spread(), spread(), spread()};
    List<Scene.Solid> all = new ArrayList<>();
    for (int k = 0; k < faces; k++) {
      double[] normal = {sign(k, 1), sign(k, 2), sign(k, 4)};
      double level = 0.5 + random.nextDouble();
      List<BigDecimal> numbers = new ArrayList<>();
      for (int i = 0; i < 3; i++) {
        double n = normal[i] * (0.3 + random.nextInt(40) / 100.0);
        level += n * middle[i];
        numbers.add(decimal(n));
      }
      numbers.add(length(level));
      all.add(new Scene.Primitive(OperationKind.HALF_SPACE, numbers, 3));
    }
    return new Scene.Part(
        all.get(0),
        all.stream().skip(1).map(f -> new Scene.Step(SpanOperator.INTERSECTION, f)).toList());
  }

  private static double sign(int k, int bit) {
    return (k & bit) == 0 ? 1 : -1;
  }

  private Scene.Primitive primitive(OperationKind kind, int material) {
    return new Scene.Primitive(kind, numbers(kind, 0.2 + random.nextDouble() * 1.5), material);
  }

  private List<BigDecimal> numbers(OperationKind kind, double extent) {
    List<BigDecimal> numbers = new ArrayList<>();
    double[] middle = {spread(), spread(), spread()};
    for (String operand : kind.operands()) {
      int axis = "xyz".indexOf(operand.charAt(operand.length() - 1));
      numbers.add(
          OperationKind.isDirection(operand)
              ? decimal(random.nextDouble() * 2 - 1)
              : length(
                  operand.equals("radius") || operand.equals("level")
                      ? extent
                      : middle[axis]
                          + (operand.startsWith("min")
                              ? -extent
                              : operand.startsWith("max") ? extent : 0)));
    }
    return numbers;
  }

  private double spread() {
    return (random.nextDouble() * 2 - 1) * size;
  }

  private BigDecimal length(double words) {
    return unit == null ? decimal(words) : decimal(words).multiply(unit);
  }

  private static BigDecimal decimal(double number) {
    return BigDecimal.valueOf(Math.round(number * 1000), 3);
  }
}
