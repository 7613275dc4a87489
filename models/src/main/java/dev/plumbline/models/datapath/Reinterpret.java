package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import java.math.BigInteger;

/**
 * The bits of a code read in another format of as many. Ideally a real code moves by the weight of
 * all bits where the sign's bit says otherwise, and has no ideal between the two codes at the jump.
 */
final class Reinterpret extends Step {
  private final Format format;

  Reinterpret(Value value, Format format) {
    super(range(value.range(), format), format.fractionBits(), value);
    this.format = format;
  }

  private static Range range(Range from, Format format) {
    BigInteger min = Overflow.WRAP.apply(from.min(), format);
    BigInteger max = Overflow.WRAP.apply(from.max(), format);
    return min.subtract(from.min()).equals(max.subtract(from.max()))
        ? new Range(min, max)
        : Range.of(format);
  }

  @Override
  Format declaredFormat() {
    return format;
  }

  @Override
  Loop bits(Columns columns, Value result) {
    return ConvertLoops.wrapped(columns.lane(operand(0)), format, columns.lane(result));
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    Lane outLow = columns.low(result);
    Lane outHigh = columns.high(result);
    Clamp whole = new Clamp(range());
    Loop across =
        count -> {
          for (int i = 0; i < count; i++) {
            if (Wide.less(outHigh.high(i), outHigh.low[i], outLow.high(i), outLow.low[i])) {
              whole.setMin(outLow, i);
              whole.setMax(outHigh, i);
            }
          }
        };
    return Loop.all(
        ConvertLoops.wrapped(columns.low(operand(0)), format, outLow),
        ConvertLoops.wrapped(columns.high(operand(0)), format, outHigh),
        across);
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[] x = columns.of(operand(0));
    double[] out = columns.of(result);
    double from = operand(0).format().lsbs();
    double to = format.lsbs();
    double all = Math.scalb(1.0, format.width());
    double least = format.minCode().doubleValue();
    double most = format.maxCode().doubleValue();
    boolean same = format.signed() == operand(0).format().signed();
    return count -> {
      for (int i = 0; i < count; i++) {
        double code = x[i] / from;
        double read = code < least ? code + all : code;
        read = code >= most + 1 ? code - all : read;
        out[i] = same || (read >= least && read <= most) ? read * to : Double.NaN;
      }
    };
  }

  @Override
  String formula() {
    return "bits of " + operand(0).name() + " as " + format;
  }
}
