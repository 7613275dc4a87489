package dev.plumbline.lockstep;

import dev.plumbline.lockstep.Output.Promise;
import dev.plumbline.lockstep.Quantity.Flow;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.span.SpanList;
import dev.plumbline.models.traversal.ExecutorTiming;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.models.traversal.SurfaceNumber;
import dev.plumbline.models.traversal.Traversal;
import java.util.List;
import java.util.function.IntToLongFunction;

/** What operations do as they retire, and what stands from one to the next. */
final class RetirementQuantities {
  /** Running counts of a ray, which its result shows under these names. */
  static final List<String> COUNTS =
      List.of(
          "result_cycles", "result_operations", "result_predicted_right", "result_predicted_wrong");

  static final String TOP = "top list ";
  static final String IN_PLACE = "list in place ";

  private final Executor executor;
  private final Change change;
  private final Quantities all;
  private final Traversal traversal;
  private final List<Promise> shown;
  private final List<Promise> results;
  private final int word;
  private final SpanList[] stack;
  private int height;
  private RayInHand ray;
  private RetiredOperation latest; // null before the first

  RetirementQuantities(Executor executor, Change change, Quantities all) {
    this.executor = executor;
    this.change = change;
    this.all = all;
    this.traversal =
        Traversal.altered(executor.units(), executor.spans(), executor.rules(), change.altered());
    this.shown = ExecutorTerms.retired(executor);
    this.results =
        ExecutorTerms.results(executor).stream()
            .filter(promise -> !COUNTS.contains(promise.role()))
            .filter(promise -> !promise.role().equals(SurfaceReads.WORD))
            .toList();
    this.word = executor.formats().word().width();
    this.stack = new SpanList[executor.limits().depth() + 1];
  }

  /** Finds all that a ray's operations are due to do. */
  void accept(RayInHand accepted, Rays rays, int place, ExecutorTiming timing) {
    ray = accepted;
    latest = null;
    height = 0;
    traversal.run(
        ray.program,
        rays,
        place,
        1,
        timing,
        retired -> {
          ray.start = retired.start();
          ray.limit = retired.limit();
          ray.anyHit = retired.isAnyHit();
          ray.due.add(RetiredOperation.of(retired, executor, shown, results));
        });
    traversal.foresee(
        ray.program, rays, place, foreseen -> ray.foreseen[foreseen.address()] = foreseen);
  }

  /** The ray is gone; what an altered model keeps of it goes, too, unless nothing clears it. */
  void drop() {
    ray = null;
    if (!change.lasts()) {
      traversal.reset();
    }
  }

  void valid(long row, boolean retires) {
    all.atPort(Flow.RETIREMENT, "retire_valid", 1, -1).set(all.at(row), retires);
  }

  void retires(long row, RetiredOperation operation, boolean predicted, boolean turned) {
    long at = all.at(row);
    for (int i = 0; i < shown.size(); i++) {
      Promise promise = shown.get(i);
      long[] codes = operation.shown().get(i);
      for (int element = 0; element < codes.length; element++) {
        int place = codes.length == 1 ? -1 : element;
        all.atPort(Flow.RETIREMENT, promise.role(), promise.format().width(), place)
            .set(at, codes[element]);
      }
    }
    OperationKind kind = operation.kind();
    all.bit(Flow.RETIREMENT, "the ray ends").set(at, operation.last());
    all.bit(Flow.RETIREMENT, "another way than thought").set(at, turned);
    if (operation.isSkip()) {
      all.bit(Flow.RETIREMENT, "taken").set(at, operation.taken());
      all.bit(Flow.RETIREMENT, "foretold rightly").set(at, predicted == operation.taken());
    }
    if (kind == OperationKind.CLOSE) {
      closes(at, operation);
    } else if (kind.isSolid() || kind.isCombination()) {
      list(Flow.RETIREMENT, "new list ", at, operation.top());
    }
    height = operation.height();
    for (int place = 0; place < height; place++) {
      stack[place] = operation.lists().get(place);
    }
    latest = operation;
  }

  /** What the list that is closed has nearest. */
  private void closes(long at, RetiredOperation operation) {
    int end = operation.closedEnd();
    all.bit(Flow.RETIREMENT, "closed with a surface").set(at, end >= 0);
    if (end >= 0) {
      SpanList closed = stack[operation.height()];
      all.of(Flow.RETIREMENT, "closed at distance", word).set(at, closed.distance(end));
      all.of(Flow.RETIREMENT, "closed at surface", ExecutorTerms.surface(executor).width())
          .set(at, ExecutorTerms.surface(executor, closed.surface(end)));
      all.bit(Flow.RETIREMENT, "closed at reversed").set(at, closed.isReversed(end));
      all.bit(Flow.RETIREMENT, "closed at inward").set(at, operation.closedInward());
    }
    all.bit(Flow.RETIREMENT, "a nearer one").set(at, end >= 0 && operation.nearer());
  }

  private void list(Flow flow, String of, long at, SpanList list) {
    all.of(flow, of + "count", Quantities.bitsOf(executor.spans())).set(at, list.count());
    ends(flow, of + "distance", word, at, list, list::distance);
    ends(
        flow,
        of + "surface",
        ExecutorTerms.surface(executor).width(),
        at,
        list,
        end -> ExecutorTerms.surface(executor, list.surface(end)));
    ends(
        flow,
        of + "material",
        ExecutorTerms.material(executor).width(),
        at,
        list,
        end -> SurfaceNumber.material(list.surface(end), ray.program));
    ends(flow, of + "reversed", 1, at, list, end -> list.isReversed(end) ? 1 : 0);
  }

  private void ends(
      Flow flow, String name, int bits, long at, SpanList list, IntToLongFunction code) {
    for (int end = 0; end < 2 * list.count(); end++) {
      all.of(flow, name + " " + end, bits).set(at, code.applyAsLong(end));
    }
  }

  /** What stands at the end of a row of a ray. */
  void state(long row) {
    long at = all.at(row);
    all.of(Flow.STACK, "lists", Quantities.bitsOf(executor.limits().depth())).set(at, height);
    for (int below = 0; below < height; below++) {
      String of = below == 0 ? TOP : "list " + below + " below the top ";
      list(Flow.STACK, of, at, stack[height - 1 - below]);
      list(Flow.STACK, IN_PLACE + (height - 1 - below) + " ", at, stack[height - 1 - below]);
    }
    boolean found = latest != null && latest.found();
    all.bit(Flow.BEST, "best found").set(at, found);
    all.of(Flow.BEST, "best distance", word).set(at, found ? latest.distance() : 0);
    all.of(Flow.BEST, "best surface", ExecutorTerms.surface(executor).width())
        .set(at, found ? latest.surface() : 0);
    all.of(Flow.BEST, "best material", ExecutorTerms.material(executor).width())
        .set(at, found ? latest.material() : 0);
    all.bit(Flow.BEST, "best reversed").set(at, found && latest.reversed());
    all.bit(Flow.BEST, "best inward").set(at, found && latest.inward());
    int margin = executor.rules().passingMargin();
    if (found && margin >= 0 && word < Long.SIZE) {
      all.of(Flow.BEST, "best distance and margin", word + 1).set(at, latest.distance() + margin);
    }
    all.bit(Flow.BEST, "overflow").set(at, latest != null && latest.overflow());
  }

  /** What is shown while a result stands. */
  void result(long row, long[] counts) {
    long at = all.at(row);
    RetiredOperation last = ray.due.get(ray.due.size() - 1);
    for (int i = 0; i < results.size(); i++) {
      Promise promise = results.get(i);
      all.atPort(Flow.RESULT, promise.role(), promise.format().width(), -1)
          .set(at, last.result().get(i));
    }
    for (int i = 0; i < counts.length; i++) {
      all.atPort(Flow.RESULT, COUNTS.get(i), Integer.SIZE, -1).set(at, counts[i]);
    }
  }

  /** A word that was read of the program, in parts as its port has them. */
  void reads(long row, long[] word) {
    int width = executor.layout().width();
    int bits = SurfaceReads.promise(width).format().width();
    for (int part = 0; part < width / bits; part++) {
      int from = part * bits;
      int shift = from % Long.SIZE;
      long value = word[from / Long.SIZE] >>> shift;
      if (shift + bits > Long.SIZE) {
        value |= word[from / Long.SIZE + 1] << (Long.SIZE - shift);
      }
      all.atPort(Flow.RESULT, SurfaceReads.WORD, bits, part).set(all.at(row), value);
    }
  }
}
