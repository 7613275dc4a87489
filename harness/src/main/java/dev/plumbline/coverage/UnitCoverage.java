package dev.plumbline.coverage;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigInteger;

/** What the benches of single units have to reach. */
public final class UnitCoverage {
  private UnitCoverage() {}

  public static Datapath reciprocal(Format input, Format output) {
    Bits s = new Bits("reciprocal coverage points");
    Value x = s.b.input("x", input);
    s.point("zero", s.equal(x, s.zero));
    s.point("positive", s.less(s.zero, x));
    s.point("one_lsb", s.equal(x, end(s, input, BigInteger.ONE)));
    s.point("highest", s.equal(x, end(s, input, input.maxCode())));
    s.point("power_of_two", powerOfTwo(s, x, input));
    if (input.signed()) {
      s.point("negative", s.less(x, s.zero));
      s.point("lowest", s.equal(x, end(s, input, input.minCode())));
    }
    // 1/x > highest code * 2^-G, with x = code * 2^-F: 2^(F+G) > code * highest
    int places = input.fractionBits() + output.fractionBits();
    BigInteger one = BigInteger.ONE.shiftLeft(places);
    BigInteger largest = one.subtract(BigInteger.ONE).divide(output.maxCode());
    if (largest.signum() > 0) {
      Value most = end(s, input, largest.min(input.maxCode()));
      s.point("overflow", s.less(s.zero, x), s.atMost(x, most));
    }
    return s.b.build();
  }

  public static Datapath root(Format input, Format output) {
    Bits s = new Bits("square root coverage points");
    Value x = s.b.input("x", input);
    s.point("zero", s.equal(x, s.zero));
    s.point("one_lsb", s.equal(x, end(s, input, BigInteger.ONE)));
    s.point("highest", s.equal(x, end(s, input, input.maxCode())));
    s.point("power_of_two", powerOfTwo(s, x, input));
    if (input.signed()) {
      s.point("negative", s.less(x, s.zero));
    }
    Value last = end(s, input, BigInteger.ONE);
    Value positive = s.less(s.zero, x);
    s.point("perfect_square", positive, isSquare(s, x, output));
    s.point("one_below_a_square", positive, isSquare(s, s.add(x, last), output));
    s.point("one_above_a_square", s.less(last, x), isSquare(s, s.subtract(x, last), output));
    return s.b.build();
  }

  public static Datapath product(Format left, Format right, Format product) {
    Bits s = new Bits("multiplier coverage points");
    Value a = s.b.input("a", left);
    Value b = s.b.input("b", right);
    Value full = s.multiply(a, b);
    s.point("zero", s.equal(full, s.zero));
    s.point("positive", s.less(s.zero, full));
    s.point("highest_by_highest", isEnd(s, a, left, true), isEnd(s, b, right, true));
    if (left.signed() || right.signed()) {
      s.point("negative", s.less(full, s.zero));
      s.point("lowest_by_lowest", isEnd(s, a, left, false), isEnd(s, b, right, false));
    }
    if (product != null && full.format().integerBits() > product.integerBits()) {
      s.point("overflow", s.less(end(s, product, product.maxCode()), full));
      if (product.signed()) {
        s.point("overflow_below", s.less(full, end(s, product, product.minCode())));
      }
    }
    return s.b.build();
  }

  private static Value isEnd(Bits s, Value value, Format format, boolean high) {
    return s.equal(value, end(s, format, high ? format.maxCode() : format.minCode()));
  }

  private static Value end(Bits s, Format format, BigInteger code) {
    return s.b.constant(s.name(), format, code);
  }

  private static Value powerOfTwo(Bits s, Value x, Format format) {
    Value any = null;
    for (int bit = 1; BigInteger.ONE.shiftLeft(bit).compareTo(format.maxCode()) <= 0; bit++) {
      Value is = s.equal(x, end(s, format, BigInteger.ONE.shiftLeft(bit)));
      any = any == null ? is : s.or(any, is);
    }
    return any == null ? s.equal(x, s.zero) : any;
  }

  /** Whether a value is the exact square of a code of the root's format, or as fine as it. */
  private static Value isSquare(Bits s, Value value, Format root) {
    Value magnitude = s.b.maximum(s.name(), value, s.zero);
    int places = Math.max(2 * root.fractionBits(), magnitude.format().fractionBits());
    Value radicand = s.b.extend(s.name(), magnitude, places + (places & 1));
    Value floor = s.b.squareRoot(s.name(), radicand, Rounding.FLOOR);
    return s.equal(s.multiply(floor, floor), radicand);
  }
}
