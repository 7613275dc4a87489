package dev.plumbline.models.light;

import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.models.traversal.SceneUnits;
import java.util.ArrayList;
import java.util.List;

/**
 * The rays that one pixel takes in the declared arithmetic, in the order in which they are sent,
 * and what each of them meets.
 *
 * <pre>{@code
 * PixelRays pixel = PixelRays.of(program, lighting, 4, 17, 9);
 * pixel.met().forEach(System.out::println);
 * }</pre>
 */
public final class PixelRays {
  private final Rays rays;
  private final List<Met> met;
  private final int colour;

  /** Why a ray is sent. */
  public enum Kind {
    /** From the eye through the pixel. */
    PRIMARY("primary"),
    /** From the surface seen towards the lamp. */
    SHADOW("shadow"),
    /** From a surface that mirrors. */
    MIRROR("mirror"),
    /** From the surface seen in the mirror towards the lamp. */
    MIRROR_SHADOW("mirror shadow");

    private final String words;

    Kind(String words) {
      this.words = words;
    }

    @Override
    public String toString() {
      return words;
    }
  }

  /**
   * What a ray met.
   *
   * @param kind of the ray
   * @param hit whether there is a surface; of shadow rays, whether it is blocked
   * @param distance a code of the word; 0 without a surface and of shadow rays
   * @param address of the solid met, in the program; 0 without a surface and of shadow rays
   * @param face of a box, 2 axis + side; else 0
   */
  public record Met(Kind kind, boolean hit, long distance, int address, int face) {}

  /** Traces one ray after the other and writes them down. */
  private static final class Journal implements RayTracer {
    private static final List<Kind> KINDS = List.of(Kind.values());

    private final RayTracer tracer;
    private final List<long[]> codes = new ArrayList<>();
    private final List<Met> met = new ArrayList<>();
    private int calls;

    Journal(RayTracer tracer) {
      this.tracer = tracer;
    }

    /** Of a pixel these come in the order of the kinds, some of them with no ray. */
    @Override
    public void trace(Rays rays, int count, Surfaces into) {
      tracer.trace(rays, count, into);
      Kind kind = KINDS.get(calls++);
      if (count > 0) {
        codes.add(Rays.names().stream().mapToLong(name -> rays.column(name)[0]).toArray());
        boolean nearest = rays.column("any_hit")[0] == 0 && into.hit[0];
        met.add(
            new Met(
                kind,
                into.hit[0],
                nearest ? into.distance[0] : 0,
                nearest ? into.address[0] : 0,
                nearest ? into.face[0] : 0));
      }
    }
  }

  private PixelRays(SceneFormats formats, Journal journal, int colour) {
    this.rays = Rays.of(formats, journal.codes.size());
    this.met = List.copyOf(journal.met);
    this.colour = colour;
    for (int ray = 0; ray < met.size(); ray++) {
      for (int i = 0; i < Rays.names().size(); i++) {
        rays.column(Rays.names().get(i))[ray] = journal.codes.get(ray)[i];
      }
    }
  }

  /**
   * The rays of a pixel of a scene as its program is run.
   *
   * @param program of the scene
   * @param lighting in the same formats
   * @param spans most spans of a list
   * @param x 0 to 4095
   * @param y 0 to 4095
   * @return its rays
   * @throws IllegalArgumentException when the formats differ
   */
  public static PixelRays of(Program program, Lighting lighting, int spans, int x, int y) {
    SceneUnits units = SceneUnits.of(program.formats());
    Journal journal = new Journal(RayTracer.of(program, units, spans));
    int[] colour = new int[1];
    ExactLight.of(program, lighting, journal).run(new int[] {x}, new int[] {y}, 1, colour);
    return new PixelRays(program.formats(), journal, colour[0]);
  }

  /**
   * The rays.
   *
   * @return as an executor takes them; with tags of 0
   */
  public Rays rays() {
    return rays;
  }

  /**
   * What they meet.
   *
   * @return ray by ray
   */
  public List<Met> met() {
    return met;
  }

  /**
   * The pixel's colour.
   *
   * @return 24 bits
   */
  public int colour() {
    return colour;
  }
}
