package dev.plumbline.cases;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.stimulus.Share;
import dev.plumbline.stimulus.Stimulus;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

/**
 * Rays and solids that go together: aimed to hit, to miss, to graze, or at what is degenerate.
 *
 * <pre>{@code
 * Stimulus rays =
 *     RayCases.atSpheres(word, direction).weight(RayCases.Aim.GRAZE, 8).grazing(3).stimulus();
 * }</pre>
 *
 * <p>Operands are those of the models of the same solids, found by name, in any order, each of up
 * to 62 bits. Directions at spheres and planes that are aimed to hit, to miss or to graze are of
 * unit length as far as their format goes; boxes take any length. Origins and solids lie within 32
 * units of the middle, or a quarter of the word's range if that is less, but for {@link
 * Aim#LIMITS}. Same seed, same cases; nothing is allocated per case. Immutable.
 */
public final class RayCases {
  private final Solid solid;
  private final Map<Aim, Integer> weights;
  private final int lsbs;

  /** What a ray is after. */
  public enum Aim {
    /** A point in the solid, from outside, from inside, or facing away. */
    HIT,
    /** A point beside the solid. */
    MISS,
    /** The very rim: along directions without rounding, tangents, edges and corners. */
    GRAZE,
    /** Small round numbers for everything. */
    LATTICE,
    /** Flat, pointlike and inverted solids, origins on the surface, rays in a face. */
    DEGENERATE,
    /** The ends of the formats, also of all operands at once, and powers of two. */
    LIMITS
  }

  /** Makes the source of one kind of solid. */
  @FunctionalInterface
  interface Solid {
    RaySource open(Aim aim, int lsbs, List<Operand> operands, long seed);
  }

  private RayCases(Solid solid, Map<Aim, Integer> weights, int lsbs) {
    this.solid = solid;
    this.weights = weights;
    this.lsbs = lsbs;
  }

  private static RayCases of(Solid solid) {
    Map<Aim, Integer> weights = new EnumMap<>(Aim.class);
    weights.put(Aim.HIT, 8);
    weights.put(Aim.MISS, 3);
    weights.put(Aim.GRAZE, 4);
    weights.put(Aim.LATTICE, 2);
    weights.put(Aim.DEGENERATE, 2);
    weights.put(Aim.LIMITS, 1);
    return new RayCases(solid, weights, 2);
  }

  /**
   * Rays at boxes with faces along the axes, given by their direction.
   *
   * <p>Operands {@code origin_x}, {@code direction_x}, {@code min_x}, {@code max_x} and so on.
   *
   * @param word format of origins and faces
   * @param direction format of the direction
   * @return rays, each aim in a weight of its own
   */
  public static RayCases atBoxes(Format word, Format direction) {
    return of(
        (aim, places, operands, seed) -> new BoxRays(word, direction, aim, places, operands, seed));
  }

  /**
   * Rays at boxes, given by the inverse of their direction.
   *
   * <p>Operands {@code origin_x}, {@code inverse_x}, {@code min_x}, {@code max_x} and so on, and
   * {@code parallel_x} where there is one; without, the inverse of zero is the highest code.
   *
   * @param word format of origins and faces
   * @param inverse format of the inverse
   * @return rays, each aim in a weight of its own
   */
  public static RayCases atBoxesByInverse(Format word, Format inverse) {
    return of(
        (aim, places, operands, seed) -> new BoxRays(word, inverse, aim, places, operands, seed));
  }

  /**
   * Rays at spheres.
   *
   * <p>Operands {@code origin_x}, {@code direction_x}, {@code centre_x} and so on, {@code radius}.
   *
   * @param word format of points and radius
   * @param direction format of the direction
   * @return rays, each aim in a weight of its own
   */
  public static RayCases atSpheres(Format word, Format direction) {
    return of(
        (aim, places, operands, seed) ->
            new SphereRays(word, direction, aim, places, operands, seed));
  }

  /**
   * Rays at planes.
   *
   * <p>Operands {@code origin_x}, {@code direction_x}, {@code normal_x} and so on, {@code level}.
   *
   * @param word format of origin and level
   * @param direction format of direction and normal
   * @return rays, each aim in a weight of its own
   */
  public static RayCases atPlanes(Format word, Format direction) {
    return of(
        (aim, places, operands, seed) ->
            new PlaneRays(word, direction, aim, places, operands, seed));
  }

  /**
   * The same rays in other proportions.
   *
   * @param aim which of them
   * @param weight 0 for none; its share is the weight over the sum of all
   * @return a copy
   */
  public RayCases weight(Aim aim, int weight) {
    if (weight < 0) {
      throw new IllegalArgumentException(
          "Rays aimed to " + aim + " cannot have weight " + weight + "; 0 or more is allowed.");
    }
    Map<Aim, Integer> changed = new EnumMap<>(weights);
    changed.put(aim, weight);
    return new RayCases(solid, changed, lsbs);
  }

  /**
   * Sets the distance from the rim within which grazing rays pass.
   *
   * @param within LSB of the word, 0 to 1024; 2 unless set
   * @return a copy
   */
  public RayCases grazing(int within) {
    if (within < 0 || within > 1024) {
      throw new IllegalArgumentException(
          "Rays cannot graze within " + within + " LSB; 0 to 1024 are allowed.");
    }
    return new RayCases(solid, weights, within);
  }

  /**
   * The cases.
   *
   * @return a stimulus for benches
   */
  public Stimulus stimulus() {
    List<Share<Stimulus>> shares = new ArrayList<>();
    weights.forEach(
        (aim, weight) -> {
          if (weight > 0) {
            shares.add(
                Share.of(
                    weight, (operands, seed, firstCase) -> solid.open(aim, lsbs, operands, seed)));
          }
        });
    return Stimulus.mix(shares.toArray(RayCases::array));
  }

  @SuppressWarnings("unchecked")
  private static Share<Stimulus>[] array(int length) {
    return (Share<Stimulus>[]) new Share<?>[length];
  }
}
