package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.rows.ToldBounds;
import java.util.List;
import java.util.stream.Collectors;

/** A whole unit as one step; its operands already have the formats of its inputs. */
final class UnitStep extends Step {
  private final Unit unit;
  private final Format format;

  UnitStep(Unit unit, List<Value> operands) {
    super(
        Range.of(unit.output().format()),
        unit.output().format().fractionBits(),
        operands.toArray(new Value[0]));
    this.unit = unit;
    this.format = unit.output().format();
  }

  Unit unit() {
    return unit;
  }

  @Override
  Format declaredFormat() {
    return format;
  }

  @Override
  boolean exact() {
    return false;
  }

  /** Runs the unit's own steps between the lanes of its operands and the lane of its output. */
  @Override
  FloatFormat floatResult() {
    return unit.output().floating().orElse(null);
  }

  @Override
  Loop bits(Columns columns, Value result) {
    Columns inside = new Columns(unit.datapath(), columns.capacity());
    List<Value> inputs = unit.datapath().inputValues();
    for (int i = 0; i < inputs.size(); i++) {
      inside.share(inputs.get(i), columns.lane(operand(i)));
    }
    Loop[] loops = inside.bindBits();
    columns.nest(result.name(), inside);
    columns.share(result, inside.lane(unit.outputValue()));
    return Loop.of(
        count -> { // the array itself: variations exchange loops in it
          for (Loop loop : loops) {
            loop.run(count);
          }
        },
        code -> Loop.all(loops).tell(code));
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    Unit.CodeBounds rule = unit.codeBounds();
    if (rule == null) {
      return functionBounds(columns, result);
    }
    long[] least = columns.low(operand(0)).low;
    long[] greatest = columns.high(operand(0)).low;
    long[] low = columns.low(result).low;
    long[] high = columns.high(result).low;
    Loop loop = count -> rule.tell(least, greatest, low, high, count);
    return rule instanceof ToldBounds told
        ? Loop.of(loop, code -> told.tell(code, least, greatest, low, high))
        : loop;
  }

  private Loop functionBounds(BoundColumns columns, Value result) {
    Lane[] low = operands().stream().map(columns::low).toArray(Lane[]::new);
    Lane[] high = operands().stream().map(columns::high).toArray(Lane[]::new);
    double[] lsbs = operands().stream().mapToDouble(v -> v.format().lsbs()).toArray();
    double[] least = new double[low.length];
    double[] greatest = new double[low.length];
    double[] ends = new double[2];
    Lane outLow = columns.low(result);
    Lane outHigh = columns.high(result);
    Clamp clamp = new Clamp(range());
    return count -> {
      for (int i = 0; i < count; i++) {
        for (int k = 0; k < low.length; k++) {
          least[k] = real(low[k], i, -1) * lsbs[k];
          greatest[k] = real(high[k], i, 1) * lsbs[k];
        }
        unit.enclose(least, greatest, ends);
        setLow(clamp, ends[0] / format.lsbs(), outLow, i);
        setHigh(clamp, ends[1] / format.lsbs(), outHigh, i);
      }
    };
  }

  /** A code as a double, moved outwards where doubles cannot hold it. */
  private static double real(Lane lane, int i, int outwards) {
    double code = Wide.toDouble(lane.high(i), lane.low[i]);
    return Math.abs(code) <= 0x1p53 ? code : code + outwards * 2 * Math.ulp(code);
  }

  // Codes are whole: one within the error of y is at least the ceiling of y - error. The floor of y
  // is taken in as well, so that the ideal lies inside; and the LSB that doubles may be
  // off.

  private void setLow(Clamp clamp, double function, Lane out, int i) {
    if (Double.isNaN(function)) {
      clamp.setMin(out, i);
    } else {
      double y = clamp.clamped(function);
      double code = Math.ceil(y - unit.error() - 4 * Math.ulp(y));
      clamp.set(out, i, Math.min(Math.floor(y), code));
    }
  }

  private void setHigh(Clamp clamp, double function, Lane out, int i) {
    if (Double.isNaN(function)) {
      clamp.setMax(out, i);
    } else {
      double y = clamp.clamped(function);
      double code = Math.floor(y + unit.error() + 4 * Math.ulp(y));
      clamp.set(out, i, Math.max(Math.ceil(y), code));
    }
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[][] in = operands().stream().map(columns::of).toArray(double[][]::new);
    double[] out = columns.of(result);
    double[] x = new double[in.length];
    double min = format.toReal(format.minCode());
    double max = format.toReal(format.maxCode());
    return count -> {
      for (int i = 0; i < count; i++) {
        for (int k = 0; k < x.length; k++) {
          x[k] = in[k][i];
        }
        out[i] = Math.min(Math.max(unit.apply(x), min), max);
      }
    };
  }

  @Override
  String formula() {
    return "unit "
        + unit.datapath().name()
        + operands().stream().map(Value::name).collect(Collectors.joining(", ", "(", ")"));
  }
}
