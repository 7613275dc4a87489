package dev.plumbline.models.datapath;

import dev.plumbline.models.parsing.TextTable;
import java.math.BigDecimal;
import java.math.BigInteger;
import java.math.MathContext;
import java.math.RoundingMode;

/** Prints a datapath for people: one row a step, columns lined up. */
final class TablePrinter {
  private final Datapath datapath;
  private final TextTable rows = new TextTable("step", "formula", "format", "range");

  TablePrinter(Datapath datapath) {
    this.datapath = datapath;
  }

  String print() {
    addSteps(datapath, "");
    for (int i = 0; i < datapath.outputs().size(); i++) {
      Operand output = datapath.outputs().get(i);
      String source = datapath.outputValues().get(i).name();
      rows.add(output.name(), "output " + source, output.format().toString(), "");
    }
    StringBuilder text = new StringBuilder(datapath.title()).append('\n');
    rows.lines().forEach(line -> text.append(line).append('\n'));
    return text.toString();
  }

  private void addSteps(Datapath of, String prefix) {
    for (Value value : of.values()) {
      if (value.step() instanceof UnitStep step) {
        addSteps(step.unit().datapath(), prefix + value.name() + ".");
      }
      if (!value.hidden()) {
        rows.add(
            prefix + value.name(), value.step().formula(), value.format().toString(), range(value));
      }
    }
  }

  /** Both ends as reals. */
  private static String range(Value value) {
    return real(value.min(), value) + " .. " + real(value.max(), value);
  }

  /** Ten digits; cut rather than rounded, since an end of a range is often just below a power. */
  private static String real(BigInteger code, Value value) {
    BigDecimal exact = value.format().toDecimal(code);
    BigDecimal cut = exact.round(new MathContext(10, RoundingMode.DOWN));
    return cut.scale() <= 16 && cut.precision() - cut.scale() <= 10
        ? cut.stripTrailingZeros().toPlainString()
        : cut.toString();
  }
}
