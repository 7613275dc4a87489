package dev.plumbline.cases;

import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.span.SpanOperator;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.stimulus.RandomStream;
import java.util.ArrayList;
import java.util.List;

/**
 * Scene programs by chance, and rays that visit them.
 *
 * <pre>{@code
 * RandomScenes scenes = RandomScenes.of(formats, limits, 4, RandomStream.of(seed));
 * Program program = scenes.next();
 * scenes.rays(program, rays, 0, 4);
 * }</pre>
 *
 * <p>Objects of one solid to a dozen, nested to the deepest; skips over objects, over skips, to
 * skips and to the end; chains of skips; programs of an end alone and of all the memory; rows of
 * solids that make one span more than a list holds. Coordinates lie on a lattice, where many ends
 * coincide exactly, or anywhere. What is drawn follows from the stream alone, the same on every
 * JDK.
 */
public final class RandomScenes {
  private static final OperationKind[] COMBINATIONS = {
    OperationKind.UNION, OperationKind.INTERSECTION, OperationKind.DIFFERENCE
  };

  private final SceneFormats formats;
  private final ProgramLimits limits;
  private final int spans;
  private final RandomStream chance;
  private final SolidDraw draw;

  private RandomScenes(SceneFormats formats, ProgramLimits limits, int spans, RandomStream chance) {
    this.formats = formats;
    this.limits = limits;
    this.spans = spans;
    this.chance = chance;
    this.draw = new SolidDraw(formats, chance);
  }

  /**
   * Programs and rays for an executor.
   *
   * @param formats of programs and rays
   * @param limits of programs
   * @param spans most spans of a list
   * @param chance what they follow from
   * @return an endless row of scenes
   */
  public static RandomScenes of(
      SceneFormats formats, ProgramLimits limits, int spans, RandomStream chance) {
    return new RandomScenes(formats, limits, spans, chance);
  }

  /**
   * Draws the next program.
   *
   * @return a program that keeps every rule
   */
  public Program next() {
    int style = chance.below(16);
    draw.begin(
        style < 7
            ? SolidDraw.Style.LATTICE
            : style < 12
                ? SolidDraw.Style.FREE
                : style < 15 ? SolidDraw.Style.ROW : SolidDraw.Style.CODES);
    int kind = chance.below(64);
    int length = limits.length() - 1; // the end has a word of its own
    List<List<Operation>> parts = new ArrayList<>();
    if (kind == 0) {
      length = 0;
    } else if (kind < 4) {
      // Long enough that operations wait for each other.
      fill(parts, Math.min(length, 70 + chance.below(90)), 6);
    } else if (kind < 8 && fullIsCheap()) {
      fill(parts, length, kind == 4 ? 1 : 6);
      pad(parts, length);
    } else if (kind < 12) {
      chain(parts, Math.min(length, 2 + chance.below(24)));
    } else {
      fill(parts, Math.min(length, 3 + chance.below(32)), 3);
    }
    return assembled(parts);
  }

  /** A large memory is filled now and then only: loading it takes long. */
  private boolean fullIsCheap() {
    return limits.length() <= 128 || chance.below(limits.length() / 64) == 0;
  }

  /** Objects and skips until the program is full; one part in so many is a skip. */
  private void fill(List<List<Operation>> parts, int length, int oneSkipIn) {
    int left = length;
    while (left > 0) {
      List<Operation> part =
          chance.below(oneSkipIn) == 0 ? skip() : chance.below(10) == 0 ? row() : object();
      if (part.size() > left) {
        part = left >= 3 ? single() : skip();
      }
      parts.add(part);
      left -= part.size();
    }
  }

  /** Skips one after the other, with few objects between. */
  private void chain(List<List<Operation>> parts, int length) {
    int left = length;
    while (left > 0) {
      List<Operation> part = left >= 3 && chance.below(6) == 0 ? single() : skip();
      parts.add(part);
      left -= part.size();
    }
  }

  /** Skips up to the end of the memory. */
  private void pad(List<List<Operation>> parts, int length) {
    int used = parts.stream().mapToInt(List::size).sum();
    for (int i = used; i < length; i++) {
      parts.add(skip());
    }
  }

  private List<Operation> skip() {
    return List.of(Operation.skip(0, draw.bounds()));
  }

  private List<Operation> single() {
    return List.of(Operation.of(OperationKind.BEGIN), solid(), Operation.of(OperationKind.CLOSE));
  }

  private Operation solid() {
    return draw.solid(chance.below(limits.materials()));
  }

  /** A few solids and combinations in any order that the stack allows. */
  private List<Operation> object() {
    List<Operation> object = new ArrayList<>();
    object.add(Operation.of(OperationKind.BEGIN));
    int solids = limits.depth() == 1 ? 1 : 1 + chance.below(1 + chance.below(10));
    boolean deep = chance.below(4) == 0; // as deep as it goes before anything is combined
    int height = 0;
    Operation latest = null;
    while (solids > 0 || height > 1) {
      boolean push =
          solids > 0 && height < limits.depth() && (height < 2 || deep || chance.below(2) == 0);
      if (push) {
        // At times the same solid again, of another material: all ends are equal.
        boolean again = latest != null && chance.below(6) == 0;
        latest = again ? repeated(latest) : solid();
        object.add(latest);
        height++;
        solids--;
      } else {
        object.add(combination());
        height--;
      }
    }
    object.add(Operation.of(OperationKind.CLOSE));
    return object;
  }

  private Operation repeated(Operation solid) {
    long[] operands = new long[solid.kind().operands().size()];
    for (int i = 0; i < operands.length; i++) {
      operands[i] = solid.operand(i);
    }
    return Operation.solid(solid.kind(), chance.below(limits.materials()), operands);
  }

  private Operation combination() {
    return Operation.of(COMBINATIONS[chance.below(COMBINATIONS.length)]);
  }

  /** A row of solids, put together or cut out of the first: about as many spans as a list holds. */
  private List<Operation> row() {
    if (limits.depth() == 1) {
      return single();
    }
    List<Operation> row = new ArrayList<>();
    draw.rewind();
    row.add(Operation.of(OperationKind.BEGIN));
    row.add(solid());
    OperationKind usual =
        chance.below(3) == 0 ? OperationKind.DIFFERENCE : OperationKind.of(SpanOperator.UNION);
    for (int i = spans - 1 + chance.below(4); i > 0; i--) {
      row.add(solid());
      row.add(chance.below(12) == 0 ? combination() : Operation.of(usual));
    }
    row.add(Operation.of(OperationKind.CLOSE));
    return row;
  }

  /** Puts parts one after the other, an end behind them, and gives every skip a target. */
  private Program assembled(List<List<Operation>> parts) {
    int[] start = new int[parts.size() + 1];
    for (int i = 0; i < parts.size(); i++) {
      start[i + 1] = start[i] + parts.get(i).size();
    }
    List<Operation> operations = new ArrayList<>();
    for (int i = 0; i < parts.size(); i++) {
      for (Operation operation : parts.get(i)) {
        operations.add(
            operation.kind() == OperationKind.SKIP
                ? aimed(operation, start[target(i, parts.size())])
                : operation);
      }
    }
    operations.add(Operation.of(OperationKind.END));
    return Program.of(formats, limits, operations);
  }

  /** Which part a skip goes to: mostly past the next one. */
  private int target(int part, int parts) {
    int kind = chance.below(10);
    int to =
        kind < 6
            ? part + 2
            : kind < 7 ? part + 1 : kind < 9 ? part + 1 + chance.below(parts - part) : parts;
    return Math.min(parts, to);
  }

  private static Operation aimed(Operation skip, int target) {
    long[] box = new long[skip.kind().operands().size()];
    for (int i = 0; i < box.length; i++) {
      box[i] = skip.operand(i);
    }
    return Operation.skip(target, box);
  }

  /**
   * Draws rays that visit the latest program.
   *
   * @param rays filled
   * @param from the first
   * @param count how many
   */
  public void rays(Rays rays, int from, int count) {
    long[] origin = new long[3];
    long[] heading = new long[3];
    for (int ray = from; ray < from + count; ray++) {
      draw.ray(origin, heading);
      rays.nearest(ray, draw.distance(0, 4), origin, heading);
      long limit = draw.distance(formats.word().maxCode().longValueExact(), 2);
      if (chance.below(4) == 0) {
        rays.anyHit(ray, limit);
      } else if (chance.below(4) == 0) {
        rays.column("limit")[ray] = limit;
      }
    }
  }
}
