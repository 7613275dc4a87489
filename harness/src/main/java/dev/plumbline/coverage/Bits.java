package dev.plumbline.coverage;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;

/** Exact steps for distinguishing coverage points, each under a name of its own. */
final class Bits {
  final Datapath.Builder b;
  final Value zero;
  private int count;

  Bits(String name) {
    b = Datapath.named(name);
    zero = b.constant("constant_zero", Format.unsigned(1, 0), 0);
  }

  String name() {
    return "step_" + count++;
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
      all = b.and(name(), all, bits[i]);
    }
    return all;
  }

  Value or(Value... bits) {
    Value any = bits[0];
    for (int i = 1; i < bits.length; i++) {
      any = b.or(name(), any, bits[i]);
    }
    return any;
  }

  Value not(Value bit) {
    return b.not(name(), bit);
  }

  Value less(Value left, Value right) {
    return b.lessThan(name(), left, right);
  }

  Value atMost(Value left, Value right) {
    return b.atMost(name(), left, right);
  }

  Value equal(Value left, Value right) {
    return b.equal(name(), left, right);
  }

  Value add(Value left, Value right) {
    return b.add(name(), left, right);
  }

  Value subtract(Value left, Value right) {
    return b.subtract(name(), left, right);
  }

  Value multiply(Value left, Value right) {
    return b.multiply(name(), left, right);
  }

  Value negate(Value value) {
    return b.negate(name(), value);
  }

  Value absolute(Value value) {
    return b.absolute(name(), value);
  }

  Value select(Value bit, Value one, Value other) {
    return b.select(name(), bit, one, other);
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
