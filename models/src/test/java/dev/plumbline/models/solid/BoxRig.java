package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.BitEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.datapath.Vectors;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.util.List;

/** One case at a time into a datapath of a solid, by operand name. */
final class BoxRig {
  private final Datapath datapath;
  private final BitEvaluation bits;
  private final List<String> inputs;
  private final List<String> outputs;

  BoxRig(Datapath datapath) {
    this.datapath = datapath;
    this.bits = datapath.bits(1);
    this.inputs = datapath.inputs().stream().map(Operand::name).toList();
    this.outputs = datapath.outputs().stream().map(Operand::name).toList();
  }

  /** Sets {@code name_x}, {@code name_y}, {@code name_z} to the codes nearest to real values. */
  BoxRig set(String name, double... xyz) {
    for (int i = 0; i < xyz.length; i++) {
      setOne(name + Vectors.suffix(i), xyz[i]);
    }
    return this;
  }

  /** Sets one operand to the code nearest to a real value. */
  BoxRig setOne(String name, double value) {
    int index = inputs.indexOf(name);
    Operand operand = datapath.inputs().get(index);
    bits.input(index, 0)[0] =
        operand.format().toCode(value, Rounding.HALF_CEILING, Overflow.SATURATE).longValueExact();
    return this;
  }

  /** Sets the direction, or its reciprocal and the parallel bits where the form asks for those. */
  BoxRig direction(double... xyz) {
    if (inputs.contains("direction_x")) {
      return set("direction", xyz);
    }
    double[] inverse = new double[xyz.length];
    double[] parallel = new double[xyz.length];
    for (int i = 0; i < xyz.length; i++) {
      parallel[i] = xyz[i] == 0 ? 1 : 0;
      inverse[i] = xyz[i] == 0 ? 12.5 : 1 / xyz[i]; // whatever it is, it is ignored
    }
    return set("inverse", inverse).set("parallel", parallel);
  }

  BoxRig run() {
    bits.run(1);
    return this;
  }

  boolean hit() {
    return is("hit");
  }

  boolean is(String bit) {
    return real(bit) == 1;
  }

  double entry() {
    return real("entry");
  }

  double exit() {
    return real("exit");
  }

  double real(String output) {
    int index = outputs.indexOf(output);
    return datapath.outputs().get(index).format().toReal(bits.output(index, 0)[0]);
  }
}
