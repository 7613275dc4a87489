package dev.plumbline.coverage;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;

/**
 * Exact steps for distinguishing coverage points, each under a name of its own; what was asked for
 * before is not computed again.
 */
final class Bits {
  final Datapath.Builder b;
  final Value zero;
  private final Map<List<Object>, Value> made = new HashMap<>(); // values are one by identity
  private int count;

  Bits(String name) {
    b = Datapath.named(name);
    zero = b.constant("constant_zero", Format.unsigned(1, 0), 0);
  }

  String name() {
    return "step_" + count++;
  }

  private Value once(Function<String, Value> maker, String what, Value... operands) {
    List<Object> key = new ArrayList<>(List.of((Object[]) operands));
    key.add(what);
    Value known = made.get(key);
    if (known == null) {
      known = maker.apply(name());
      made.put(key, known);
    }
    return known;
  }

  Value[] vector(String name, Format format) {
    Value[] values = new Value[Axes.NAMES.size()];
    for (int i = 0; i < values.length; i++) {
      values[i] = b.input(name + "_" + Axes.NAMES.get(i), format);
    }
    return values;
  }

  Value code(long code, int fractionBits) {
    return b.constant(name(), new Format(true, 63, fractionBits), code);
  }

  Value and(Value... bits) {
    Value all = bits[0];
    for (int i = 1; i < bits.length; i++) {
      Value so = all;
      Value bit = bits[i];
      all = once(name -> b.and(name, so, bit), "and", so, bit);
    }
    return all;
  }

  Value or(Value... bits) {
    Value any = bits[0];
    for (int i = 1; i < bits.length; i++) {
      Value so = any;
      Value bit = bits[i];
      any = once(name -> b.or(name, so, bit), "or", so, bit);
    }
    return any;
  }

  Value not(Value bit) {
    return once(name -> b.not(name, bit), "not", bit);
  }

  Value less(Value left, Value right) {
    return once(name -> b.lessThan(name, left, right), "less", left, right);
  }

  Value atMost(Value left, Value right) {
    return once(name -> b.atMost(name, left, right), "at most", left, right);
  }

  Value equal(Value left, Value right) {
    return once(name -> b.equal(name, left, right), "equal", left, right);
  }

  Value add(Value left, Value right) {
    return once(name -> b.add(name, left, right), "add", left, right);
  }

  Value subtract(Value left, Value right) {
    return once(name -> b.subtract(name, left, right), "subtract", left, right);
  }

  Value multiply(Value left, Value right) {
    return once(name -> b.multiply(name, left, right), "multiply", left, right);
  }

  Value negate(Value value) {
    return once(name -> b.negate(name, value), "negate", value);
  }

  Value absolute(Value value) {
    return once(name -> b.absolute(name, value), "absolute", value);
  }

  Value select(Value bit, Value one, Value other) {
    return once(name -> b.select(name, bit, one, other), "select", bit, one, other);
  }

  Value dot(Value[] left, Value[] right) {
    Value sum = multiply(left[0], right[0]);
    for (int i = 1; i < left.length; i++) {
      sum = add(sum, multiply(left[i], right[i]));
    }
    return sum;
  }

  /** A coverage point, where it is asked for. */
  void pointIf(boolean asked, String name, Value... bits) {
    if (asked) {
      point(name, bits);
    }
  }

  /** A coverage point: reached where all bits are 1. */
  void point(String name, Value... bits) {
    b.output(name, and(bits));
  }
}
