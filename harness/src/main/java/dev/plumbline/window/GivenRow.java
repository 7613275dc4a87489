package dev.plumbline.window;

import dev.plumbline.drive.Binding;
import dev.plumbline.drive.Feed;
import dev.plumbline.drive.Hookup;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.verdict.Row;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;

/** The row in which a DUT ended before its outputs were sampled: what it was given. */
final class GivenRow {
  /** The verdict on the row. */
  static final String VERDICT = "DUT ended";

  private static final BigInteger UNKNOWN = BigInteger.ONE.negate();

  private final Binding binding;
  private final Feed feed;

  GivenRow(Binding binding, Feed feed) {
    this.binding = binding;
    this.feed = feed;
  }

  Row at(long cycle, int row, long caseIn) {
    Hookup dut = feed.to;
    List<BigInteger> controls = new ArrayList<>(feed.clocksAt(row));
    control(controls, dut.reset, row, true);
    control(controls, dut.inValid, row, true);
    control(controls, dut.inReady, row, false);
    control(controls, dut.outValid, row, false);
    control(controls, dut.outReady, row, true);
    List<BigInteger> inputs = new ArrayList<>();
    int inputRow = feed.inputsAt(row);
    List<Operand> operands = binding.layout().inputs();
    for (int i = 0; inputRow >= 0 && i < operands.size(); i++) {
      inputs.add(Hookup.code(operands.get(i), dut.inputs[i], inputRow));
    }
    return new Row(
        cycle, caseIn, -1, controls, inputs, List.of(), List.of(), List.of(), List.of(), VERDICT);
  }

  private static void control(List<BigInteger> controls, long[] column, int row, boolean isInput) {
    if (column != null) {
      controls.add(isInput ? BigInteger.valueOf(column[row]) : UNKNOWN);
    }
  }
}
