package dev.plumbline.lockstep;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.traversal.ExecutorTiming;
import dev.plumbline.models.traversal.Retirement;
import java.math.BigInteger;
import java.util.Arrays;
import java.util.function.LongUnaryOperator;

/**
 * A checked port: how the model fills it, what is expected of it, record by record, and where the
 * DUT's samples are. Several elements lie in it side by side, element 0 lowest.
 */
final class Output {
  /** What the model gives for an element. */
  interface Value {
    long of(Retirement observed, ExecutorTiming timing, int element);
  }

  /** A port that may be checked, by its standard name. */
  record Promise(String role, Format format, int elements, Value value) {}

  final Promise promise;
  final String port;
  private final Format comparedAs;
  private final long[][] expected;
  private long[][] sampled;
  private long compared;
  private LongUnaryOperator change; // null for none

  /** A port of that name; one element that is signed there is compared with its sign. */
  Output(Promise promise, String port, boolean signed) {
    this.promise = promise;
    this.port = port;
    this.comparedAs =
        new Format(
            signed && promise.elements == 1, promise.format.width(), promise.format.fractionBits());
    this.expected = new long[words()][0];
  }

  int width() {
    return promise.format.width() * promise.elements;
  }

  int words() {
    return (width() + Long.SIZE - 1) / Long.SIZE;
  }

  void sampledIn(long[][] columns) {
    sampled = columns;
  }

  long[][] sampled() {
    return sampled;
  }

  long[][] expected() {
    return expected;
  }

  /** Has the model show something else for each code. */
  void changeBy(LongUnaryOperator other) {
    change = other;
  }

  /** Keeps what the model shows as a record. */
  void expect(int record, Retirement observed, ExecutorTiming timing) {
    if (record >= expected[0].length) {
      for (int word = 0; word < expected.length; word++) {
        expected[word] = Arrays.copyOf(expected[word], Math.max(64, 2 * record));
      }
    }
    if (promise.elements == 1) {
      long code = shown(promise.value.of(observed, timing, 0));
      expected[0][record] = comparedAs.extend(code);
      return;
    }
    for (long[] word : expected) {
      word[record] = 0;
    }
    int bits = promise.format.width();
    for (int element = 0; element < promise.elements; element++) {
      long code = shown(promise.value.of(observed, timing, element));
      if (code != 0) {
        put(record, element * bits, comparedAs.extend(code));
      }
    }
  }

  private long shown(long code) {
    return change == null ? code : change.applyAsLong(code);
  }

  private void put(int record, int at, long code) {
    int shift = at % Long.SIZE;
    expected[at / Long.SIZE][record] |= code << shift;
    if (shift + promise.format.width() > Long.SIZE) {
      expected[at / Long.SIZE + 1][record] |= code >>> (Long.SIZE - shift);
    }
  }

  /** Compares a row of the DUT with a record. */
  boolean matches(int row, int record) {
    compared++;
    for (int word = 0; word < expected.length; word++) {
      if (sampled[word][row] != expected[word][record]) {
        return false;
      }
    }
    return true;
  }

  /** How often it was compared since the last call. */
  long takeCompared() {
    long taken = compared;
    compared = 0;
    return taken;
  }

  /** An element's code, by the format's sign. */
  BigInteger code(long[][] columns, int at, int element) {
    BigInteger all = BigInteger.ZERO;
    for (int word = columns.length - 1; word >= 0; word--) {
      all = all.shiftLeft(Long.SIZE).or(new BigInteger(Long.toUnsignedString(columns[word][at])));
    }
    int bits = promise.format.width();
    BigInteger code =
        all.shiftRight(element * bits).and(BigInteger.ONE.shiftLeft(bits).subtract(BigInteger.ONE));
    return promise.format.signed() && code.testBit(bits - 1)
        ? code.subtract(BigInteger.ONE.shiftLeft(bits))
        : code;
  }

  /** What reports call an element. */
  String name(int element) {
    return promise.elements == 1 ? port : port + "[" + element + "]";
  }
}
