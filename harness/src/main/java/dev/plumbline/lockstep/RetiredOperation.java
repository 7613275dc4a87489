package dev.plumbline.lockstep;

import dev.plumbline.lockstep.Output.Promise;
import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.span.Distances;
import dev.plumbline.models.span.SpanList;
import dev.plumbline.models.traversal.Retirement;
import java.util.List;

/**
 * An operation of a ray as it retires, with what is kept then, and what the ports show.
 *
 * @param top the list on top after it
 * @param shown by promise of the retirement port, by element
 * @param result by promise of the result, where it is the last
 */
record RetiredOperation(
    int address,
    Operation operation,
    boolean taken,
    boolean early,
    int cost,
    int height,
    SpanList top,
    boolean found,
    long distance,
    long surface,
    long material,
    boolean reversed,
    boolean inward,
    boolean overflow,
    boolean last,
    long[][] shown,
    long[] result) {

  static RetiredOperation of(
      Retirement r, Executor executor, List<Promise> retired, List<Promise> results) {
    long[][] shown = new long[retired.size()][];
    for (int i = 0; i < shown.length; i++) {
      shown[i] = new long[retired.get(i).elements()];
      for (int element = 0; element < shown[i].length; element++) {
        shown[i][element] = retired.get(i).value().of(r, null, element);
      }
    }
    long[] result = new long[results.size()];
    for (int i = 0; r.isLast() && i < result.length; i++) {
      result[i] = results.get(i).value().of(r, null, 0);
    }
    SpanList top =
        SpanList.of(Distances.codes(executor.formats().word()), executor.spans()).copy(r.top());
    boolean found = r.isFound();
    return new RetiredOperation(
        r.address(),
        r.operation(),
        r.isSkipTaken(),
        r.isTakenEarly(),
        r.cost(),
        r.height(),
        top,
        found,
        found ? r.distance() : 0,
        found ? ExecutorTerms.surface(executor, r.surface()) : 0,
        found ? r.material() : 0,
        found && r.isReversed(),
        found && r.isInward(),
        r.hasOverflowed(),
        r.isLast(),
        shown,
        result);
  }

  OperationKind kind() {
    return operation.kind();
  }

  boolean isSkip() {
    return kind() == OperationKind.SKIP;
  }
}
