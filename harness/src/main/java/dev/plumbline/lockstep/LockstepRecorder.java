package dev.plumbline.lockstep;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.verdict.Layout;
import dev.plumbline.verdict.Row;
import dev.plumbline.window.Recording;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.NavigableMap;
import java.util.TreeMap;

/**
 * Records the rows around a given one while a segment is run again, across the calls of its block:
 * those before it, those in which a ray was accepted, and what came afterwards.
 */
final class LockstepRecorder implements LockstepRunner.Watcher {
  /** Rows before the given one. */
  static final int BEFORE = 400;

  /** Rows after it in which a late result is looked for, and a few more. */
  static final int AFTER = LockstepRecording.FARTHEST + LockstepRecording.AFTER;

  /** Rows after it in which further results are recorded. */
  private static final int FURTHER = 4096;

  private final Executor executor;
  private final Ports ports;
  private final long centre;
  private final List<List<Output>> outputs = new ArrayList<>(); // by stream
  private final List<NavigableMap<Long, Row>> rows = new ArrayList<>();
  private LockstepRunner.Call latest;
  private long firstRow = -1; // of the block at hand
  private long seen = -1; // the latest row

  LockstepRecorder(Executor executor, Ports ports, long centre) {
    this.executor = executor;
    this.ports = ports;
    this.centre = centre;
    if (ports.has("retire_valid")) {
      outputs.add(ports.retired());
    }
    outputs.add(ports.results());
    outputs.forEach(stream -> rows.add(new TreeMap<>()));
  }

  Recording recording(String text) {
    return new LockstepRecording(executor, ports, latest, streams(), text);
  }

  List<Recording.Stream> streams() {
    List<Recording.Stream> streams = new ArrayList<>();
    for (int s = 0; s < rows.size(); s++) {
      streams.add(new Recording.Stream(layout(outputs.get(s)), rows.get(s)));
    }
    return streams;
  }

  private Layout layout(List<Output> observed) {
    List<Operand> operands = new ArrayList<>();
    List<String> signals = new ArrayList<>();
    for (Output output : observed) {
      for (int element = 0; element < output.promise.elements(); element++) {
        signals.add(output.name(element));
        operands.add(new Operand(output.name(element), output.promise.format()));
      }
    }
    List<String> columns = ports.rayColumns();
    return new Layout(
        Ports.CONTROLS.stream().filter(ports::has).map(ports::name).toList(),
        columns.stream()
            .map(name -> new Operand(name, Ports.rayFormat(name, executor.formats())))
            .toList(),
        columns.stream().map(ports::rayPort).toList(),
        operands,
        signals);
  }

  @Override
  public boolean wantsMore() {
    return seen < centre + FURTHER;
  }

  @Override
  public void row(LockstepRunner.Call call, int row) {
    seen = call.block().firstRow + call.from() + row;
    if (call.block().firstRow != firstRow && seen <= centre) {
      rows.forEach(NavigableMap::clear); // nothing of a block that is over is of use
    }
    firstRow = call.block().firstRow;
    latest = seen <= centre ? call : latest;
    ExecutorColumns columns = call.columns();
    boolean near =
        (seen >= centre - BEFORE && seen <= centre + AFTER)
            || (call.offered(row) >= 0 && columns.rayReady[row] == 1);
    for (int s = 0; s < rows.size(); s++) {
      boolean ofResult = s == rows.size() - 1;
      if (near || (seen > centre && columns.valid(ofResult)[row] == 1)) {
        rows.get(s).put(seen, rowOf(call, row, ofResult));
      }
    }
  }

  private Row rowOf(LockstepRunner.Call call, int row, boolean ofResult) {
    ExecutorColumns columns = call.columns();
    Block block = call.block();
    int offered = call.offered(row);
    int record = call.checker().due(ofResult);
    List<BigInteger> outputs = new ArrayList<>();
    List<BigInteger> due = new ArrayList<>();
    List<Boolean> wrong = new ArrayList<>();
    for (Output output : columns.outputs(ofResult)) {
      for (int element = 0; element < output.promise.elements(); element++) {
        BigInteger actual = output.code(output.sampled(), row, element);
        outputs.add(actual);
        if (record >= 0) {
          BigInteger wanted = output.code(output.expected(), record, element);
          due.add(wanted);
          wrong.add(!wanted.equals(actual));
        }
      }
    }
    boolean reset = columns.reset != null && columns.reset[row] == 1;
    return new Row(
        seen,
        offered < 0 ? -1 : block.firstCase + offered,
        record < 0 ? -1 : block.firstCase + (ofResult ? record : call.expected().rayOf(record)),
        controls(columns, row, offered >= 0),
        offered < 0 ? List.of() : ray(block, columns, offered),
        outputs,
        due,
        due,
        wrong,
        reset ? "reset" : record < 0 ? "" : "ok");
  }

  private static List<BigInteger> controls(ExecutorColumns columns, int row, boolean offered) {
    List<BigInteger> controls = new ArrayList<>();
    for (long[] column :
        new long[][] {
          columns.reset,
          columns.abort,
          columns.rayValid,
          columns.rayReady,
          columns.retireValid,
          columns.resultValid,
          columns.resultReady
        }) {
      if (column == columns.rayValid) {
        // The column is where offers begin; an offer then stands until it is taken.
        controls.add(offered ? BigInteger.ONE : BigInteger.ZERO);
      } else if (column != null) {
        controls.add(BigInteger.valueOf(column[row]));
      }
    }
    return controls;
  }

  private static List<BigInteger> ray(Block block, ExecutorColumns columns, int ray) {
    return columns.rayNames.stream()
        .map(name -> BigInteger.valueOf(block.rays.column(name)[ray]))
        .toList();
  }
}
