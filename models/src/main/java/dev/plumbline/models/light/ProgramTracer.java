package dev.plumbline.models.light;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.models.traversal.Retirement;
import dev.plumbline.models.traversal.SceneUnits;
import dev.plumbline.models.traversal.Traversal;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;

/** A tracer that runs a program whose solids have their addresses for materials. */
final class ProgramTracer implements RayTracer {
  private static final int AXES = 3;

  private final Program addressed;
  private final Traversal traversal;
  private final long lowest;
  private final long highest;
  private final int places;
  private final long[][] origin = new long[AXES][];
  private final long[][] inverse = new long[AXES][];
  private final long[][] parallel = new long[AXES][];
  private final Consumer<Retirement> observer = this::retire;
  private Rays columnsOf;
  private long[] anyHit;
  private long[] limit;
  private Surfaces into;

  ProgramTracer(Program program, SceneUnits units, int spans) {
    this.addressed = addressed(program);
    this.traversal = Traversal.exact(units, spans);
    Format word = program.formats().word();
    this.lowest = word.minCode().longValue();
    this.highest = word.maxCode().longValue();
    this.places = program.formats().inverse().fractionBits();
  }

  private static Program addressed(Program program) {
    ProgramLimits limits = program.limits();
    List<Operation> operations = new ArrayList<>();
    for (int address = 0; address < program.length(); address++) {
      Operation operation = program.at(address);
      if (operation.kind().isSolid()) {
        long[] operands = new long[operation.kind().operands().size()];
        for (int i = 0; i < operands.length; i++) {
          operands[i] = operation.operand(i);
        }
        operation = Operation.solid(operation.kind(), address, operands);
      }
      operations.add(operation);
    }
    int materials = Math.max(limits.materials(), program.length());
    return Program.of(
        program.formats(),
        new ProgramLimits(limits.length(), limits.depth(), materials),
        operations);
  }

  @Override
  public void trace(Rays rays, int count, Surfaces surfaces) {
    if (rays != columnsOf) {
      columnsOf = rays;
      for (int axis = 0; axis < AXES; axis++) {
        String suffix = "_" + "xyz".charAt(axis);
        origin[axis] = rays.column("origin" + suffix);
        inverse[axis] = rays.column("inverse" + suffix);
        parallel[axis] = rays.column("parallel" + suffix);
      }
      anyHit = rays.column("any_hit");
      limit = rays.column("limit");
    }
    into = surfaces;
    traversal.run(addressed, rays, 0, count, null, observer);
  }

  private void retire(Retirement retirement) {
    if (!retirement.isLast()) {
      return;
    }
    int ray = retirement.ray();
    into.hit[ray] = retirement.isFound() && retirement.distance() < limit[ray];
    if (!into.hit[ray] || anyHit[ray] == 1) {
      return;
    }
    int address = retirement.material();
    into.address[ray] = address;
    into.distance[ray] = retirement.distance();
    Operation solid = addressed.at(address);
    // An end of a solid is an entry of the object where just one of both is true.
    boolean leaving = retirement.isInward() != retirement.isReversed();
    into.face[ray] =
        solid.kind() == OperationKind.BOX ? face(solid, ray, retirement.distance(), leaving) : 0;
  }

  private int face(Operation box, int ray, long distance, boolean leaving) {
    for (int axis = 0; axis < AXES; axis++) {
      if (parallel[axis][ray] == 1) {
        continue;
      }
      long toMin = reach(box.operand(axis), axis, ray);
      long toMax = reach(box.operand(axis + AXES), axis, ray);
      boolean crossed = toMin > toMax;
      if ((leaving ? Math.max(toMin, toMax) : Math.min(toMin, toMax)) == distance) {
        return 2 * axis + (crossed == leaving ? 0 : 1);
      }
    }
    throw new IllegalStateException(
        "Distance \"" + distance + "\" of \"" + box + "\": no plane of it has that distance.");
  }

  /** The distance to a plane as the slab test has it. */
  private long reach(long plane, int axis, int ray) {
    long way = plane - origin[axis][ray];
    long factor = inverse[axis][ray];
    long high = Math.multiplyHigh(way, factor);
    long low = way * factor;
    long reach =
        high == low >> (Long.SIZE - 1)
            ? low >> places
            : BigInteger.valueOf(way)
                .multiply(BigInteger.valueOf(factor))
                .shiftRight(places)
                .max(BigInteger.valueOf(lowest))
                .min(BigInteger.valueOf(highest))
                .longValue();
    return Math.max(lowest, Math.min(highest, reach));
  }
}
