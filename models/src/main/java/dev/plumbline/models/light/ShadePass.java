package dev.plumbline.models.light;

import dev.plumbline.models.datapath.BitEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.traversal.Rays;
import java.util.Arrays;

/**
 * Shades what rays meet, a block at a time, in bits: surface points, shadow rays, colours.
 *
 * <p>Rays that meet nothing have no entry in the columns; {@link #ray} says whose each is.
 */
final class ShadePass {
  private static final int AXES = SurfaceTable.AXES;

  private final Lighting lighting;
  private final SurfaceTable table;
  private final RayTracer tracer;
  private final BitEvaluation points;
  private final BitEvaluation channels;
  private final long[][] given; // origin, direction, centre, plane by axis
  private final long[] distance;
  private final long[] sphere;
  private final long[] box;
  private final long[] face;
  private final long[] inverseRadius;
  private final long[] cosine;
  private final long[] base;
  private final long[] light;
  private final long[] own;
  private final Rays shadows;
  private final Surfaces blocked;
  private final int[] shadowed; // whose each shadow ray is

  /** By entry: the ray, its material, its colour. */
  final int[] ray;

  final Material[] material;
  final int[] colour;

  /** By axis and entry: where secondary rays begin, and where the mirrored one goes. */
  final long[][] start = new long[AXES][];

  final long[][] reflected = new long[AXES][];

  /** The normal that faces the ray, by axis and entry. */
  final long[][] normal = new long[AXES][];

  int count;
  int shadowRays;

  ShadePass(Lighting lighting, SurfaceTable table, RayTracer tracer, int capacity) {
    this.lighting = lighting;
    this.table = table;
    this.tracer = tracer;
    SceneFormats formats = lighting.formats();
    Datapath point = SurfacePoint.datapath(formats);
    this.points = point.bits(capacity);
    String[] vectors = {"origin", "direction", "centre", "plane"};
    this.given = new long[vectors.length * AXES][];
    for (int axis = 0; axis < AXES; axis++) {
      String suffix = "_" + "xyz".charAt(axis);
      for (int k = 0; k < vectors.length; k++) {
        given[k * AXES + axis] = Codes.input(point, points, vectors[k] + suffix);
      }
      Arrays.fill(Codes.input(point, points, "lamp" + suffix), lighting.lamp(axis));
      start[axis] = Codes.output(point, points, "start" + suffix);
      reflected[axis] = Codes.output(point, points, "reflected" + suffix);
      normal[axis] = Codes.output(point, points, "normal" + suffix);
    }
    Arrays.fill(Codes.input(point, points, "epsilon"), lighting.epsilon());
    this.distance = Codes.input(point, points, "distance");
    this.sphere = Codes.input(point, points, "sphere");
    this.box = Codes.input(point, points, "box");
    this.face = Codes.input(point, points, "face");
    this.inverseRadius = Codes.input(point, points, "inverse_radius");
    this.cosine = Codes.output(point, points, "cosine");
    Datapath channel = ColourChannel.lit();
    this.channels = channel.bits(capacity);
    this.base = Codes.input(channel, channels, "base");
    this.light = Codes.input(channel, channels, "cosine");
    Arrays.fill(Codes.input(channel, channels, "ambient"), lighting.ambient());
    this.own = Codes.output(channel, channels, "own");
    this.shadows = Rays.of(formats, capacity);
    this.blocked = new Surfaces(capacity);
    this.shadowed = new int[capacity];
    this.ray = new int[capacity];
    this.material = new Material[capacity];
    this.colour = new int[capacity];
    prepareShadows(formats, capacity);
  }

  /** All shadow rays go the same way. */
  private void prepareShadows(SceneFormats formats, int capacity) {
    DirectionColumns directions = new DirectionColumns(formats, capacity);
    long[] lamp = new long[capacity];
    for (int axis = 0; axis < AXES; axis++) {
      Arrays.fill(lamp, lighting.lamp(axis));
      directions.set(shadows, axis, lamp, capacity);
    }
    Arrays.fill(shadows.column("limit"), formats.word().maxCode().longValue());
    Arrays.fill(shadows.column("any_hit"), 1);
  }

  /** Shades the surfaces of so many rays. */
  void run(Rays rays, Surfaces surfaces, int rayCount) {
    count = 0;
    for (int i = 0; i < rayCount; i++) {
      if (surfaces.hit[i]) {
        ray[count++] = i;
      }
    }
    for (int axis = 0; axis < AXES; axis++) {
      String suffix = "_" + "xyz".charAt(axis);
      gather(rays.column("origin" + suffix), given[axis]);
      gather(rays.column("direction" + suffix), given[AXES + axis]);
      for (int i = 0; i < count; i++) {
        int address = surfaces.address[ray[i]];
        given[2 * AXES + axis][i] = table.centre(address, axis);
        given[3 * AXES + axis][i] = table.plane(address, axis);
      }
    }
    gather(surfaces.distance, distance);
    for (int i = 0; i < count; i++) {
      int address = surfaces.address[ray[i]];
      sphere[i] = table.sphere(address);
      box[i] = table.box(address);
      face[i] = surfaces.face[ray[i]];
      inverseRadius[i] = table.inverseRadius(address);
      material[i] = lighting.material(table.material(address));
    }
    points.run(count);
    castShadows();
    paint();
  }

  private void gather(long[] from, long[] into) {
    for (int i = 0; i < count; i++) {
      into[i] = from[ray[i]];
    }
  }

  private void castShadows() {
    shadowRays = 0;
    for (int i = 0; i < count; i++) {
      light[i] = cosine[i];
      if (cosine[i] > 0) {
        shadowed[shadowRays++] = i;
      }
    }
    for (int axis = 0; axis < AXES; axis++) {
      long[] origin = shadows.column("origin_" + "xyz".charAt(axis));
      for (int k = 0; k < shadowRays; k++) {
        origin[k] = start[axis][shadowed[k]];
      }
    }
    tracer.trace(shadows, shadowRays, blocked);
    for (int k = 0; k < shadowRays; k++) {
      light[shadowed[k]] = blocked.hit[k] ? 0 : light[shadowed[k]];
    }
  }

  private void paint() {
    Arrays.fill(colour, 0, count, 0);
    for (int shift = 16; shift >= 0; shift -= 8) {
      for (int i = 0; i < count; i++) {
        base[i] = material[i].colour() >> shift & 0xFF;
      }
      channels.run(count);
      for (int i = 0; i < count; i++) {
        colour[i] |= (int) own[i] << shift;
      }
    }
  }

  /** How much of the lamp an entry has, in 2<sup>16</sup>ths; 0 in the shadow. */
  long light(int entry) {
    return light[entry];
  }

  /** The cosine of an entry, in 2<sup>16</sup>ths, shadow or not. */
  long cosine(int entry) {
    return cosine[entry];
  }
}
