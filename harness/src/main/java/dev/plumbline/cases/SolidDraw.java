package dev.plumbline.cases;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.stimulus.RandomStream;
import java.util.Arrays;

/** Draws solids, boxes to cull by, and rays that visit them, in one of several styles. */
final class SolidDraw {
  /** Where things are. */
  enum Style {
    /** Small round numbers and rays along the axes, so that ends coincide exactly. */
    LATTICE,
    /** Anywhere, rays at points in and beside the solids. */
    FREE,
    /** One behind the other along x, apart from each other, so that lists get long. */
    ROW,
    /** All codes alike. */
    CODES
  }

  private static final int AXES = 3;
  private static final int KEPT = 64;

  private final Format word;
  private final Format direction;
  private final RandomStream chance;
  private final long step; // of the lattice
  private final long one; // of directions
  private final long[][] visited = new long[KEPT][AXES + 1]; // middle and size of drawn solids
  private int drawn;
  private long place; // where the next solid of a row begins
  private Style style = Style.FREE;

  SolidDraw(SceneFormats formats, RandomStream chance) {
    this.word = formats.word();
    this.direction = formats.direction();
    this.chance = chance;
    // A scene spans 16 steps either way, a quarter of the word or 8 units if that is less.
    long quarter = 1L << (word.width() - 3);
    this.step = Math.max(1, Math.min(quarter, 8L << word.fractionBits()) / 16);
    this.one = Math.min(1L << direction.fractionBits(), direction.maxCode().longValueExact());
  }

  /** Begins another scene. */
  void begin(Style next) {
    style = next;
    drawn = 0;
    rewind();
  }

  /** Begins a row of solids anew; the first is somewhat before or behind the middle. */
  void rewind() {
    place = -step * chance.below(12);
  }

  private long within(long reach) {
    return chance.below((int) Math.min(Integer.MAX_VALUE - 1, 2 * reach + 1)) - reach;
  }

  private long lattice(int steps) {
    return step * within(steps);
  }

  private long code(Format format) {
    int magnitude = chance.below(format.width());
    long code = chance.next() >> (Long.SIZE - format.width());
    return chance.below(4) == 0 ? code >> magnitude : code;
  }

  private long clamp(long code) {
    return Math.max(
        word.minCode().longValueExact(), Math.min(word.maxCode().longValueExact(), code));
  }

  private void middle(long[] to) {
    for (int axis = 0; axis < AXES; axis++) {
      to[axis] = style == Style.LATTICE ? lattice(6) : within(10 * step);
    }
  }

  /** A sphere, half-space or box. */
  Operation solid(int material) {
    long[] at = visited[drawn++ % KEPT];
    int kind = chance.below(style == Style.ROW ? 5 : 7);
    middle(at);
    at[AXES] =
        style == Style.LATTICE ? step * (1 + chance.below(6)) : 1 + chance.below((int) (6 * step));
    if (style == Style.ROW) {
      at[AXES] = step * (1 + chance.below(2)) / 2 + 1;
      at[0] = place + at[AXES];
      at[1] = 0;
      at[2] = 0;
      place = at[0] + at[AXES] + step * chance.below(3) / 2;
    }
    return kind < 3
        ? sphere(at, material)
        : kind < 5 ? Operation.solid(OperationKind.BOX, material, box(at)) : plane(at, material);
  }

  private Operation sphere(long[] at, int material) {
    long radius = chance.below(24) == 0 ? within(4 * step) : at[AXES];
    return style == Style.CODES
        ? Operation.solid(
            OperationKind.SPHERE, material, code(word), code(word), code(word), code(word))
        : Operation.solid(
            OperationKind.SPHERE, material, clamp(at[0]), clamp(at[1]), clamp(at[2]), radius);
  }

  private Operation plane(long[] at, int material) {
    long[] normal = new long[AXES];
    turn(normal);
    long level = style == Style.LATTICE ? lattice(8) : within(8 * step);
    if (style == Style.CODES) {
      level = code(word);
    }
    at[AXES] = 8 * step; // it is everywhere
    return Operation.solid(
        OperationKind.HALF_SPACE, material, normal[0], normal[1], normal[2], level);
  }

  private long[] box(long[] at) {
    long[] box = new long[2 * AXES];
    for (int axis = 0; axis < AXES; axis++) {
      long half = at[AXES];
      if (style == Style.LATTICE) {
        half = step * (1 + chance.below(6));
      } else if (style == Style.FREE) {
        half = 1L + chance.below((int) (6 * step));
      }
      if (chance.below(40) == 0) {
        half = -within(step); // flat, or inside out
      }
      box[axis] = style == Style.CODES ? code(word) : clamp(at[axis] - half);
      box[AXES + axis] = style == Style.CODES ? code(word) : clamp(at[axis] + half);
    }
    return box;
  }

  /** A box to cull by: around a solid, anywhere, hit by all, hit by none that comes this way. */
  long[] bounds() {
    int kind = chance.below(8);
    long[] box = new long[2 * AXES];
    if (kind < 2) {
      for (int axis = 0; axis < AXES; axis++) {
        box[axis] = kind == 0 ? word.minCode().longValueExact() / 2 : 30 * step;
        box[AXES + axis] = kind == 0 ? word.maxCode().longValueExact() / 2 : 31 * step;
      }
      return box;
    }
    long[] at = new long[AXES + 1];
    if (kind < 5 && drawn > 0) {
      System.arraycopy(visited[chance.below(Math.min(drawn, KEPT))], 0, at, 0, AXES + 1);
    } else {
      middle(at);
      at[AXES] = step * (1 + chance.below(4));
    }
    return box(at);
  }

  /** A unit vector as far as its format goes, along an axis where all is round. */
  private void turn(long[] to) {
    boolean round = style == Style.ROW || (style == Style.LATTICE && chance.below(8) > 0);
    if (style == Style.CODES && chance.below(2) == 0) {
      for (int axis = 0; axis < AXES; axis++) {
        to[axis] = code(direction);
      }
    } else if (round || chance.below(8) == 0) {
      Arrays.fill(to, 0);
      int axis = style == Style.ROW ? 0 : chance.below(AXES);
      to[axis] = chance.below(2) == 0 ? one : -one;
      if (chance.below(8) == 0) {
        to[(axis + 1 + chance.below(2)) % AXES] = 3L - chance.below(7); // its inverse is too large
      }
    } else {
      aim(within(1 << 16), within(1 << 16), within(1 << 16), to);
    }
  }

  private void aim(long toX, long toY, long toZ, long[] to) {
    double x = (double) toX;
    double y = (double) toY;
    double z = (double) toZ;
    double length = Math.sqrt(x * x + y * y + z * z);
    to[0] = length == 0 ? one : Math.round(x / length * one);
    to[1] = length == 0 ? 0 : Math.round(y / length * one);
    to[2] = length == 0 ? 0 : Math.round(z / length * one);
  }

  /** A ray that visits the scene: at a solid, beside it, out of it, or away from it. */
  void ray(long[] origin, long[] heading) {
    if (style == Style.CODES && chance.below(2) == 0) {
      for (int axis = 0; axis < AXES; axis++) {
        origin[axis] = code(word);
      }
      turn(heading);
      return;
    }
    long[] at = visited[drawn == 0 ? 0 : chance.below(Math.min(drawn, KEPT))];
    boolean round = style == Style.LATTICE || style == Style.ROW;
    if (round && chance.below(16) > 0) {
      turn(heading);
      for (int axis = 0; axis < AXES; axis++) {
        long off = style == Style.LATTICE ? lattice(2) : 0;
        origin[axis] = clamp(heading[axis] == 0 ? at[axis] + off : lattice(14));
      }
      return;
    }
    long[] target = new long[AXES];
    for (int axis = 0; axis < AXES; axis++) {
      target[axis] = at[axis] + within(at[AXES] + 1);
    }
    boolean inside = chance.below(4) == 0;
    for (int axis = 0; axis < AXES; axis++) {
      origin[axis] = clamp(inside ? at[axis] + within(at[AXES] + 1) : within(14 * step));
    }
    int sign = chance.below(8) == 0 ? -1 : 1;
    aim(
        sign * (target[0] - origin[0]),
        sign * (target[1] - origin[1]),
        sign * (target[2] - origin[2]),
        heading);
  }

  /** A distance to start at or to stop before. */
  long distance(long usual, int oneIn) {
    if (chance.below(oneIn) > 0) {
      return usual;
    }
    return style == Style.CODES
        ? code(word)
        : clamp(chance.below(3) == 0 ? within(8 * step) : lattice(16));
  }
}
