package dev.plumbline.lockstep;

import dev.plumbline.judge.ResultOrder;
import dev.plumbline.judge.Tally;
import dev.plumbline.lockstep.LockstepChecker.Divergence;
import dev.plumbline.verdict.Layout;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Row;
import dev.plumbline.window.Recording;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.NavigableMap;
import java.util.OptionalInt;
import java.util.TreeMap;

/**
 * The rows of an executor: with its operations, where it shows them, and with its results, which
 * come last.
 *
 * @param call the one in which DUT and model diverge, or that of the row asked for
 */
record LockstepRecording(
    Executor executor, Ports ports, LockstepRunner.Call call, List<Stream> streams, String text)
    implements Recording {
  /** Rows kept after a mismatch. */
  static final int AFTER = 6;

  /** Most cycles that a result is looked for after it was due. */
  static final int FARTHEST = 64;

  @Override
  public Explanation explain(Tally tally) {
    Divergence divergence = call.checker().divergence();
    int stream = divergence.ofResult() ? streams.size() - 1 : 0;
    NavigableMap<Long, Row> rows = streams.get(stream).rows();
    Row row = rows.get(tally.rows()[0]);
    Mismatch.Kind kind = divergence.kind();
    int cycles = divergence.cycles();
    if (kind == Mismatch.Kind.VALID_MISSING) {
      Row late = late(row, stream);
      if (late != null) {
        kind = Mismatch.Kind.LATE;
        cycles = (int) (late.cycle() - row.cycle());
        row = late;
      }
    } else if (kind == Mismatch.Kind.VALUE_WRONG
        && divergence.output() != null
        && !divergence.role().equals(SurfaceReads.WORD)) {
      kind = inOrder(stream).kindOf(row, true);
    }
    Mismatch mismatch = mismatch(divergence, kind, cycles, row, streams.get(stream).layout());
    return new Explanation(
        List.of(mismatch),
        stream,
        new DivergenceFacts(executor, call, row, observed(divergence.ofResult())).facts());
  }

  private List<Output> observed(boolean ofResult) {
    return call.columns().outputs(ofResult);
  }

  /** Where a result that was missed came after all; null where it did not. */
  private Row late(Row missed, int stream) {
    NavigableMap<Long, Row> after =
        streams.get(stream).rows().subMap(missed.cycle(), false, missed.cycle() + FARTHEST, false);
    for (Row later : after.values()) {
      if (isValid(later, stream)) {
        return later.isDue()
                && withoutSurface(later.low(), stream).equals(withoutSurface(missed.low(), stream))
                && !later.wrong().contains(true)
            ? later
            : null;
      }
    }
    return null;
  }

  private boolean isValid(Row row, int stream) {
    String valid = stream == streams.size() - 1 ? "result_valid" : "retire_valid";
    return row.controls()
            .get(streams.get(stream).layout().controls().indexOf(ports.name(valid)))
            .signum()
        != 0;
  }

  /** What came, each result once. */
  private ResultOrder inOrder(int stream) {
    boolean ofResult = stream == streams.size() - 1;
    List<Row> results = new ArrayList<>();
    long last = -1;
    for (Row row : streams.get(stream).rows().values()) {
      if (row.isDue() && isValid(row, stream) && (!ofResult || row.caseOut() != last)) {
        results.add(row);
        last = row.caseOut();
      }
    }
    int bits = observed(ofResult).stream().mapToInt(Output::width).sum();
    return new ResultOrder(
        results,
        (came, due) ->
            !withoutSurface(came.outputs(), stream).equals(withoutSurface(due.low(), stream)),
        bits);
  }

  /** What belongs to a result: all but what stands at the surface port, which comes last. */
  private List<BigInteger> withoutSurface(List<BigInteger> values, int stream) {
    int others =
        observed(stream == streams.size() - 1).stream()
            .filter(output -> output.promise.role().equals(SurfaceReads.WORD))
            .mapToInt(output -> output.promise.elements())
            .sum();
    return values.subList(0, values.size() - others);
  }

  private Mismatch mismatch(
      Divergence divergence, Mismatch.Kind kind, int cycles, Row row, Layout layout) {
    String signal = ports.name(divergence.role());
    OptionalInt output = OptionalInt.empty();
    BigInteger actual;
    BigInteger wanted;
    if (divergence.output() == null) {
      actual = row.controls().get(layout.controls().indexOf(signal));
      wanted = BigInteger.ONE.subtract(actual);
    } else {
      output = OptionalInt.of(row.wrong().indexOf(true));
      signal = layout.outputPorts().get(output.getAsInt());
      actual = row.outputs().get(output.getAsInt());
      wanted = row.low().get(output.getAsInt());
    }
    return new Mismatch(
        kind,
        cycles,
        row.cycle(),
        divergence.ray() < 0 ? -1 : call.block().firstCase + divergence.ray(),
        signal,
        output,
        actual,
        wanted,
        wanted);
  }

  /** From the ray's acceptance on, though not more rows than were recorded. */
  @Override
  public List<Row> window(int stream, List<Mismatch> kept) {
    Mismatch mismatch = kept.get(0);
    NavigableMap<Long, Row> rows = streams.get(stream).rows();
    TreeMap<Long, Row> window =
        new TreeMap<>(
            rows.subMap(
                mismatch.cycle() - LockstepRecorder.BEFORE, true, mismatch.cycle() + AFTER, true));
    Divergence divergence = call.checker().divergence();
    if (divergence != null && divergence.ray() >= 0) {
      long accepted = call.block().firstRow + call.checker().acceptedAt(divergence.ray());
      window.headMap(accepted, false).clear();
      window.put(accepted, rows.get(accepted));
    }
    window.computeIfPresent(mismatch.cycle(), (cycle, row) -> row.withVerdict(mismatch.words()));
    return List.copyOf(window.values());
  }

  /** What stands at an output counts only where it is valid. */
  @Override
  public int firstDifference(Recording other, long cycle, boolean values) {
    for (int s = 0; s < streams.size(); s++) {
      Row seen = streams.get(s).rows().get(cycle);
      Row there = other.streams().get(s).rows().get(cycle);
      if (there == null
          || !there.controls().equals(seen.controls())
          || (isValid(seen, s) && !there.outputs().equals(seen.outputs()))) {
        return s;
      }
    }
    return -1;
  }
}
