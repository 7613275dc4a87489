package dev.plumbline.cosim;

import dev.plumbline.rtl.RtlSource;
import java.math.BigInteger;
import java.nio.file.Path;
import java.util.random.RandomGenerator;

/** The designs of {@code src/test/rtl/driven}, and values of any width for their ports. */
final class Driven {
  private static final Path FOLDER = Path.of("src/test/rtl/driven");

  private Driven() {}

  static CompiledDesign model(String... names) {
    Path[] files = new Path[names.length];
    for (int i = 0; i < files.length; i++) {
      files[i] = FOLDER.resolve(names[i] + ".sv");
    }
    return CompiledDesign.of(RtlSource.of(files).withTop(names[names.length - 1]));
  }

  /** The words of a value, little end first, as two's complement of as many as are wanted. */
  static long[] words(BigInteger value, int count) {
    long[] words = new long[count];
    for (int i = 0; i < count; i++) {
      words[i] = value.shiftRight(64 * i).longValue();
    }
    return words;
  }

  /** The value of words whose last one is extended by sign or by zero. */
  static BigInteger value(boolean signed, long... words) {
    int last = words.length - 1;
    BigInteger value = BigInteger.valueOf(words[last]);
    if (!signed && words[last] < 0) {
      value = value.add(BigInteger.ONE.shiftLeft(64));
    }
    for (int i = last - 1; i >= 0; i--) {
      BigInteger low =
          BigInteger.valueOf(words[i]).and(BigInteger.ONE.shiftLeft(64).subtract(BigInteger.ONE));
      value = value.shiftLeft(64).add(low);
    }
    return value;
  }

  /** What a port of that width takes of a value: its low bits, as a signed or unsigned number. */
  static BigInteger wrapped(BigInteger value, int width, boolean signed) {
    BigInteger modulus = BigInteger.ONE.shiftLeft(width);
    BigInteger low = value.mod(modulus);
    return signed && low.testBit(width - 1) ? low.subtract(modulus) : low;
  }

  /** One of the corners or anything of that width. */
  static BigInteger draw(RandomGenerator random, int width, boolean signed) {
    BigInteger any = new BigInteger(width, new java.util.Random(random.nextLong()));
    BigInteger value =
        switch (random.nextInt(6)) {
          case 0 -> BigInteger.ZERO;
          case 1 -> BigInteger.ONE.negate();
          case 2 -> BigInteger.ONE.shiftLeft(width - 1);
          case 3 -> BigInteger.ONE.shiftLeft(width - 1).subtract(BigInteger.ONE);
          default -> any;
        };
    return wrapped(value, width, signed);
  }
}
