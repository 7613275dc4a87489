package dev.plumbline.models.datapath;

/**
 * A function of whole codes, of which nothing is known between two of them: in bounds it is one
 * code where every operand is, else anything; ideally it is that of the codes, and none of what
 * lies between codes or beyond what a double counts.
 */
abstract class CodeFunction extends Step {
  private static final double COUNTED = 0x1p53;

  CodeFunction(Range range, int fractionBits, Value... operands) {
    super(range, fractionBits, operands);
  }

  /** The function from lanes of its operands to a lane of its results. */
  abstract Loop codes(Lane[] in, Lane out);

  @Override
  final Loop bits(Columns columns, Value result) {
    return codes(operands().stream().map(columns::lane).toArray(Lane[]::new), columns.lane(result));
  }

  @Override
  final Loop bounds(BoundColumns columns, Value result) {
    Lane[] low = operands().stream().map(columns::low).toArray(Lane[]::new);
    Lane[] high = operands().stream().map(columns::high).toArray(Lane[]::new);
    Lane outLow = columns.low(result);
    Lane outHigh = columns.high(result);
    Loop settled = codes(low, outLow);
    Clamp whole = new Clamp(range());
    return count -> {
      settled.run(count);
      for (int i = 0; i < count; i++) {
        if (open(low, high, i)) {
          whole.setMin(outLow, i);
          whole.setMax(outHigh, i);
        } else {
          outHigh.set(i, outLow.high(i), outLow.low[i]);
        }
      }
    };
  }

  private static boolean open(Lane[] low, Lane[] high, int i) {
    long apart = 0;
    for (int k = 0; k < low.length; k++) {
      apart |= (low[k].low[i] ^ high[k].low[i]) | (low[k].high(i) ^ high[k].high(i));
    }
    return apart != 0;
  }

  @Override
  final Loop ideal(IdealColumns columns, Value result) {
    int operands = operands().size();
    double[][] in = new double[operands][];
    double[] lsbs = new double[operands];
    Lane[] codes = new Lane[operands];
    Clamp[] legal = new Clamp[operands];
    for (int k = 0; k < operands; k++) {
      in[k] = columns.of(operand(k));
      lsbs[k] = operand(k).format().lsbs();
      codes[k] = new Lane(columns.capacity(), operand(k).wide());
      legal[k] = new Clamp(operand(k).range());
    }
    Lane gives = new Lane(columns.capacity(), result.wide());
    Loop function = codes(codes, gives);
    double[] out = columns.of(result);
    double lsb = result.format().lsbs();
    return count -> {
      for (int i = 0; i < count; i++) {
        out[i] = 0;
        for (int k = 0; k < operands; k++) {
          double code = in[k][i] / lsbs[k];
          boolean whole = code == Math.rint(code) && Math.abs(code) < COUNTED;
          legal[k].set(codes[k], i, whole ? code : Double.NEGATIVE_INFINITY);
          out[i] = whole ? out[i] : Double.NaN;
        }
      }
      function.run(count);
      for (int i = 0; i < count; i++) {
        out[i] += Wide.toDouble(gives.high(i), gives.low[i]) * lsb;
      }
    };
  }
}
