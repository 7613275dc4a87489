package dev.plumbline.models.solid;

import dev.plumbline.models.Evaluated;
import dev.plumbline.models.datapath.BoundsEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** The bounds of every output over columns of codes of any length, by the output's name. */
final class Enclosed {
  private static final int BLOCK = 1024;

  private final Map<String, long[]> low = new LinkedHashMap<>();
  private final Map<String, long[]> high = new LinkedHashMap<>();

  Enclosed(Datapath datapath, long[][] inputs) {
    int cases = inputs[0].length;
    BoundsEvaluation bounds = datapath.bounds(BLOCK);
    List<Operand> outputs = datapath.outputs();
    for (Operand output : outputs) {
      low.put(output.name(), new long[cases]);
      high.put(output.name(), new long[cases]);
    }
    for (int from = 0; from < cases; from += BLOCK) {
      int count = Math.min(BLOCK, cases - from);
      for (int i = 0; i < inputs.length; i++) {
        System.arraycopy(inputs[i], from, bounds.input(i, 0), 0, count);
      }
      bounds.run(count);
      for (int o = 0; o < outputs.size(); o++) {
        String name = outputs.get(o).name();
        System.arraycopy(bounds.low(o, 0), 0, low.get(name), from, count);
        System.arraycopy(bounds.high(o, 0), 0, high.get(name), from, count);
      }
    }
  }

  boolean settled(String output, int i) {
    return width(output, i) == 0;
  }

  long width(String output, int i) {
    return high.get(output)[i] - low.get(output)[i];
  }

  /** The settled value of a decision. */
  boolean is(String bit, int i) {
    if (!settled(bit, i)) {
      throw new AssertionError(bit + " may do either");
    }
    return low.get(bit)[i] == 1;
  }

  boolean holds(String output, int i, long code) {
    return low.get(output)[i] <= code && code <= high.get(output)[i];
  }

  /** Throws unless what a datapath gives in bits lies inside, for every case and output. */
  void requireBitsOf(Datapath other, long[][] inputs) {
    Evaluated bits = Evaluated.bits(other, inputs);
    for (String output : low.keySet()) {
      long[] codes = bits.codes(output);
      for (int i = 0; i < codes.length; i++) {
        if (!holds(output, i, codes[i])) {
          throw new AssertionError(
              describe(output, i) + ", not " + codes[i] + " for " + describe(other, inputs, i));
        }
      }
    }
  }

  String describe(String output, int i) {
    return output + " " + low.get(output)[i] + " to " + high.get(output)[i];
  }

  private static String describe(Datapath datapath, long[][] inputs, int i) {
    return Evaluated.describe(datapath, inputs, i);
  }
}
