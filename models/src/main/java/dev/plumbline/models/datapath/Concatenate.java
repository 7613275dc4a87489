package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;

/** Codes of unsigned values side by side, the first one highest: an unsigned integer, exact. */
final class Concatenate extends Step {
  private final Format format;

  Concatenate(Value... parts) {
    super(range(parts), 0, parts);
    this.format = Format.unsigned(width(parts), 0);
  }

  static int width(Value... parts) {
    int width = 0;
    for (Value part : parts) {
      width += part.format().width();
    }
    return width;
  }

  private static Range range(Value... parts) {
    Range range = new Range(BigInteger.ZERO, BigInteger.ZERO);
    for (Value part : parts) {
      range = range.shiftedLeft(part.format().width()).plus(part.range());
    }
    return range;
  }

  @Override
  Format declaredFormat() {
    return format;
  }

  @Override
  Loop bits(Columns columns, Value result) {
    return loop(operands().stream().map(columns::lane).toArray(Lane[]::new), columns.lane(result));
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    return Loop.all(
        loop(operands().stream().map(columns::low).toArray(Lane[]::new), columns.low(result)),
        loop(operands().stream().map(columns::high).toArray(Lane[]::new), columns.high(result)));
  }

  private Loop loop(Lane[] parts, Lane out) {
    int[] widths = operands().stream().mapToInt(part -> part.format().width()).toArray();
    return count -> {
      for (int i = 0; i < count; i++) {
        long high = 0;
        long low = 0;
        for (int k = 0; k < parts.length; k++) {
          high = Wide.leftHigh(high, low, widths[k]) | parts[k].high(i);
          low = Wide.leftLow(low, widths[k]) | parts[k].low[i];
        }
        out.set(i, high, low);
      }
    };
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[][] parts = operands().stream().map(columns::of).toArray(double[][]::new);
    double[] weights = new double[parts.length];
    int below = format.width();
    for (int k = 0; k < parts.length; k++) {
      below -= operand(k).format().width();
      weights[k] = Math.scalb(1 / operand(k).format().lsbs(), below);
    }
    double[] out = columns.of(result);
    return count -> {
      for (int i = 0; i < count; i++) {
        double sum = 0;
        for (int k = 0; k < parts.length; k++) {
          sum += parts[k][i] * weights[k];
        }
        out[i] = sum;
      }
    };
  }

  @Override
  String formula() {
    return "{" + String.join(", ", operands().stream().map(Value::name).toList()) + "}";
  }
}
