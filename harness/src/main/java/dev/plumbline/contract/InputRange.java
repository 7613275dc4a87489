package dev.plumbline.contract;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.text.Names;
import java.util.List;

/** The assumption that an input lies between two values. */
final class InputRange {
  private static final int MOST_BITS = 62;

  private InputRange() {}

  static Assumption of(Reference reference, String name, double least, double most) {
    List<Operand> operands = reference.inputs();
    int at = 0;
    for (Operand operand : operands) {
      if (operand.name().equals(name)) {
        return of(operand, at, least, most);
      }
      at += operand.format().words();
    }
    throw new ContractException(
        "The reference has no input \""
            + name
            + "\"; "
            + Names.hint(name, operands.stream().map(Operand::name).toList())
            + ".");
  }

  private static Assumption of(Operand operand, int at, double least, double most) {
    Format format = operand.format();
    double unit = Math.scalb(1.0, -format.fractionBits());
    double from = Math.ceil(least / unit);
    double to = Math.floor(most / unit);
    boolean isEmpty =
        !(from <= to)
            || format.width() > MOST_BITS
            || to < format.minCode().doubleValue()
            || from > format.maxCode().doubleValue();
    if (isEmpty) {
      throw new ContractException(
          "Input \""
              + operand.name()
              + "\" of format "
              + format
              + " cannot be assumed to lie between "
              + least
              + " and "
              + most
              + "; a range that has a code of the format is allowed, of up to "
              + MOST_BITS
              + " bits.");
    }
    long low = (long) from;
    long high = (long) to;
    return new Assumption(
        operand.name() + " between " + least + " and " + most,
        inputs -> inputs[at] >= low && inputs[at] <= high);
  }
}
