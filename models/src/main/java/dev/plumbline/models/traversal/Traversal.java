package dev.plumbline.models.traversal;

import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.span.Distances;
import dev.plumbline.models.span.SpanList;
import java.util.function.Consumer;

/**
 * Runs scene programs for rays, operation by operation, and reports each as it retires.
 *
 * <pre>{@code
 * Traversal traversal = Traversal.exact(SceneUnits.of(formats), 4);
 * traversal.run(program, rays, 0, 100, null, retirement -> {
 *   if (retirement.isLast()) { ... retirement.distance() ... }
 * });
 * }</pre>
 *
 * <p>Spans of all a program's solids are found beforehand, some thousand cases at a time; what is
 * skipped is found and not used. A traversal belongs to one thread and allocates nothing for a ray.
 */
public final class Traversal {
  private final SolidBlock solids;
  private final Distances distances;
  private final int spans;
  private final Retirement state;

  private Traversal(SceneUnits units, Distances distances, int spans, SolidBlock.Maker maker) {
    this.solids = new SolidBlock(units, maker, 1);
    this.distances = distances;
    this.spans = spans;
    this.state = new Retirement(distances);
  }

  /**
   * A traversal in bits.
   *
   * @param units that find spans
   * @param spans most spans of a list
   * @return a traversal whose distances are word codes
   */
  public static Traversal exact(SceneUnits units, int spans) {
    Distances codes = Distances.codes(units.formats().word());
    return new Traversal(units, codes, spans, SolidColumns::bits);
  }

  /**
   * A traversal in reals: the mathematics, with as many spans as there are.
   *
   * @param units whose ideals are meant
   * @return a traversal whose distances are {@link Distances#reals}
   */
  public static Traversal ideal(SceneUnits units) {
    Distances reals = Distances.reals();
    return new Traversal(
        units, reals, 0, (unit, capacity) -> SolidColumns.ideal(unit, capacity, reals));
  }

  /**
   * Runs a program for rays.
   *
   * @param program of the units' formats
   * @param rays of the same formats
   * @param from the first ray
   * @param count how many
   * @param timing counts the cycles; null for none
   * @param observer receives each retirement, in order
   */
  public void run(
      Program program,
      Rays rays,
      int from,
      int count,
      ExecutorTiming timing,
      Consumer<Retirement> observer) {
    prepare(program);
    solids.run(
        program,
        rays,
        from,
        count,
        (ray, base) -> walk(program, rays, ray, solids.ends(0), base, timing, observer));
  }

  /** Makes enough lists for a program. */
  void prepare(Program program) {
    int wanted = spans == 0 ? program.length() : spans;
    int depth = program.limits().depth();
    if (state.stack.length >= depth && state.stack[0].capacity() >= wanted) {
      return;
    }
    state.stack = new SpanList[depth];
    for (int i = 0; i < depth; i++) {
      state.stack[i] = SpanList.of(distances, wanted);
    }
  }

  private long distance(Rays rays, String name, int ray) {
    long code = rays.column(name)[ray];
    return spans == 0 ? distances.of(code * solids.formats().word().lsbs()) : code;
  }

  /** One ray by given ends, those of address 0 at the base. */
  void walk(
      Program program,
      Rays rays,
      int ray,
      EndColumns ends,
      int base,
      ExecutorTiming timing,
      Consumer<Retirement> observer) {
    Retirement s = state;
    s.ray = ray;
    s.height = 0;
    s.found = false;
    s.distance = 0;
    s.material = 0;
    s.reversed = false;
    s.inward = false;
    s.overflow = false;
    s.last = false;
    s.cycle = -1;
    long start = distance(rays, "start", ray);
    long limit = distance(rays, "limit", ray);
    boolean anyHit = rays.column("any_hit")[ray] == 1;
    if (timing != null) {
      timing.accept();
    }
    int address = 0;
    while (!s.last) {
      Operation operation = program.at(address);
      OperationKind kind = operation.kind();
      s.address = address;
      s.operation = operation;
      s.skipTaken = false;
      s.cost = 1;
      if (kind.isSolid()) {
        int i = base + address;
        s.stack[s.height++].set(ends.entry[i], ends.exit[i], operation.material());
      } else if (kind.isCombination()) {
        SpanList left = s.stack[s.height - 2];
        s.cost += left.combine(kind.operator(), left, s.stack[s.height - 1]);
        s.height--;
        s.overflow |= left.overflowed();
      } else if (kind == OperationKind.CLOSE) {
        s.offer(s.stack[--s.height], start);
        s.last = anyHit && s.found && s.distance < limit;
      } else if (kind == OperationKind.SKIP) {
        s.skipTaken = !ends.hit[base + address];
      } else {
        s.last = kind == OperationKind.END;
      }
      if (timing != null) {
        s.cycle =
            kind == OperationKind.SKIP
                ? timing.retireSkip(address, s.skipTaken)
                : timing.retire(s.cost);
      }
      observer.accept(s);
      address = s.skipTaken ? operation.target() : address + 1;
    }
  }
}
