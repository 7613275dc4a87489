package dev.plumbline.models.scene;

import dev.plumbline.models.parsing.Location;
import dev.plumbline.models.parsing.TextException;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.span.SpanOperator;
import java.math.BigDecimal;
import java.util.Collections;
import java.util.IdentityHashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;

/**
 * A scene: pieces made of solids, which a ray meets one after the other.
 *
 * <pre>{@code
 * Scene scene = Scene.parse(
 *     """
 *     unit 25 mm
 *     material brass is 3
 *     piece bell
 *       take sphere at 0, 0, 100 mm radius 40 mm of brass
 *       cut sphere at 0, 0, 100 mm radius 36 mm of brass
 *     done
 *     """);
 * Program program = scene.program(formats, limits);
 * }</pre>
 *
 * <p>The page SCENES.md beside this module describes the text form, which {@link #toString} prints
 * again. Lengths are exact decimals, in millimetres where the scene has a unit and in units of the
 * program's words where it has none. Scenes are immutable and equal when they have the same
 * content, wherever it stood in a text.
 */
public final class Scene {
  /** What a scene is a sequence of. */
  public sealed interface Item permits Piece, Within {}

  /**
   * One object, of which a ray sees the nearest surface.
   *
   * @param name for readers; pieces may share one
   * @param solid what it is made of
   */
  public record Piece(String name, Solid solid) implements Item {}

  /**
   * Items that a ray passes over when it misses a box.
   *
   * @param box min_x, min_y, min_z, max_x, max_y, max_z
   * @param items one or more, in order; the box has to enclose them, which nobody checks
   */
  public record Within(List<BigDecimal> box, List<Item> items) implements Item {
    /** Checks the box, and takes copies. */
    public Within {
      box = SceneNumbers.operands(OperationKind.SKIP, box);
      items = List.copyOf(items);
      if (items.isEmpty()) {
        throw new IllegalArgumentException("Box around no piece: put one or more into it.");
      }
    }
  }

  /** A solid: one of those that operations know, or a part made of several. */
  public sealed interface Solid permits Primitive, Part {}

  /**
   * A sphere, half-space or box.
   *
   * @param kind which
   * @param numbers in the order of {@link OperationKind#operands}; a radius is not negative, a
   *     minimum not above its maximum
   * @param material its number, 0 or more
   */
  public record Primitive(OperationKind kind, List<BigDecimal> numbers, int material)
      implements Solid {
    /** Checks the numbers, and takes a copy. */
    public Primitive {
      if (!kind.isSolid()) {
        throw new IllegalArgumentException(
            "Solid of kind " + kind + ": it has to be a sphere, half_space or box.");
      }
      numbers = SceneNumbers.operands(kind, numbers);
      if (material < 0) {
        throw new IllegalArgumentException(
            kind + " of material " + material + ": it has to be 0 or more.");
      }
    }
  }

  /**
   * Solids put together from left to right.
   *
   * @param first what there is to begin with
   * @param steps one or more, in order
   */
  public record Part(Solid first, List<Step> steps) implements Solid {
    /** Checks that it is more than its first solid, and takes a copy. */
    public Part {
      steps = List.copyOf(steps);
      if (steps.isEmpty()) {
        throw new IllegalArgumentException("Part of one solid: use the solid itself.");
      }
    }
  }

  /**
   * One more solid of a part.
   *
   * @param operator how it is combined with all before it, which is the left one
   * @param solid the right one
   */
  public record Step(SpanOperator operator, Solid solid) {}

  private final BigDecimal unit;
  private final Map<String, Integer> materials;
  private final List<Item> items;
  private final IdentityHashMap<Object, Location> places;

  private Scene(
      BigDecimal unit,
      Map<String, Integer> materials,
      List<Item> items,
      IdentityHashMap<Object, Location> places) {
    this.unit = unit;
    this.materials = Collections.unmodifiableMap(new LinkedHashMap<>(materials));
    this.items = List.copyOf(items);
    this.places = places;
  }

  /**
   * A scene put together in a program.
   *
   * @param unit millimetres that the number 1 of a program's words stands for, above 0; null for
   *     lengths in words
   * @param materials their names and numbers, 0 or more
   * @param items in order
   * @return the scene
   * @throws IllegalArgumentException when the unit is not above 0 or a name is none
   */
  public static Scene of(BigDecimal unit, Map<String, Integer> materials, List<Item> items) {
    return placed(unit, materials, items, new IdentityHashMap<>());
  }

  static Scene placed(
      BigDecimal unit,
      Map<String, Integer> materials,
      List<Item> items,
      IdentityHashMap<Object, Location> places) {
    SceneNumbers.check(unit, materials, items);
    return new Scene(unit == null ? null : unit.stripTrailingZeros(), materials, items, places);
  }

  /**
   * Reads a scene.
   *
   * @param text as the page SCENES.md has it
   * @return the scene
   * @throws TextException when something may not stand where it does
   */
  public static Scene parse(String text) {
    return new SceneReader(text).read();
  }

  /**
   * The scene as a program: each number becomes the nearest code of its format, of two equally near
   * the one further from zero.
   *
   * @param formats of the program's codes
   * @param limits of the executor
   * @return a program that ends with {@code end}
   * @throws TextException when a number is out of its format's range (never clipped), or the
   *     program breaks a limit; it names the place in the text
   */
  public Program program(SceneFormats formats, ProgramLimits limits) {
    return new SceneAssembly(this, formats, limits).assemble();
  }

  /**
   * Millimetres that the number 1 of a program's words stands for.
   *
   * @return above 0; null where lengths are in words
   */
  public BigDecimal unit() {
    return unit;
  }

  /**
   * The named materials.
   *
   * @return numbers by name, in order of declaration, unmodifiable
   */
  public Map<String, Integer> materials() {
    return materials;
  }

  /**
   * What there is.
   *
   * @return in order, unmodifiable
   */
  public List<Item> items() {
    return items;
  }

  /** The same unit and materials with other items. */
  Scene with(List<Item> others) {
    return new Scene(unit, materials, others, places);
  }

  Location placeOf(Object node) {
    return places.getOrDefault(node, Location.NONE);
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof Scene s
        && Objects.equals(unit, s.unit)
        && materials.equals(s.materials)
        && items.equals(s.items);
  }

  @Override
  public int hashCode() {
    return Objects.hash(unit, materials, items);
  }

  /** The text form, which {@link #parse} reads as an equal scene. */
  @Override
  public String toString() {
    return new SceneWriter(this).text();
  }
}
