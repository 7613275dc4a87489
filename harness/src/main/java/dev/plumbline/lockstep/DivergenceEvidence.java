package dev.plumbline.lockstep;

import dev.plumbline.lockstep.LockstepChecker.Divergence;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.verdict.Layout;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Row;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalInt;

/**
 * Gathers what is to be kept of a divergence, from the columns of the call in which it was found.
 */
final class DivergenceEvidence {
  /** Rows kept before a divergence, besides that of the ray's acceptance. */
  private static final int BEFORE = 400;

  private static final int AFTER = 6;

  private final Executor executor;
  private final Ports ports;
  private final ExecutorColumns columns;
  private final Expectation expected;
  private final LockstepChecker checker;
  private final Block block;
  private final int[] caseAtRow;
  private final int rows;
  private final Divergence divergence;
  private final List<Output> shown;
  private final List<Operand> operands = new ArrayList<>();
  private final List<String> signals = new ArrayList<>();

  DivergenceEvidence(
      Executor executor,
      Ports ports,
      ExecutorColumns columns,
      Expectation expected,
      LockstepChecker checker,
      Block block,
      int[] caseAtRow) {
    this.executor = executor;
    this.ports = ports;
    this.columns = columns;
    this.expected = expected;
    this.checker = checker;
    this.block = block;
    this.caseAtRow = caseAtRow;
    this.rows = block.callRows;
    this.divergence = checker.divergence();
    this.shown = divergence.ofResult() ? columns.results : columns.retired;
    for (Output output : shown) {
      for (int element = 0; element < output.promise.elements(); element++) {
        signals.add(output.name(element));
        operands.add(new Operand(output.name(element), output.promise.format()));
      }
    }
  }

  Finding finding() {
    List<Integer> records = recordsAtRows();
    List<Row> kept = new ArrayList<>();
    int accepted =
        divergence.ray() < 0 ? -1 : (int) (checker.acceptedAt(divergence.ray()) - block.callRow);
    for (int row = 0; row < rows && row <= divergence.row() + AFTER; row++) {
      if (row == accepted || row >= Math.max(accepted, divergence.row() - BEFORE)) {
        kept.add(row(row, records.get(row)));
      }
    }
    Mismatch mismatch = mismatch();
    String text = new FindingText(executor, block, expected, checker, shown).text();
    return new Finding(mismatch, layout(), kept, text);
  }

  private Layout layout() {
    return new Layout(
        Ports.CONTROLS.stream().filter(ports::has).map(ports::name).toList(),
        columns.rayNames.stream()
            .map(name -> new Operand(name, Ports.rayFormat(name, executor.formats())))
            .toList(),
        columns.rayNames.stream().map(ports::rayPort).toList(),
        operands,
        signals);
  }

  /** Which record was due in each row: the one that parts, and backwards those before it; or -1. */
  private List<Integer> recordsAtRows() {
    Integer[] records = new Integer[rows];
    Arrays.fill(records, -1);
    if (divergence.ray() >= 0) {
      long[] valid = divergence.ofResult() ? columns.resultValid : columns.retireValid;
      int first = divergence.ofResult() ? divergence.record() : expected.first(divergence.ray());
      int record = divergence.record();
      if (valid != null && !divergence.role().equals("ray_ready")) {
        records[divergence.row()] = record;
        for (int row = divergence.row() - 1; row >= 0 && record > first; row--) {
          if (valid[row] == 1) {
            records[row] = --record;
          }
        }
      }
    }
    return List.of(records);
  }

  private Row row(int row, int record) {
    List<BigInteger> controls = new ArrayList<>();
    for (long[] column :
        new long[][] {
          columns.reset,
          columns.rayValid,
          columns.rayReady,
          columns.retireValid,
          columns.resultValid,
          columns.resultReady
        }) {
      if (column != null) {
        controls.add(BigInteger.valueOf(column[row]));
      }
    }
    // The valid column is where offers begin; an offer then stands until it is taken.
    int valid = columns.reset == null ? 0 : 1;
    int offered = caseAtRow[row];
    controls.set(valid, offered >= 0 ? BigInteger.ONE : BigInteger.ZERO);
    List<BigInteger> inputs = new ArrayList<>();
    if (offered >= 0) {
      for (long[] column : columns.ray) {
        inputs.add(BigInteger.valueOf(column[offered]));
      }
    }
    List<BigInteger> outputs = new ArrayList<>();
    List<BigInteger> due = new ArrayList<>();
    List<Boolean> wrong = new ArrayList<>();
    for (Output output : shown) {
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
    long offeredCase = offered < 0 ? -1 : block.firstCase + firstOffered() + offered;
    return new Row(
        block.firstRow + block.callRow + row,
        offeredCase,
        record < 0 ? -1 : block.firstCase + divergence.ray(),
        controls,
        inputs,
        outputs,
        due,
        due,
        wrong,
        row == divergence.row() ? mismatch().words() : reset ? "reset" : record < 0 ? "" : "ok");
  }

  /** The ray that was case 0 of the call: as many had been accepted before. */
  private int firstOffered() {
    int before = 0;
    while (before < checker.accepted() && checker.acceptedAt(before) < block.callRow) {
      before++;
    }
    return before;
  }

  private Mismatch mismatch() {
    OptionalInt index = OptionalInt.empty();
    BigInteger actual;
    BigInteger wanted;
    String signal = ports.name(divergence.role());
    if (divergence.output() == null) {
      boolean one = divergence.kind() != Mismatch.Kind.VALID_MISSING;
      if (divergence.role().equals("ray_ready")) {
        one = columns.rayReady[divergence.row()] == 1;
      } else if (divergence.kind() == Mismatch.Kind.WITHDRAWN_WHILE_STALLED) {
        one = false;
      }
      actual = one ? BigInteger.ONE : BigInteger.ZERO;
      wanted = BigInteger.ONE.subtract(actual);
    } else {
      Output output = divergence.output();
      int element = 0;
      while (element < output.promise.elements() - 1
          && output
              .code(output.sampled(), divergence.row(), element)
              .equals(output.code(output.expected(), divergence.record(), element))) {
        element++;
      }
      signal = output.name(element);
      index = OptionalInt.of(signals.indexOf(signal));
      actual = output.code(output.sampled(), divergence.row(), element);
      wanted = output.code(output.expected(), divergence.record(), element);
    }
    return new Mismatch(
        divergence.kind(),
        divergence.cycles(),
        block.firstRow + divergence.at(),
        divergence.ray() < 0 ? -1 : block.firstCase + divergence.ray(),
        signal,
        index,
        actual,
        wanted,
        wanted);
  }
}
