package dev.plumbline.lockstep;

import dev.plumbline.lockstep.SceneScript.Part;
import dev.plumbline.lockstep.SceneScript.Ray;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramException;
import dev.plumbline.models.traversal.Predictor;
import dev.plumbline.models.traversal.Rays;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;

/**
 * Plain scenes of any length that fill what an executor has room for: its memory, its queue, its
 * stack, its lists and its counters. Random programs seldom come down to them by leaving out, since
 * they are not made of parts of each other.
 */
final class SmallScenes {
  /** What sequences are made of; a ray meets all of it. */
  enum Unit {
    SKIP(1),
    OBJECT(1),
    /** An object of two solids and their union. */
    COMBINED(3);

    private final int solids;

    Unit(int solids) {
      this.solids = solids;
    }

    /** Solids, skips and combinations. */
    int solids() {
      return solids;
    }
  }

  /** What is repeated, and what stands before and behind it. */
  enum Shape {
    /** Skips whose boxes are missed, each predicted wrongly. */
    MISSED(0, 1),
    /** Skips whose boxes are hit, each predicted rightly. */
    HIT(0, 1),
    /** Skips whose boxes are missed and hit, each predicted wrongly by what those before taught. */
    FORETOLD_WRONGLY(0, 1),
    /** Objects of one solid. */
    OBJECTS(0, 1),
    /** The same, an address later. */
    OBJECTS_AFTER_ONE(1, 1),
    /** The same, two addresses later. */
    OBJECTS_AFTER_TWO(2, 1),
    /** A surface and skips whose boxes lie behind it, which is known late. */
    HIDDEN(1, 1),
    /** A surface and skips whose boxes are missed. */
    MISSED_BEHIND(1, 1),
    /** Objects of one solid behind a box that is hidden by a surface. */
    OBJECTS_HIDDEN(2, 1),
    /** A hidden box, and objects that are passed over for it. */
    OBJECTS_PASSED_OVER(2, 1),
    /** A hidden box, and skips that are passed over for it. */
    SKIPS_PASSED_OVER(2, 1),
    /** Objects of which the first and the last are hit, those between them missed. */
    OBJECTS_APART(2, 1),
    /** A combination and objects of one solid, which have to wait for it. */
    OBJECTS_WAITING(3, 1),
    /** Objects of one combination. */
    COMBINATIONS(0, 3),
    /** The union of two solids, and so on. */
    UNIONS(-1, 2),
    /** As many lists as solids, and then one of them. */
    NESTED(-1, 2),
    /** Objects and skips behind them, the first hit and the second missed. */
    OBJECTS_HIT_MISSED(2, 1),
    /** The same, the first missed and the second hit. */
    OBJECTS_MISSED_HIT(2, 1),
    /** Objects between skips: one missed, one hit; and one hit behind them. */
    OBJECTS_BETWEEN_HIT(3, 1),
    /** The same the other way round. */
    OBJECTS_BETWEEN_MISSED(3, 1);

    private final int fixed;
    private final int each;

    Shape(int fixed, int each) {
      this.fixed = fixed;
      this.each = each;
    }

    /** Solids, skips and combinations, of which so many are repeated. */
    int solids(int count) {
      return fixed + each * count;
    }

    /** How many may be repeated with no more solids, skips and combinations; 0 for none. */
    int countOf(int solids) {
      return Math.max(0, (solids - fixed) / each);
    }

    /** Whether a ray comes to every operation, and to many of a kind. */
    boolean isPassedThrough() {
      return switch (this) {
        case OBJECTS_PASSED_OVER, SKIPS_PASSED_OVER, OBJECTS_APART -> false;
        default -> true;
      };
    }
  }

  /** The rays that go through a scene. */
  enum Gaze {
    ONE,
    /** An any-hit ray and one that looks for the nearest surface. */
    ANY_HIT_FIRST,
    TWO,
    /** Many any-hit rays, one program: words are looked up that none of them comes to. */
    MANY_ANY_HIT
  }

  /** Units without skips. */
  static final List<Unit> OF_OBJECTS = List.of(Unit.OBJECT, Unit.COMBINED);

  /** One ray or two. */
  static final List<Gaze> FEW = List.of(Gaze.ONE, Gaze.ANY_HIT_FIRST, Gaze.TWO);

  /** What fills the memory with the fewest solids. */
  static final List<Shape> OBJECTS =
      List.of(Shape.OBJECTS, Shape.OBJECTS_AFTER_ONE, Shape.OBJECTS_AFTER_TWO);

  /** Times that many rays go through a program. */
  private static final int MANY = 12;

  /** Whole units at which something may stand before a ray, in halves. */
  private static final int PLACES = 6;

  private static final long AWAY = 3;

  private final Executor executor;
  private final boolean hasReset;
  private final Rays single;
  private final long unit;

  SmallScenes(Executor executor, boolean hasReset) {
    this.executor = executor;
    this.hasReset = hasReset;
    this.single = Rays.of(executor.formats(), 1);
    Format word = executor.formats().word();
    this.unit =
        Math.max(1, (1L << Math.max(0, Math.min(word.fractionBits(), word.width() - 3))) / 2);
  }

  /** A scene of a shape with so many of what is repeated; empty where there is no room for it. */
  List<Part> of(Shape shape, int count, Gaze gaze) {
    List<Operation> made = new ArrayList<>();
    switch (shape) {
      case MISSED -> skips(made, count, box(AWAY, 1));
      case HIT -> skips(made, count, box(0, 1));
      case FORETOLD_WRONGLY -> foretoldWrongly(made, count);
      case OBJECTS -> objects(made, count, 1);
      case OBJECTS_AFTER_ONE -> {
        skips(made, 1, box(0, 1));
        objects(made, count, 1);
      }
      case OBJECTS_AFTER_TWO -> {
        skips(made, 2, box(0, 1));
        objects(made, count, 1);
      }
      case HIDDEN -> {
        objects(made, 1, 1);
        skips(made, count, box(0, PLACES - 1));
      }
      case MISSED_BEHIND -> {
        objects(made, 1, 1);
        skips(made, count, box(AWAY, 1));
      }
      case OBJECTS_HIDDEN -> {
        objects(made, 1, 1);
        skips(made, 1, box(0, PLACES - 1));
        objects(made, count, 1);
      }
      case OBJECTS_PASSED_OVER -> {
        objects(made, 1, 1);
        made.add(Operation.skip(made.size() + 1 + 3 * count, box(0, PLACES - 1)));
        objects(made, count, 1);
      }
      case SKIPS_PASSED_OVER -> {
        objects(made, 1, 1);
        made.add(Operation.skip(made.size() + 1 + count, box(0, PLACES - 1)));
        skips(made, count, box(0, 1));
      }
      case OBJECTS_APART -> {
        objects(made, 1, 1);
        for (int object = 0; object < count; object++) {
          made.add(Operation.of(OperationKind.BEGIN));
          made.add(Operation.solid(OperationKind.BOX, 0, box(AWAY, 1)));
          made.add(Operation.of(OperationKind.CLOSE));
        }
        objects(made, 1, 1);
      }
      case OBJECTS_WAITING -> {
        objects(made, 1, 2);
        objects(made, count, 1);
      }
      case COMBINATIONS -> objects(made, count, 2);
      case UNIONS -> objects(made, 1, count);
      case NESTED -> nested(made, count);
      case OBJECTS_HIT_MISSED -> {
        objects(made, count, 1);
        skips(made, 1, box(0, 1));
        skips(made, 1, box(AWAY, 1));
      }
      case OBJECTS_MISSED_HIT -> {
        objects(made, count, 1);
        skips(made, 1, box(AWAY, 1));
        skips(made, 1, box(0, 1));
      }
      case OBJECTS_BETWEEN_HIT -> {
        skips(made, 1, box(AWAY, 1));
        skips(made, 1, box(0, 1));
        objects(made, count, 1);
        skips(made, 1, box(0, 1));
      }
      case OBJECTS_BETWEEN_MISSED -> {
        skips(made, 1, box(0, 1));
        skips(made, 1, box(AWAY, 1));
        objects(made, count, 1);
        skips(made, 1, box(AWAY, 1));
      }
      default -> throw new IllegalStateException(shape.toString());
    }
    return parts(made, gaze);
  }

  /** A scene of one thing after the other; empty where there is no room for it. */
  List<Part> of(List<Unit> units) {
    List<Operation> made = new ArrayList<>();
    for (Unit unit : units) {
      switch (unit) {
        case SKIP -> skips(made, 1, box(0, 1));
        case OBJECT -> objects(made, 1, 1);
        case COMBINED -> objects(made, 1, 2);
        default -> throw new IllegalStateException(unit.toString());
      }
    }
    return parts(made, Gaze.ONE);
  }

  private List<Part> parts(List<Operation> made, Gaze gaze) {
    made.add(Operation.of(OperationKind.END));
    try {
      Program program = Program.of(executor.formats(), executor.limits(), made);
      Part part = part(program, rays(gaze));
      List<Part> parts = new ArrayList<>(List.of(part));
      while (gaze == Gaze.MANY_ANY_HIT && parts.size() < MANY) {
        parts.add(new Part(0, false, program, part.rays(), SceneScript.NO_CUT));
      }
      return parts;
    } catch (ProgramException e) {
      return List.of(); // memory or stack have no room for it
    }
  }

  /** So many skips, each to the next operation, and rays whose bits say who misses their boxes. */
  Part taught(int skips, int rays, int missing) {
    List<Operation> operations = new ArrayList<>();
    int most = Math.min(skips, executor.limits().length() - 1);
    skips(
        operations,
        most,
        new long[] {-2 * unit, -2 * unit, -2 * unit, 2 * unit, 2 * unit, 2 * unit});
    operations.add(Operation.of(OperationKind.END));
    List<Ray> taught = new ArrayList<>();
    for (int ray = 0; ray < rays; ray++) {
      taught.add(ray((missing >> ray & 1) == 0 ? 0 : 4 * unit - 1, false));
    }
    return part(Program.of(executor.formats(), executor.limits(), operations), taught);
  }

  private Part part(Program program, List<Ray> rays) {
    return new Part(hasReset ? 1 : 0, true, program, rays, SceneScript.NO_CUT);
  }

  private List<Ray> rays(Gaze gaze) {
    return switch (gaze) {
      case ONE -> List.of(ray(0, false));
      case ANY_HIT_FIRST -> List.of(ray(0, true), ray(0, false));
      case TWO -> List.of(ray(0, false), ray(0, false));
      case MANY_ANY_HIT -> Collections.nCopies(Block.RAYS, ray(0, true));
    };
  }

  /** Along the third axis. */
  private Ray ray(long away, boolean anyHit) {
    Format format = executor.formats().direction();
    long direction = 1L << Math.min(format.fractionBits(), format.width() - 2);
    single.nearest(0, 0, new long[] {away, 0, 0}, new long[] {0, 0, direction});
    if (anyHit) {
      single.anyHit(0, executor.formats().word().maxCode().longValueExact());
    }
    long[] codes = Rays.names().stream().mapToLong(name -> single.column(name)[0]).toArray();
    return new Ray(0, 0, codes);
  }

  private static void skips(List<Operation> to, int count, long[] box) {
    for (int skip = 0; skip < count; skip++) {
      to.add(Operation.skip(to.size() + 1, box));
    }
  }

  /** As if each outcome were known before the next skip. */
  private void foretoldWrongly(List<Operation> to, int count) {
    Predictor taught = executor.timing() == null ? null : executor.timing().predictor();
    for (int skip = 0; skip < count; skip++) {
      boolean taken = taught == null || !taught.predict(to.size());
      if (taught != null) {
        taught.update(to.size(), taken);
      }
      skips(to, 1, box(taken ? AWAY : 0, 1));
    }
  }

  /** Objects of so many solids each, which are united one after the other. */
  private void objects(List<Operation> to, int count, int solids) {
    for (int object = 0; object < count; object++) {
      to.add(Operation.of(OperationKind.BEGIN));
      for (int solid = 0; solid < solids; solid++) {
        to.add(solid(solid));
        if (solid > 0) {
          to.add(Operation.of(OperationKind.UNION));
        }
      }
      to.add(Operation.of(OperationKind.CLOSE));
    }
  }

  private void nested(List<Operation> to, int solids) {
    to.add(Operation.of(OperationKind.BEGIN));
    for (int solid = 0; solid < solids; solid++) {
      to.add(solid(solid));
    }
    for (int solid = 1; solid < solids; solid++) {
      to.add(Operation.of(OperationKind.UNION));
    }
    to.add(Operation.of(OperationKind.CLOSE));
  }

  /** Solids apart from each other, as long as there is room before the ray. */
  private Operation solid(int number) {
    return Operation.solid(OperationKind.BOX, 0, box(0, 1 + 2 * (number % (PLACES / 2))));
  }

  /** A box one unit thick. */
  private long[] box(long aside, long ahead) {
    long[] box = {-unit, -unit, ahead * unit, unit, unit, (ahead + 1) * unit};
    box[0] += aside * unit;
    box[3] += aside * unit;
    return box;
  }
}
