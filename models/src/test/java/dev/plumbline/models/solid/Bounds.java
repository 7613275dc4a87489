package dev.plumbline.models.solid;

import dev.plumbline.models.Evaluated;
import dev.plumbline.models.datapath.BoundsEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import java.util.LinkedHashMap;
import java.util.Map;

/** The bounds of a datapath over columns of codes of any length, one word each. */
final class Bounds {
  private static final int BLOCK = 1024;

  private final Map<String, long[]> low = new LinkedHashMap<>();
  private final Map<String, long[]> high = new LinkedHashMap<>();

  Bounds(Datapath datapath, long[][] inputs) {
    BoundsEvaluation bounds = datapath.bounds(BLOCK);
    int cases = inputs[0].length;
    for (Operand output : datapath.outputs()) {
      low.put(output.name(), new long[cases]);
      high.put(output.name(), new long[cases]);
    }
    for (int from = 0; from < cases; from += BLOCK) {
      int count = Math.min(BLOCK, cases - from);
      for (int k = 0; k < inputs.length; k++) {
        System.arraycopy(inputs[k], from, bounds.input(k, 0), 0, count);
      }
      bounds.run(count);
      for (int o = 0; o < datapath.outputs().size(); o++) {
        String name = datapath.outputs().get(o).name();
        System.arraycopy(bounds.low(o, 0), 0, low.get(name), from, count);
        System.arraycopy(bounds.high(o, 0), 0, high.get(name), from, count);
      }
    }
  }

  boolean holds(String output, int i, long code) {
    return low.get(output)[i] <= code && code <= high.get(output)[i];
  }

  /** Whether an output may be one code only. */
  boolean decided(String output, int i) {
    return low.get(output)[i] == high.get(output)[i];
  }

  long low(String output, int i) {
    return low.get(output)[i];
  }

  long high(String output, int i) {
    return high.get(output)[i];
  }

  /** LSB between both bounds. */
  long width(String output, int i) {
    return high.get(output)[i] - low.get(output)[i];
  }

  String describe(String output, int i) {
    return low.get(output)[i] + " to " + high.get(output)[i];
  }

  /** The value of a decision that is decided. */
  boolean is(String bit, int i) {
    if (!decided(bit, i)) {
      throw new AssertionError(bit + " may do either");
    }
    return low(bit, i) == 1;
  }

  /** Throws unless what another datapath gives in bits lies inside, for every case and output. */
  void requireBitsOf(Datapath other, long[][] inputs) {
    Evaluated bits = Evaluated.bits(other, inputs);
    for (String output : low.keySet()) {
      long[] codes = bits.codes(output);
      for (int i = 0; i < codes.length; i++) {
        if (!holds(output, i, codes[i])) {
          String which = output + " " + describe(output, i) + ", not " + codes[i];
          throw new AssertionError(which + " for " + Evaluated.describe(other, inputs, i));
        }
      }
    }
  }
}
