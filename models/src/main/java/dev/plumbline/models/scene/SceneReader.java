package dev.plumbline.models.scene;

import dev.plumbline.models.parsing.Location;
import dev.plumbline.models.parsing.Tokens;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.span.SpanOperator;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.IdentityHashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;

/** Reads the text form of scenes. */
final class SceneReader {
  /** All words of the language; no name is one of them. */
  static final Set<String> WORDS =
      Set.of(
          "unit",
          "mm",
          "cm",
          "m",
          "material",
          "is",
          "piece",
          "within",
          "done",
          "take",
          "add",
          "keep",
          "cut",
          "sphere",
          "box",
          "half-space",
          "hull",
          "part",
          "at",
          "radius",
          "from",
          "to",
          "facing",
          "up",
          "through",
          "of");

  private static final Map<String, BigDecimal> MILLIMETRES =
      Map.of("mm", BigDecimal.ONE, "cm", BigDecimal.TEN, "m", BigDecimal.valueOf(1000));

  /** Deeper than any executor, and not so deep that reading it could fail. */
  private static final int DEEPEST = 200;

  /** Names of materials that a message lists. */
  private static final int MOST_NAMED = 12;

  private final Tokens tokens;
  private final IdentityHashMap<Object, Location> places = new IdentityHashMap<>();
  private final Map<String, Integer> materials = new LinkedHashMap<>();
  private BigDecimal unit;
  private int depth;

  SceneReader(String text) {
    tokens = new Tokens("scene", text);
  }

  /** Makes a part of a scene, or refuses it with a message that has no place in the text. */
  private interface Maker<T> {
    T make();
  }

  Scene read() {
    if (tokens.passes("unit")) {
      Location place = tokens.peek().place();
      unit = tokens.number("the length of the unit").multiply(MILLIMETRES.get(lengthUnit()));
      if (unit.signum() <= 0) {
        throw tokens.fault(
            place, "a unit of " + unit.toPlainString() + " mm", "it has to be above 0");
      }
    }
    while (tokens.passes("material")) {
      Tokens.Token name = tokens.peek();
      tokens.name("a material", WORDS);
      tokens.expect("is");
      int number = tokens.integer("the number of the material", 0, Integer.MAX_VALUE);
      if (materials.put(name.text(), number) != null) {
        throw tokens.fault(
            name.place(),
            "material \"" + name.text() + "\"",
            "there is one of that name already; choose another name");
      }
    }
    List<Scene.Item> items = new ArrayList<>();
    while (!tokens.peek().isEnd()) {
      items.add(item("piece, within, or the end of the text"));
    }
    return Scene.placed(unit, materials, items, places);
  }

  private String lengthUnit() {
    return tokens.expect("mm", "cm", "m");
  }

  private <T> T placed(Location place, Maker<T> maker) {
    try {
      T made = maker.make();
      places.put(made, place);
      return made;
    } catch (IllegalArgumentException e) {
      throw tokens.fault(place, e);
    }
  }

  private void deeper(Location place) {
    if (++depth > DEEPEST) {
      throw tokens.fault(
          place, "part or box inside " + DEEPEST + " others", "nest them less deeply");
    }
  }

  private Scene.Item item(String allowed) {
    Location place = tokens.peek().place();
    if (tokens.passes("piece")) {
      String name = tokens.name("a piece", WORDS);
      Scene.Solid solid = recipe();
      return placed(place, () -> new Scene.Piece(name, solid));
    }
    if (!tokens.passes("within")) {
      throw tokens.unexpected(allowed);
    }
    deeper(place);
    tokens.expect("box");
    List<BigDecimal> box = corners();
    List<Scene.Item> items = new ArrayList<>();
    do {
      items.add(item(items.isEmpty() ? "piece or within" : "piece, within or done"));
    } while (!tokens.passes("done"));
    depth--;
    return placed(place, () -> new Scene.Within(box, items));
  }

  /** From take to done. */
  private Scene.Solid recipe() {
    Location place = tokens.peek().place();
    tokens.expect("take");
    Scene.Solid first = solid();
    List<Scene.Step> steps = new ArrayList<>();
    while (true) {
      switch (tokens.expect("add", "keep", "cut", "done")) {
        case "add" -> steps.add(new Scene.Step(SpanOperator.UNION, solid()));
        case "keep" -> steps.add(new Scene.Step(SpanOperator.INTERSECTION, solid()));
        case "cut" -> steps.add(new Scene.Step(SpanOperator.DIFFERENCE, solid()));
        default -> {
          return steps.isEmpty() ? first : placed(place, () -> new Scene.Part(first, steps));
        }
      }
    }
  }

  private Scene.Solid solid() {
    Location place = tokens.peek().place();
    switch (tokens.expect("sphere", "box", "half-space", "hull", "part")) {
      case "sphere" -> {
        tokens.expect("at");
        List<BigDecimal> numbers = new ArrayList<>(lengths("the centre's", 3));
        tokens.expect("radius");
        numbers.addAll(lengths("the radius", 1));
        return primitive(place, OperationKind.SPHERE, numbers, material());
      }
      case "box" -> {
        return primitive(place, OperationKind.BOX, corners(), material());
      }
      case "half-space" -> {
        return primitive(place, OperationKind.HALF_SPACE, face(), material());
      }
      case "hull" -> {
        return hull(place);
      }
      default -> {
        deeper(place);
        Scene.Solid part = recipe();
        depth--;
        return part;
      }
    }
  }

  private Scene.Solid primitive(
      Location place, OperationKind kind, List<BigDecimal> numbers, int material) {
    return placed(place, () -> new Scene.Primitive(kind, numbers, material));
  }

  /** Half-spaces of one material, of which everything lies in all. */
  private Scene.Solid hull(Location place) {
    int material = material();
    List<Scene.Solid> faces = new ArrayList<>();
    do {
      Location at = tokens.peek().place();
      faces.add(primitive(at, OperationKind.HALF_SPACE, face(), material));
    } while (faces.size() < 2 || !tokens.passes("done"));
    List<Scene.Step> steps =
        faces.stream().skip(1).map(f -> new Scene.Step(SpanOperator.INTERSECTION, f)).toList();
    return placed(place, () -> new Scene.Part(faces.get(0), steps));
  }

  private List<BigDecimal> corners() {
    tokens.expect("from");
    List<BigDecimal> numbers = new ArrayList<>(lengths("the lower corner's", 3));
    tokens.expect("to");
    numbers.addAll(lengths("the upper corner's", 3));
    return numbers;
  }

  /** The outward normal, and its product with a point of the face. */
  private List<BigDecimal> face() {
    tokens.expect("facing");
    List<BigDecimal> numbers = new ArrayList<>(numbers("the normal's", 3));
    if (tokens.expect("up", "through").equals("up")) {
      tokens.expect("to");
      numbers.addAll(lengths("the level", 1));
    } else {
      List<BigDecimal> point = lengths("the point's", 3);
      BigDecimal level = BigDecimal.ZERO;
      for (int i = 0; i < 3; i++) {
        level = level.add(numbers.get(i).multiply(point.get(i)));
      }
      numbers.add(level);
    }
    return numbers;
  }

  private List<BigDecimal> numbers(String of, int count) {
    List<BigDecimal> numbers = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      if (i > 0) {
        tokens.expect(",");
      }
      numbers.add(tokens.number(count == 1 ? of : of + " " + "xyz".charAt(i)));
    }
    return numbers;
  }

  /** Numbers, with mm, cm or m behind the last of them where the scene has a unit. */
  private List<BigDecimal> lengths(String of, int count) {
    List<BigDecimal> numbers = numbers(of, count);
    if (unit != null) {
      BigDecimal millimetres = MILLIMETRES.get(lengthUnit());
      return numbers.stream().map(millimetres::multiply).toList();
    }
    Tokens.Token token = tokens.peek();
    if (MILLIMETRES.containsKey(token.text())) {
      throw tokens.fault(
          token.place(),
          "\"" + token.text() + "\"",
          "the scene has no unit, so that lengths are bare numbers;"
              + " leave it out, or begin the scene with a unit such as: unit 25 mm");
    }
    return numbers;
  }

  private int material() {
    tokens.expect("of");
    Integer named = materials.get(tokens.peek().text());
    if (named != null) {
      tokens.next();
      return named;
    }
    List<String> names = materials.keySet().stream().limit(MOST_NAMED).map(Tokens::shown).toList();
    String others = materials.size() > MOST_NAMED ? " and others" : "";
    return tokens.integer("a material: one of " + names + others + " or its number", 0, 1 << 29);
  }
}
