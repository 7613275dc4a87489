package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigInteger;

/** The exact integer root of a code that is never negative; its point moves by half. */
final class Root extends Step {
  /** Which integer is taken for a root that is none; a root never lies half-way. */
  private enum Side {
    FLOOR(Long.MAX_VALUE, 0),
    NEAREST(0, -1),
    CEILING(0, 0);

    // The greatest remainder that still leaves the root as it is: a constant and a mask of the
    // root.
    private final long always;
    private final long ofRoot;

    Side(long always, long ofRoot) {
      this.always = always;
      this.ofRoot = ofRoot;
    }
  }

  /** Bits of a root below which a double's is off by less than one, its sign counted. */
  private static final int SHORT = 50;

  // What a lower word may be, and an upper one whose root is that short.
  private static final Range WORD = Range.of(Format.signed(64, 0));
  private static final Range UPPER = Range.of(Format.signed(2 * SHORT - 64 + 2, 0));

  private final Side side;

  /** The fraction bits of the value are even. */
  Root(Value value, Rounding rounding) {
    super(new Range(value.min().sqrt(), ceiling(value.max())), value.fractionBits() / 2, value);
    this.side =
        rounding == Rounding.FLOOR || rounding == Rounding.TOWARD_ZERO ? Side.FLOOR : Side.NEAREST;
  }

  private static BigInteger ceiling(BigInteger code) {
    BigInteger[] root = code.sqrtAndRemainder();
    return root[0].add(BigInteger.valueOf(root[1].signum()));
  }

  @Override
  boolean exact() {
    return false;
  }

  @Override
  Loop bits(Columns columns, Value result) {
    return loop(
        columns.lane(operand(0)),
        side,
        columns.reals(0),
        columns.reals(1),
        columns.scratch(0, false).low,
        columns.lane(result));
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    double[] upper = columns.reals(0);
    double[] lower = columns.reals(1);
    long[] rest = columns.scratch(0, false).low;
    return Loop.all(
        loop(columns.low(operand(0)), Side.FLOOR, upper, lower, rest, columns.low(result)),
        loop(columns.high(operand(0)), Side.CEILING, upper, lower, rest, columns.high(result)));
  }

  private Loop loop(Lane x, Side end, double[] upper, double[] lower, long[] rest, Lane out) {
    if (!x.wide()) {
      return Loop.all(
          Wide.toReals(x.low, operand(0).range(), lower),
          Loop.of(n -> roots(lower, n), lower, "root($0)", lower),
          Wide.toCodes(lower, out.low),
          correct(x.low, end, rest, out.low));
    }
    return range().columnBits() <= SHORT
        ? brief(x, end, upper, lower, rest, out.low)
        : n -> wide(x, end, out, n);
  }

  /** Of two words, where a double's root is off by one at most: what remains fits one word. */
  private static Loop brief(
      Lane x, Side side, double[] upper, double[] lower, long[] rest, long[] out) {
    return Loop.all(
        Loop.of(n -> signless(x.low, x.high, out, n), out, "$0 - sign($1)", x.high, x.low),
        Wide.toReals(out, UPPER, upper),
        Wide.toReals(x.low, WORD, lower),
        Loop.of(n -> roots(upper, lower, n), lower, "root($0 * $1 + $2)", upper, 0x1p64, lower),
        Wide.toCodes(lower, out),
        correct(x.low, side, rest, out));
  }

  /** What is left of the upper word for a lower one that is taken with its sign. */
  private static void signless(long[] x, long[] high, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = high[i] - (x[i] >> 63);
    }
  }

  private static void roots(double[] roots, int count) {
    for (int i = 0; i < count; i++) {
      roots[i] = Math.sqrt(roots[i]);
    }
  }

  private static void roots(double[] upper, double[] roots, int count) {
    for (int i = 0; i < count; i++) {
      roots[i] = Math.sqrt(upper[i] * 0x1p64 + roots[i]);
    }
  }

  private static Loop correct(long[] x, Side side, long[] rest, long[] out) {
    long always = side.always;
    long ofRoot = side.ofRoot;
    return Loop.all(
        Loop.of(
            n -> lower(x, rest, out, n),
            code -> {
              String less = "sign($0 - $1 * $1)";
              Object[] parts = {x, out};
              code.set(rest, "$0 - $1 * $1 + ((2 * $1 - 1) & " + less + ")", parts);
              code.set(out, "$1 + " + less, parts);
            }),
        Loop.of(
            n -> raise(rest, always, ofRoot, out, n),
            out,
            "raised_root($0, $1, $2, $3)",
            out,
            rest,
            always,
            ofRoot));
  }

  // A sign is spread by a negation, since AVX2 shifts no sign; in one loop both take longer.

  private static void lower(long[] x, long[] rest, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      long near = out[i];
      long left = x[i] - near * near;
      long less = -(left >>> 63);
      out[i] = near + less;
      rest[i] = left + ((2 * near - 1) & less);
    }
  }

  private static void raise(long[] rest, long always, long ofRoot, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      long root = out[i];
      long more = (2 * root - rest[i]) >>> 63;
      long left = rest[i] - ((2 * root + 1) & -more);
      root += more;
      out[i] = root + ((always + (root & ofRoot) - left) >>> 63);
    }
  }

  /** A double's root is off by one at most for codes of 63 bits; the remainder tells. */
  private static long narrow(long code, Side side) {
    return corrected((long) Math.sqrt((double) code), code, side.always, side.ofRoot);
  }

  /** From a root that may be one off and the code's lower word. */
  private static long corrected(long near, long code, long always, long ofRoot) {
    long rest = code - near * near;
    long less = rest >> 63;
    long root = near + less;
    rest += (2 * root + 1) & less;
    long more = (2 * root - rest) >> 63;
    rest -= (2 * root + 1) & more;
    root -= more;
    return root + ((always + (root & ofRoot) - rest) >>> 63);
  }

  /**
   * The root of 127 bits from a double's, which is good to some 2^-52 of itself, by one Newton step
   * on the exact remainder and a last correction. The root may need all 64 bits of its word.
   */
  private static void wide(Lane x, Side side, Lane out, int count) {
    for (int i = 0; i < count; i++) {
      long high = x.high(i);
      long low = x.low[i];
      if (high == 0 && low >= 0) {
        out.set(i, 0, narrow(low, side));
        continue;
      }
      double estimate = Math.sqrt(Wide.toDouble(high, low));
      long root = (long) (estimate / 2) << 1;
      double off = remainder(high, low, root) / (2 * Math.max(estimate, 1));
      root += (long) Math.floor(off);
      // The exact remainder now fits two words by far; bring it to 0..2*root.
      long square = root * root;
      long remainderLow = low - square;
      long remainderHigh =
          high - Wide.unsignedMultiplyHigh(root, root) - Wide.borrow(low, square, remainderLow);
      while (remainderHigh < 0) {
        root--;
        long add = 2 * root + 1;
        long sum = remainderLow + add;
        remainderHigh += (root >>> 63) + Wide.carry(remainderLow, add, sum);
        remainderLow = sum;
      }
      while (Wide.less(root >>> 63, 2 * root, remainderHigh, remainderLow)) {
        long take = 2 * root + 1;
        long difference = remainderLow - take;
        remainderHigh -= (root >>> 63) + Wide.borrow(remainderLow, take, difference);
        remainderLow = difference;
        root++;
      }
      boolean up =
          switch (side) {
            case FLOOR -> false;
            case NEAREST -> Wide.less(0, root, remainderHigh, remainderLow);
            case CEILING -> (remainderHigh | remainderLow) != 0;
          };
      long result = root + (up ? 1 : 0);
      out.set(i, 0, result);
    }
  }

  /** The code less the root's square, near enough to correct the root. */
  private static double remainder(long high, long low, long root) {
    long square = root * root;
    long differenceLow = low - square;
    long differenceHigh =
        high - Wide.unsignedMultiplyHigh(root, root) - Wide.borrow(low, square, differenceLow);
    return Wide.toDouble(differenceHigh, differenceLow);
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[] x = columns.of(operand(0));
    double[] out = columns.of(result);
    return count -> {
      for (int i = 0; i < count; i++) {
        out[i] = Math.sqrt(x[i]);
      }
    };
  }

  @Override
  String formula() {
    return "root of " + operand(0).name() + (side == Side.FLOOR ? ", floor" : ", nearest");
  }
}
