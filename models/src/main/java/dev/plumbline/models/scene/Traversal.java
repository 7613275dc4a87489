package dev.plumbline.models.scene;

import dev.plumbline.models.datapath.Datapath;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;

/**
 * Runs scene programs for rays, operation by operation, and shows each as it retires.
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
  private static final int BLOCK = 1024;
  private static final int LARGEST = 1 << 20;

  /** Makes an evaluation of a unit for so many cases. */
  private interface Maker {
    SolidColumns.Evaluation of(Datapath unit, int capacity);
  }

  private final SceneUnits units;
  private final Distances distances;
  private final int spans;
  private final Maker maker;
  private final Retirement state;
  private final List<Datapath> datapaths;
  private final List<SolidColumns> columns = new ArrayList<>();
  private int room = BLOCK;
  private long[] entry = new long[0];
  private long[] exit = new long[0];
  private boolean[] hit = new boolean[0];

  private Traversal(SceneUnits units, Distances distances, int spans, Maker maker) {
    this.units = units;
    this.distances = distances;
    this.spans = spans;
    this.maker = maker;
    this.state = new Retirement(distances);
    this.datapaths = List.of(units.sphere(), units.halfSpace(), units.box());
    makeColumns();
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

  private void makeColumns() {
    columns.clear();
    datapaths.forEach(unit -> columns.add(new SolidColumns(unit, maker.of(unit, room))));
  }

  /**
   * Runs a program for rays.
   *
   * @param program of the units' formats
   * @param rays of the same formats
   * @param from the first ray
   * @param count how many
   * @param timing tells the cycles; null for none
   * @param observer is shown each retirement, in order
   */
  public void run(
      Program program,
      Rays rays,
      int from,
      int count,
      ExecutorTiming timing,
      Consumer<Retirement> observer) {
    if (!program.formats().equals(units.formats()) || !rays.formats().equals(units.formats())) {
      throw new IllegalArgumentException(
          "traversal in "
              + units.formats()
              + " of a program in "
              + program.formats()
              + " and rays in "
              + rays.formats()
              + ": all have to be the same");
    }
    prepare(program);
    int most = 1;
    for (int i = 0; i < datapaths.size(); i++) {
      most = Math.max(most, columns.get(i).find(program, units, datapaths.get(i)));
    }
    if (most > room) {
      room = most;
      makeColumns();
      for (int i = 0; i < datapaths.size(); i++) {
        columns.get(i).find(program, units, datapaths.get(i));
      }
    }
    int length = program.length();
    int atOnce = Math.max(1, Math.min(Math.min(count, room / most), Math.max(1, LARGEST / length)));
    if (entry.length < atOnce * length) {
      entry = new long[atOnce * length];
      exit = new long[atOnce * length];
      hit = new boolean[atOnce * length];
    }
    for (SolidColumns solids : columns) {
      solids.load(program, atOnce);
    }
    for (int ray = from; ray < from + count; ray += atOnce) {
      int some = Math.min(atOnce, from + count - ray);
      for (SolidColumns solids : columns) {
        solids.run(rays, ray, some, length, entry, exit, hit);
      }
      for (int k = 0; k < some; k++) {
        walk(program, rays, ray + k, k * length, timing, observer);
      }
    }
  }

  private void prepare(Program program) {
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
    return spans == 0 ? distances.of(code * units.formats().word().lastPlace()) : code;
  }

  private void walk(
      Program program,
      Rays rays,
      int ray,
      int base,
      ExecutorTiming timing,
      Consumer<Retirement> observer) {
    Retirement s = state;
    s.ray = ray;
    s.height = 0;
    s.found = false;
    s.distance = 0;
    s.material = 0;
    s.turned = false;
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
        s.stack[s.height++].set(entry[i], exit[i], operation.material());
      } else if (kind.isCombination()) {
        SpanList left = s.stack[s.height - 2];
        s.cost += left.combine(kind.operator(), left, s.stack[s.height - 1]);
        s.height--;
        s.overflow |= left.overflowed();
      } else if (kind == OperationKind.CLOSE) {
        s.offer(s.stack[--s.height], start);
        s.last = anyHit && s.found && s.distance < limit;
      } else if (kind == OperationKind.SKIP) {
        s.skipTaken = !hit[base + address];
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
