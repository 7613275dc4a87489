package dev.plumbline.models.light;

import dev.plumbline.models.datapath.BitEvaluation;
import dev.plumbline.models.datapath.BoundsEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.util.List;

/** What the datapaths of light have in common: one rounding, and columns by name. */
final class Codes {
  private Codes() {}

  /** To the nearest code, a half upwards, saturated; exact where the format has more places. */
  static Value near(Datapath.Builder b, String name, Value value, Format format) {
    Value wide =
        value.format().fractionBits() < format.fractionBits()
            ? b.extend(name + "_wide", value, format.fractionBits())
            : value;
    return b.convert(name, wide, format, Rounding.HALF_CEILING, Overflow.SATURATE);
  }

  /** The code nearest to a real, as settings are made. */
  static long code(Format format, double real) {
    return format.toCode(real, Rounding.HALF_CEILING, Overflow.SATURATE).longValue();
  }

  static long[] input(Datapath datapath, BitEvaluation bits, String name) {
    return bits.input(index(datapath.inputs(), name), 0);
  }

  static long[] output(Datapath datapath, BitEvaluation bits, String name) {
    return bits.output(index(datapath.outputs(), name), 0);
  }

  static long[] input(Datapath datapath, BoundsEvaluation bounds, String name) {
    return bounds.input(index(datapath.inputs(), name), 0);
  }

  static int index(List<Operand> operands, String name) {
    for (int i = 0; i < operands.size(); i++) {
      if (operands.get(i).name().equals(name)) {
        return i;
      }
    }
    throw new IllegalArgumentException(
        "Operand \"" + name + "\": there are " + operands + "; name one of these.");
  }
}
