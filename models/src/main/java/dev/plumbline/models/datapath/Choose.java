package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import java.util.List;

/**
 * One of many aligned values, chosen by an index; under an open index the hull of those it may be.
 */
final class Choose extends Step {
  private final Format format;

  /** The index comes first. */
  Choose(Value... operands) {
    super(range(operands), operands[1].fractionBits(), operands);
    Format first = operands[1].format();
    this.format =
        choices().stream().allMatch(choice -> choice.format().equals(first)) ? first : null;
  }

  private static Range range(Value... operands) {
    Range range = operands[1].range();
    for (int k = 2; k < operands.length; k++) {
      range = range.hull(operands[k].range());
    }
    return range;
  }

  List<Value> choices() {
    return operands().subList(1, operands().size());
  }

  @Override
  Format declaredFormat() {
    return format;
  }

  @Override
  List<Value> handedOn() {
    return choices();
  }

  @Override
  Loop bits(Columns columns, Value result) {
    long[] index = columns.lane(operand(0)).low;
    Lane[] choices = choices().stream().map(columns::lane).toArray(Lane[]::new);
    Lane out = columns.lane(result);
    return count -> {
      for (int i = 0; i < count; i++) {
        Lane chosen = choices[(int) index[i]];
        out.set(i, chosen.high(i), chosen.low[i]);
      }
    };
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    long[] least = columns.low(operand(0)).low;
    long[] most = columns.high(operand(0)).low;
    Lane[] low = choices().stream().map(columns::low).toArray(Lane[]::new);
    Lane[] high = choices().stream().map(columns::high).toArray(Lane[]::new);
    Lane outLow = columns.low(result);
    Lane outHigh = columns.high(result);
    return count -> {
      for (int i = 0; i < count; i++) {
        Lane lowest = low[(int) least[i]];
        Lane highest = high[(int) least[i]];
        for (int k = (int) least[i] + 1; k <= most[i]; k++) {
          lowest = less(low[k], lowest, i) ? low[k] : lowest;
          highest = less(highest, high[k], i) ? high[k] : highest;
        }
        outLow.set(i, lowest.high(i), lowest.low[i]);
        outHigh.set(i, highest.high(i), highest.low[i]);
      }
    };
  }

  private static boolean less(Lane a, Lane b, int i) {
    return Wide.less(a.high(i), a.low[i], b.high(i), b.low[i]);
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[] index = columns.of(operand(0));
    double[][] choices = choices().stream().map(columns::of).toArray(double[][]::new);
    double[] out = columns.of(result);
    return count -> {
      for (int i = 0; i < count; i++) {
        out[i] = Double.isNaN(index[i]) ? Double.NaN : choices[(int) Math.floor(index[i])][i];
      }
    };
  }

  @Override
  String formula() {
    return operand(0).name()
        + " of "
        + String.join(", ", choices().stream().map(Value::name).toList());
  }
}
