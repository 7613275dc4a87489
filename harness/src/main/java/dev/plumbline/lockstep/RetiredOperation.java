package dev.plumbline.lockstep;

import dev.plumbline.lockstep.Output.Promise;
import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.span.Distances;
import dev.plumbline.models.span.SpanList;
import dev.plumbline.models.traversal.Retirement;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * An operation of a ray as it retires, with what is kept then, and what the ports show.
 *
 * @param top the list on top after it
 * @param lists all that are on the stack then, the lowest first
 * @param closedEnd of a close, the end of its list that is the object's surface; -1 for none
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
    List<SpanList> lists,
    boolean found,
    long distance,
    long surface,
    long material,
    boolean reversed,
    boolean inward,
    int closedEnd,
    boolean closedInward,
    boolean nearer,
    boolean overflow,
    boolean last,
    List<long[]> shown,
    List<Long> result) {

  static RetiredOperation of(
      Retirement r, Executor executor, List<Promise> retired, List<Promise> results) {
    List<long[]> shown = new ArrayList<>();
    for (Promise promise : retired) {
      long[] codes = new long[promise.elements()];
      Arrays.setAll(codes, element -> promise.value().of(r, null, element));
      shown.add(codes);
    }
    List<Long> result =
        r.isLast()
            ? results.stream().map(promise -> promise.value().of(r, null, 0)).toList()
            : List.of();
    List<SpanList> lists = new ArrayList<>();
    for (int place = 0; place < r.height(); place++) {
      lists.add(copy(r.list(place), executor));
    }
    SpanList top = lists.isEmpty() ? copy(r.top(), executor) : lists.get(lists.size() - 1);
    boolean found = r.isFound();
    return new RetiredOperation(
        r.address(),
        r.operation(),
        r.isSkipTaken(),
        r.isTakenEarly(),
        r.cost(),
        r.height(),
        top,
        lists,
        found,
        found ? r.distance() : 0,
        found ? ExecutorTerms.surface(executor, r.surface()) : 0,
        found ? r.material() : 0,
        found && r.isReversed(),
        found && r.isInward(),
        r.closedEnd(),
        r.isClosedInward(),
        r.isNearer(),
        r.hasOverflowed(),
        r.isLast(),
        shown,
        result);
  }

  private static SpanList copy(SpanList list, Executor executor) {
    return SpanList.of(Distances.codes(executor.formats().word()), executor.spans()).copy(list);
  }

  OperationKind kind() {
    return operation.kind();
  }

  boolean isSkip() {
    return kind() == OperationKind.SKIP;
  }
}
