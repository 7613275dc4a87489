package dev.plumbline.models.scene;

import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.span.SpanOperator;
import java.math.BigDecimal;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** Writes the text form of scenes. */
final class SceneWriter {
  private final Scene scene;
  private final StringBuilder out = new StringBuilder();
  private final Map<Integer, String> names = new LinkedHashMap<>();

  SceneWriter(Scene scene) {
    this.scene = scene;
  }

  String text() {
    if (scene.unit() != null) {
      line(0, "unit " + scene.unit().toPlainString() + " mm");
    }
    scene
        .materials()
        .forEach(
            (name, number) -> {
              line(0, "material " + name + " is " + number);
              names.putIfAbsent(number, name);
            });
    scene.items().forEach(item -> item(item, 0));
    return out.toString();
  }

  private void line(int indent, String text) {
    out.append("  ".repeat(indent)).append(text).append('\n');
  }

  private void item(Scene.Item item, int indent) {
    if (item instanceof Scene.Within within) {
      line(indent, "within box " + corners(within.box()));
      within.items().forEach(inner -> item(inner, indent + 1));
      line(indent, "done");
    } else if (item instanceof Scene.Piece piece) {
      if (piece.solid() instanceof Scene.Primitive primitive) {
        line(indent, "piece " + piece.name() + " take " + one(primitive) + " done");
      } else {
        line(indent, "piece " + piece.name());
        recipe(piece.solid(), indent + 1);
        line(indent, "done");
      }
    }
  }

  private void recipe(Scene.Solid solid, int indent) {
    if (solid instanceof Scene.Part part && !isHull(part)) {
      step("take", part.first(), indent);
      for (Scene.Step step : part.steps()) {
        String verb =
            switch (step.operator()) {
              case UNION -> "add";
              case INTERSECTION -> "keep";
              case DIFFERENCE -> "cut";
            };
        step(verb, step.solid(), indent);
      }
    } else {
      step("take", solid, indent);
    }
  }

  private void step(String verb, Scene.Solid solid, int indent) {
    if (solid instanceof Scene.Primitive primitive) {
      line(indent, verb + " " + one(primitive));
      return;
    }
    Scene.Part part = (Scene.Part) solid;
    if (isHull(part)) {
      line(indent, verb + " hull of " + material((Scene.Primitive) part.first()));
      solids(part).forEach(face -> line(indent + 1, face((Scene.Primitive) face)));
    } else {
      line(indent, verb + " part");
      recipe(part, indent + 1);
    }
    line(indent, "done");
  }

  private static Stream<Scene.Solid> solids(Scene.Part part) {
    return Stream.concat(Stream.of(part.first()), part.steps().stream().map(Scene.Step::solid));
  }

  private static boolean isHull(Scene.Part part) {
    return part.first() instanceof Scene.Primitive first
        && part.steps().stream().allMatch(s -> s.operator() == SpanOperator.INTERSECTION)
        && solids(part)
            .allMatch(
                solid ->
                    solid instanceof Scene.Primitive face
                        && face.kind() == OperationKind.HALF_SPACE
                        && face.material() == first.material());
  }

  private String one(Scene.Primitive primitive) {
    List<BigDecimal> n = primitive.numbers();
    String shape =
        switch (primitive.kind()) {
          case SPHERE ->
              "sphere at " + lengths(n.subList(0, 3)) + " radius " + lengths(n.subList(3, 4));
          case HALF_SPACE -> "half-space " + face(primitive);
          default -> "box " + corners(n);
        };
    return shape + " of " + material(primitive);
  }

  private String face(Scene.Primitive halfSpace) {
    List<BigDecimal> n = halfSpace.numbers();
    return "facing " + numbers(n.subList(0, 3)) + " up to " + lengths(n.subList(3, 4));
  }

  private String corners(List<BigDecimal> n) {
    return "from " + lengths(n.subList(0, 3)) + " to " + lengths(n.subList(3, 6));
  }

  private String material(Scene.Primitive primitive) {
    return names.getOrDefault(primitive.material(), String.valueOf(primitive.material()));
  }

  private String lengths(List<BigDecimal> numbers) {
    return numbers(numbers) + (scene.unit() == null ? "" : " mm");
  }

  private static String numbers(List<BigDecimal> numbers) {
    return numbers.stream().map(BigDecimal::toPlainString).collect(Collectors.joining(", "));
  }
}
