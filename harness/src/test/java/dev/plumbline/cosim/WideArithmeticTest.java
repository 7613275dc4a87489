package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.rtl.RtlSource;
import java.io.IOException;
import java.math.BigInteger;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Arithmetic on wide numbers against {@link BigInteger}, which truncates quotients towards zero as
 * IEEE 1800-2017 (11.4.3) asks; a division by zero gives 0 in a model of two values.
 */
@Tag("thorough")
@Execution(ExecutionMode.CONCURRENT)
class WideArithmeticTest {
  private static CompiledDesign almanac(int width) {
    return CompiledDesign.of(
        RtlSource.of(Path.of("src/test/rtl/driven/long_division.sv"))
            .withTop("long_division")
            .withParameter("W", "" + width));
  }

  /** A few about the ends of Verilator's own buffers; more with -Dplumbline.long=true. */
  static IntStream widths() {
    return Boolean.getBoolean("plumbline.long")
        ? IntStream.of(500, 512, 513, 544, 640, 672, 704, 1000, 1024, 2047, 2048)
        : IntStream.of(513, 672, 704, 2048);
  }

  @ParameterizedTest
  @MethodSource("widths")
  void quotientRemainderAndProductAreThoseOfTheIntegers(int width) {
    SplittableRandom random = new SplittableRandom(width);
    try (Dut dut = almanac(width).open()) {
      for (int i = 0; i < 200; i++) {
        // Divisors of any length: one of a few words takes another path than one of many.
        BigInteger a = Driven.draw(random, width, false);
        BigInteger b = Driven.draw(random, 1 + random.nextInt(width), false);
        if (i % 2 == 1) {
          b = Driven.wrapped(b.negate(), width, false);
        }
        hold(dut, width, a, b);
      }
      hold(
          dut,
          width,
          BigInteger.ONE.shiftLeft(width - 1),
          Driven.wrapped(ONE.negate(), width, false));
    }
  }

  private static final BigInteger ONE = BigInteger.ONE;

  private static void hold(Dut dut, int width, BigInteger a, BigInteger b) {
    int words = (width + 63) / 64;
    dut.set("a", Driven.words(a, words));
    dut.set("b", Driven.words(b, words));
    dut.settle();
    String what = width + " bits: " + a + ", " + b;
    BigInteger signedA = Driven.wrapped(a, width, true);
    BigInteger signedB = Driven.wrapped(b, width, true);
    boolean zero = b.signum() == 0;
    expect(dut, "quotient", zero ? BigInteger.ZERO : a.divide(b), width, what);
    expect(dut, "remainder", zero ? BigInteger.ZERO : a.mod(b), width, what);
    expect(dut, "product", a.multiply(b), width, what);
    expect(dut, "signed_quotient", zero ? BigInteger.ZERO : signedA.divide(signedB), width, what);
    expect(
        dut, "signed_remainder", zero ? BigInteger.ZERO : signedA.remainder(signedB), width, what);
  }

  private static void expect(Dut dut, String port, BigInteger value, int width, String what) {
    BigInteger wanted = Driven.wrapped(value, width, false);
    assertEquals(wanted, Driven.value(false, dut.getWords(port)), port + " of " + what);
  }

  /**
   * Constants whose topmost words are zero, in a row of ports, with each length of their topmost
   * piece: a literal is what its digits say, and its neighbours are what theirs say. Up to 2048
   * bits Verilator writes a constant word by word.
   */
  @Test
  void constantsAreTheirDigits(@TempDir Path folder) throws IOException {
    int width = 2500;
    int words = (width + 63) / 64;
    SplittableRandom random = new SplittableRandom(width);
    List<BigInteger> values =
        IntStream.iterate(250, bits -> bits < width, bits -> bits + 95)
            .mapToObj(bits -> Driven.draw(random, bits, false).setBit(bits - 1))
            .toList();
    StringBuilder text = new StringBuilder("module digits(input [2499:0] a");
    for (int i = values.size() - 1; i >= 0; i--) { // so that what lies behind was set before
      text.append(", output [2499:0] y" + i + ", output [2499:0] z" + i);
    }
    text.append(");\n");
    for (int i = 0; i < values.size(); i++) {
      String digits = "2500'h" + values.get(i).toString(16);
      text.append("assign y" + i + " = " + digits + ", z" + i + " = a ^ " + digits + ";\n");
    }
    Path file = Files.writeString(folder.resolve("digits.sv"), text + "endmodule\n");
    DutOptions options = DutOptions.defaults().withInitialState(InitialState.ONES);
    try (Dut dut = CompiledDesign.of(RtlSource.of(file)).open(options)) {
      BigInteger a = Driven.draw(random, width, false);
      dut.set("a", Driven.words(a, words));
      dut.settle();
      for (int i = 0; i < values.size(); i++) {
        expect(dut, "y" + i, values.get(i), width, "a constant");
        expect(dut, "z" + i, values.get(i).xor(a), width, "an exclusive-or with a constant");
      }
    }
  }

  /** Eight thousand bits in every row: a conversion that takes seconds each would not end here. */
  @ParameterizedTest
  @ValueSource(ints = {65, 2048, 8192})
  void wideNumbersAreWrittenInDecimal(int width) {
    SplittableRandom random = new SplittableRandom(width);
    int words = (width + 63) / 64;
    try (Dut dut = almanac(width).open()) {
      dut.set("b", Driven.words(ONE, words));
      StringBuilder wanted = new StringBuilder();
      for (int i = 0; i < 10; i++) {
        BigInteger a = Driven.draw(random, width, false).setBit(0).flipBit(1 + i);
        BigInteger b = Driven.draw(random, width, false).setBit(0);
        dut.set("a", Driven.words(a, words));
        dut.set("b", Driven.words(b, words));
        dut.set("say", 1);
        dut.cycle();
        wanted.append(a).append(' ').append(Driven.wrapped(b, width, true)).append('\n');
      }
      String text = dut.text();
      String kept = wanted.toString();
      assertEquals(
          kept.substring(Math.max(0, kept.length() - 40_000)),
          text.substring(Math.max(0, text.length() - 40_000)));
    }
  }
}
