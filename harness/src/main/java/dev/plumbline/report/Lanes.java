package dev.plumbline.report;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.verdict.CodeText;
import dev.plumbline.verdict.Layout;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Row;
import dev.plumbline.verdict.Verdict;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * The cycles around the first wrong one, a lane for each port: what it had in each of them. Of a
 * checked output the lane of what is allowed follows upon that of what came.
 *
 * @param cycles their numbers, in a row but where some between them were not kept
 * @param wrong which of them is the first wrong one
 * @param lanes as a reader takes them in: controls, inputs, outputs
 */
record Lanes(List<Long> cycles, int wrong, List<Lane> lanes) {
  /** How many cycles are shown before the wrong one, and behind it. */
  private static final int BEFORE = 4;

  private static final int AFTER = 2;

  /**
   * A port over the cycles.
   *
   * @param port its name
   * @param note what is shown of it: a format, "actual", "expected"
   * @param bit whether it is a single bit
   * @param codes as text, one a cycle; empty where there is none
   * @param values as numbers, one a cycle; empty where there is none
   * @param off whether it is wrong in that cycle
   */
  record Lane(
      String port,
      String note,
      boolean bit,
      List<String> codes,
      List<String> values,
      List<Boolean> off) {
    Lane {
      codes = List.copyOf(codes);
      values = List.copyOf(values);
      off = List.copyOf(off);
    }
  }

  Lanes {
    cycles = List.copyOf(cycles);
    lanes = List.copyOf(lanes);
  }

  /** What of a row a lane shows; null for nothing. */
  private interface Shown {
    BigInteger of(Row row);
  }

  /** Empty where no row of the first mismatch was kept. */
  static Optional<Lanes> of(Verdict verdict) {
    Optional<Mismatch> first = verdict.first();
    if (first.isEmpty() || verdict.row(first.get().cycle()).isEmpty()) {
      return Optional.empty();
    }
    long at = first.get().cycle();
    List<Row> rows =
        verdict.rows().stream()
            .filter(row -> row.cycle() >= at - BEFORE && row.cycle() <= at + AFTER)
            .sorted(Comparator.comparingLong(Row::cycle))
            .toList();
    List<Long> cycles = rows.stream().map(Row::cycle).toList();
    return Optional.of(
        new Lanes(
            cycles, cycles.indexOf(at), lanes(verdict.findings().layout(), rows, first.get())));
  }

  private static List<Lane> lanes(Layout layout, List<Row> rows, Mismatch first) {
    List<Lane> lanes = new ArrayList<>();
    for (int i = 0; i < layout.controls().size(); i++) {
      int control = i;
      String port = layout.controls().get(i);
      lanes.add(
          bits(port, rows, row -> code(row.controls(), control), row -> isOff(row, first, port)));
    }
    for (int i = 0; i < layout.inputs().size(); i++) {
      int input = i;
      Operand operand = layout.inputs().get(i);
      lanes.add(
          lane(
              layout.inputPorts().get(i),
              operand.meaning(),
              operand,
              rows,
              row -> code(row.inputs(), input),
              row -> false));
    }
    for (int i = 0; i < layout.outputs().size(); i++) {
      int output = i;
      Operand operand = layout.outputs().get(i);
      String port = layout.outputPorts().get(i);
      Off off = row -> isOff(row, first, port) || (row.isDue() && row.wrong().get(output));
      lanes.add(lane(port, "actual", operand, rows, row -> code(row.outputs(), output), off));
      boolean exact =
          rows.stream().allMatch(row -> lowest(row, output).equals(highest(row, output)));
      lanes.add(
          lane(
              port,
              exact ? "expected" : "lowest",
              operand,
              rows,
              row -> code(row.low(), output),
              row -> false));
      if (!exact) {
        lanes.add(
            lane(port, "highest", operand, rows, row -> code(row.high(), output), row -> false));
      }
    }
    return lanes;
  }

  /** Whether a lane stands off in a row. */
  private interface Off {
    boolean in(Row row);
  }

  private static boolean isOff(Row row, Mismatch first, String port) {
    return row.cycle() == first.cycle() && first.signal().equals(port);
  }

  private static BigInteger lowest(Row row, int output) {
    return row.isDue() ? row.low().get(output) : BigInteger.ZERO;
  }

  private static BigInteger highest(Row row, int output) {
    return row.isDue() ? row.high().get(output) : BigInteger.ZERO;
  }

  private static BigInteger code(List<BigInteger> codes, int index) {
    return index < codes.size() ? codes.get(index) : null; // a list is empty where nothing is known
  }

  private static Lane bits(String port, List<Row> rows, Shown shown, Off off) {
    List<String> codes =
        rows.stream()
            .map(shown::of)
            .map(code -> code == null || code.signum() < 0 ? "" : code.toString())
            .toList();
    return new Lane(port, "", true, codes, codes, rows.stream().map(off::in).toList());
  }

  private static Lane lane(
      String port, String note, Operand operand, List<Row> rows, Shown shown, Off off) {
    boolean bit = operand.format().width() == 1;
    List<String> codes = new ArrayList<>();
    List<String> values = new ArrayList<>();
    for (Row row : rows) {
      BigInteger code = shown.of(row);
      codes.add(
          code == null ? "" : bit ? code.abs().toString() : CodeText.hex(operand.format(), code));
      values.add(code == null ? "" : CodeText.real(operand, code));
    }
    return new Lane(port, note, bit, codes, values, rows.stream().map(off::in).toList());
  }
}
