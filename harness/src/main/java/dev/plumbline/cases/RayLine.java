package dev.plumbline.cases;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.stimulus.RandomStream;

/**
 * A line along an axis with numbered places on it, in rising distance from where its rays begin;
 * place 0 is ahead of them, place -1 behind. Faces at one place have the same code, so that their
 * distances are the same in every format.
 */
final class RayLine {
  private static final int AXES = 3;

  private final Format word;
  private final Format direction;
  private final RandomStream chance;
  private final long[] at; // by place + 1: distance along the line, in codes of the word
  private final long gap;
  private final long one; // of directions
  private int axis;
  private long sign;
  private long origin;

  RayLine(SceneFormats formats, int places, RandomStream chance) {
    this.word = formats.word();
    this.direction = formats.direction();
    this.chance = chance;
    this.at = new long[places + 1];
    this.gap = gap(word, places);
    this.one = Math.min(1L << direction.fractionBits(), direction.maxCode().longValueExact());
  }

  /** The mean distance of places: half of what the word holds, or 16 units if less, shared out. */
  static long gap(Format word, int places) {
    long reach = Math.min(1L << (word.width() - 2), 16L << word.fractionBits());
    return Math.max(1, reach / (places + 1));
  }

  /** Draws axis, heading and places. */
  void draw() {
    draw(chance.below(AXES), chance.below(2));
  }

  /** Draws places along an axis, upwards (0) or downwards (1). */
  void draw(int along, int heading) {
    axis = along;
    sign = 1L - 2L * heading;
    origin = -sign * gap * (at.length / 2);
    for (int place = 0; place < at.length; place++) {
      long free = Math.min(gap / 2, 1 << 20);
      at[place] = gap * (place - 1) + (place == 0 ? 0 : gap / 2 + chance.below((int) free + 1));
    }
  }

  private long code(int place) {
    return origin + sign * at[place + 1];
  }

  /** The distance of the farthest place, about; more than any other. */
  long farthest() {
    return gap * at.length;
  }

  /** A box from one place to another, around the line. */
  long[] boxAt(int from, int to) {
    long[] box = new long[2 * AXES];
    for (int i = 0; i < AXES; i++) {
      box[i] = i == axis ? Math.min(code(from), code(to)) : -gap;
      box[AXES + i] = i == axis ? Math.max(code(from), code(to)) : gap;
    }
    return box;
  }

  /** A box that every ray passes by. */
  long[] boxBeside() {
    long[] box = boxAt(0, 1);
    int beside = (axis + 1) % AXES;
    box[beside] = -4 * gap;
    box[AXES + beside] = -3 * gap;
    return box;
  }

  /** A solid that the line crosses from one place to another; a half-space ends at the latter. */
  Operation solid(OperationKind kind, int from, int to, int material) {
    if (kind == OperationKind.BOX) {
      return Operation.solid(kind, material, boxAt(from, to));
    }
    long[] operands = new long[AXES + 1];
    if (kind == OperationKind.SPHERE) {
      operands[axis] = (code(from) + code(to)) / 2;
      operands[AXES] = Math.max(1, Math.abs(code(to) - code(from)) / 2);
    } else {
      operands[axis] = sign * one;
      operands[AXES] = sign * code(to);
    }
    return Operation.solid(kind, material, operands);
  }

  /** A box that no ray meets. */
  Operation missed(int material) {
    return Operation.solid(OperationKind.BOX, material, boxBeside());
  }

  /** A half-space that the line runs in from end to end. */
  Operation everywhere(int material) {
    long[] operands = new long[AXES + 1];
    operands[(axis + 1) % AXES] = one;
    operands[AXES] = 8 * gap;
    return Operation.solid(OperationKind.HALF_SPACE, material, operands);
  }

  /** A ray along the line. */
  Ray meets() {
    return new Ray(0, false, highest());
  }

  /** A ray beside it that meets no box. */
  Ray passesBy() {
    return new Ray(2 * gap, false, highest());
  }

  private long highest() {
    return word.maxCode().longValueExact();
  }

  /** A ray so far beside the line. */
  final class Ray {
    private final long beside;
    private final boolean anyHit;
    private final long limit;

    private Ray(long beside, boolean anyHit, long limit) {
      this.beside = beside;
      this.anyHit = anyHit;
      this.limit = limit;
    }

    /** The same, ended by any surface before a limit. */
    Ray before(long end) {
      return new Ray(beside, true, end);
    }

    /** The same, which sees nothing at a limit or beyond. */
    Ray nearerThan(long end) {
      return new Ray(beside, anyHit, end);
    }

    void put(Rays rays, int ray) {
      long[] from = new long[AXES];
      long[] heading = new long[AXES];
      from[axis] = origin;
      from[(axis + 1) % AXES] = beside;
      heading[axis] = sign * one;
      rays.nearest(ray, 0, from, heading);
      rays.column("limit")[ray] = limit;
      rays.column("any_hit")[ray] = anyHit ? 1 : 0;
    }
  }
}
