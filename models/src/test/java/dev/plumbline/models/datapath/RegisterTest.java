package dev.plumbline.models.datapath;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.Allocations;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigDecimal;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

/** Datapaths with registers, against sums over the whole past. */
class RegisterTest {
  private static final int CASES = 700;
  private static final Format SAMPLE = Format.signed(2, 10);

  /** The sum of everything enabled so far. */
  private static Datapath accumulator() {
    Datapath.Builder b = Datapath.named("accumulator");
    Value x = b.input("x", SAMPLE);
    Value on = b.input("on", Format.bit());
    Value sum = b.register("sum", Format.signed(20, 10), 3);
    Value next =
        b.convert("next", b.add("more", sum, x), sum.format(), Rounding.FLOOR, Overflow.SATURATE);
    b.next(sum, next, on);
    return b.output("y", next).output("before", sum).build();
  }

  /** A weighted sum of the last samples. */
  private static Datapath fir(long[] weights) {
    Datapath.Builder b = Datapath.named("fir");
    Value tap = b.input("x", SAMPLE);
    Value sum = b.multiply("p0", tap, b.constant("c0", Format.signed(1, 7), weights[0]));
    for (int k = 1; k < weights.length; k++) {
      tap = b.delay("tap" + k, tap, 0);
      Value weight = b.constant("c" + k, Format.signed(1, 7), weights[k]);
      sum = b.add("sum" + k, sum, b.multiply("p" + k, tap, weight));
    }
    b.output("full", sum);
    b.output(b.convert("y", sum, Format.signed(4, 8), Rounding.HALF_EVEN, Overflow.SATURATE));
    return b.build();
  }

  /** y = a y before + x, with a rounding in the loop. */
  private static Datapath iir(Format weight, long a) {
    Datapath.Builder b = Datapath.named("iir");
    Value x = b.input("x", SAMPLE);
    Value y = b.register("y", Format.signed(8, 12), 0);
    Value back = b.multiply("back", y, b.constant("a", weight, a));
    Value sum = b.add("sum", back, x);
    b.next(y, b.convert("next", sum, y.format(), Rounding.HALF_EVEN, Overflow.SATURATE));
    return b.output("next", sum, Format.signed(14, 22)).build();
  }

  /** A sum that drops six bits of every sample. */
  private static Datapath coarseSum() {
    Datapath.Builder b = Datapath.named("coarse_sum");
    Value x = b.input("x", SAMPLE);
    Value sum = b.register("y", Format.signed(4, 4), 0);
    Value more = b.add("more", sum, x);
    b.next(sum, b.convert("next", more, sum.format(), Rounding.HALF_EVEN, Overflow.SATURATE));
    return b.output(sum).build();
  }

  private static List<BigInteger[]> samples(Datapath datapath, int seed) {
    return Cases.random(datapath.inputs(), CASES, new Random(seed));
  }

  /** Runs of odd lengths, so that a state crosses from one to the next. */
  private static List<BigInteger> codes(Datapath datapath, List<BigInteger[]> cases, int output) {
    BitEvaluation bits = datapath.bits(97);
    List<BigInteger> codes = new ArrayList<>();
    Random random = new Random(1);
    for (int from = 0; from < cases.size(); ) {
      int count = Math.min(1 + random.nextInt(97), cases.size() - from);
      Cases.fill(datapath, bits::input, cases, from, count);
      bits.run(count);
      for (int i = 0; i < count; i++) {
        codes.add(
            Cases.code(datapath.outputs().get(output).format(), w -> bits.output(output, w), i));
      }
      from += count;
    }
    return codes;
  }

  @Test
  void anAccumulatorIsTheSumOfWhatWasEnabled() {
    Datapath datapath = accumulator();
    assertTrue(datapath.hasState());
    List<BigInteger[]> cases = samples(datapath, 1);
    List<BigInteger> given = codes(datapath, cases, 0);
    for (int n = 0; n < CASES; n++) {
      BigInteger sum = BigInteger.valueOf(3).add(cases.get(n)[0]);
      for (int k = 0; k < n; k++) {
        sum = sum.add(cases.get(k)[0].multiply(cases.get(k)[1]));
      }
      assertEquals(sum, given.get(n));
    }
  }

  @Test
  void aFilterOfFiniteResponseIsTheConvolution() {
    for (int taps : new int[] {1, 2, 5, 16}) {
      long[] weights = new Random(taps).longs(taps, -128, 128).toArray();
      Datapath datapath = fir(weights);
      List<BigInteger[]> cases = samples(datapath, taps);
      List<BigInteger> full = codes(datapath, cases, 0);
      List<BigInteger> rounded = codes(datapath, cases, 1);
      for (int n = 0; n < CASES; n++) {
        BigInteger sum = BigInteger.ZERO;
        for (int k = 0; k < taps && k <= n; k++) {
          sum = sum.add(cases.get(n - k)[0].multiply(BigInteger.valueOf(weights[k])));
        }
        assertEquals(sum, full.get(n));
        BigDecimal real = new BigDecimal(sum).divide(new BigDecimal(1 << 17));
        assertEquals(
            Format.signed(4, 8).toCode(real, Rounding.HALF_EVEN, Overflow.SATURATE),
            rounded.get(n));
      }
      holds(datapath, cases);
    }
  }

  /** Ideally y(n) is the sum of a^k x(n-k); every rounding in the loop may fall either way. */
  @Test
  void aFilterOfInfiniteResponseIsTheSumOfPowers() {
    Datapath datapath = iir(Format.signed(1, 7), -115);
    List<BigInteger[]> cases = samples(datapath, 5);
    IdealEvaluation ideal = datapath.ideal(CASES);
    Cases.fill(datapath, ideal::input, cases, 0, CASES);
    ideal.run(CASES);
    for (int n = 0; n < CASES; n++) {
      double sum = 0;
      for (int k = 0; k <= n; k++) {
        sum += Math.pow(-115 / 128.0, k) * cases.get(n - k)[0].intValue() / 1024.0;
      }
      assertEquals(sum, ideal.output(0)[n], 1e-9);
    }
    holds(datapath, cases);
  }

  /** The two laws, and that a fault in the description would be seen: bounds have ends. */
  private static void holds(Datapath datapath, List<BigInteger[]> cases) {
    int count = cases.size();
    BitEvaluation bits = datapath.bits(count);
    BoundsEvaluation bounds = datapath.bounds(count);
    IdealEvaluation ideal = datapath.ideal(count);
    Cases.fill(datapath, bits::input, cases, 0, count);
    Cases.fill(datapath, bounds::input, cases, 0, count);
    Cases.fill(datapath, ideal::input, cases, 0, count);
    bits.run(count);
    bounds.run(count);
    ideal.run(count);
    for (int output = 0; output < datapath.outputs().size(); output++) {
      double lsb = datapath.outputs().get(output).format().lsbs();
      for (int i = 0; i < count; i++) {
        long low = bounds.low(output, 0)[i];
        long high = bounds.high(output, 0)[i];
        long code = bits.output(output, 0)[i];
        double real = ideal.output(output)[i] / lsb;
        String row = output + " in case " + i + " of\n" + datapath;
        assertTrue(low <= code && code <= high, row);
        assertTrue(real >= low - 1e-6 && real <= high + 1e-6, row);
      }
    }
  }

  @Test
  void aResetBeginsAnewInTheMiddleOfARun() {
    Datapath datapath = iir(Format.signed(1, 7), 100);
    List<BigInteger[]> cases = samples(datapath, 6);
    BitEvaluation bits = datapath.bits(CASES);
    BoundsEvaluation bounds = datapath.bounds(CASES);
    IdealEvaluation ideal = datapath.ideal(CASES);
    Cases.fill(datapath, bits::input, cases, 0, CASES);
    Cases.fill(datapath, bounds::input, cases, 0, CASES);
    Cases.fill(datapath, ideal::input, cases, 0, CASES);
    for (int row : new int[] {0, 1, 211, CASES - 1}) {
      bits.renewBefore(row);
      bounds.renewBefore(row);
      ideal.renewBefore(row);
    }
    bits.run(CASES);
    bounds.run(CASES);
    ideal.run(CASES);
    List<BigInteger> alone = codes(datapath, cases.subList(211, CASES - 1), 0);
    for (int i = 211; i < CASES - 1; i++) {
      assertEquals(alone.get(i - 211).longValue(), bits.output(0, 0)[i]);
      assertTrue(bounds.low(0, 0)[i] <= bits.output(0, 0)[i]);
      assertTrue(bounds.high(0, 0)[i] >= bits.output(0, 0)[i]);
    }
    long first = cases.get(CASES - 1)[0].longValue() << 12;
    assertEquals(first, bounds.low(0, 0)[CASES - 1]);
    assertEquals(first, bounds.high(0, 0)[CASES - 1]);
    assertEquals(first * 0x1p-22, ideal.output(0)[CASES - 1]);
  }

  /**
   * Interval arithmetic of a loop with gain a and a rounding of 1 LSB settles at 1/(1 - a) LSB (a
   * geometric series), and one of gain 1 takes an LSB more each case.
   */
  @Test
  void growthIsToldAndSettlesWhereTheLoopForgets() {
    List<BoundsGrowth> stable = BoundsGrowth.of(iir(Format.signed(1, 7), 64), 1024, 1);
    assertTrue(stable.get(0).isSettled(), stable::toString);
    double last = stable.get(0).widths().get(stable.get(0).widths().size() - 1);
    assertTrue(last >= 1 && last <= 3, stable::toString);
    List<BoundsGrowth> sums = BoundsGrowth.of(coarseSum(), 100, 1);
    assertFalse(sums.get(0).isSettled(), sums::toString);
    assertTrue(sums.get(0).toString().endsWith(" after 100: still grows"), sums::toString);
    List<BoundsGrowth> exact = BoundsGrowth.of(accumulator(), 1024, 1);
    assertEquals(0, exact.get(0).widths().get(0));
    assertTrue(exact.get(0).isSettled(), exact::toString);
  }

  @Test
  void aRegisterThatMayHoldAnyCodeIsNamed() {
    Datapath datapath = coarseSum();
    BoundsEvaluation bounds = datapath.bounds(64);
    for (int block = 0; block < 20; block++) {
      IntStream.range(0, 64).forEach(i -> bounds.input(0, 0)[i] = i % 3L - 1);
      bounds.run(64);
    }
    assertEquals(List.of("y"), bounds.openRegisters(256));
    bounds.renewBefore(0);
    bounds.run(1);
    assertEquals(List.of(), bounds.openRegisters(1));
    BoundsGrowth all = new BoundsGrowth("y", List.of(1, 2), List.of(0.0, 255.0), 255);
    assertEquals("y: 0 LSB after 1, 255 after 2: any code", all.toString());
  }

  /** An open enable keeps both what is held and what may be taken. */
  @Test
  void anOpenEnableGivesTheHull() {
    Datapath.Builder b = Datapath.named("hold");
    Value x = b.input("x", Format.signed(4, 4));
    Value rough = b.convert("rough", x, Format.signed(4, 0), Rounding.FLOOR, Overflow.SATURATE);
    Value held = b.register("held", x.format(), 16);
    b.next(held, x, b.lessThan("on", b.constant("two", Format.signed(4, 0), 2), rough));
    BoundsEvaluation bounds = b.output(held).build().bounds(4);
    long[] codes = {2 * 16 + 5, 16, 3 * 16, 0};
    System.arraycopy(codes, 0, bounds.input(0, 0), 0, 4);
    bounds.run(4);
    assertEquals(
        List.of(16L, 16L, 16L, 48L),
        List.of(
            bounds.low(0, 0)[0], bounds.low(0, 0)[1], bounds.low(0, 0)[2], bounds.low(0, 0)[3]));
    assertEquals(
        List.of(16L, 37L, 37L, 48L),
        List.of(
            bounds.high(0, 0)[0],
            bounds.high(0, 0)[1],
            bounds.high(0, 0)[2],
            bounds.high(0, 0)[3]));
  }

  /** Published check values: G. Cook, Catalogue of parametrised CRC algorithms; and the JDK's. */
  @Test
  @DisplayName("A14: check values of cyclic redundancy checks")
  void checksOfAStreamAreThoseOfTheCatalogue() {
    byte[] text = "123456789".getBytes(java.nio.charset.StandardCharsets.US_ASCII);
    assertEquals(0x29B1, last(stream(16, 0x1021, 0xFFFF, 0, false), text)); // CRC-16/IBM-3740
    assertEquals(0x31C3, last(stream(16, 0x1021, 0, 0, false), text)); // CRC-16/XMODEM
    assertEquals(0xBB3D, last(stream(16, 0x8005, 0, 0, true), text)); // CRC-16/ARC
    assertEquals(0xF4, last(stream(8, 0x07, 0, 0, false), text)); // CRC-8/SMBUS
    long ones = 0xFFFFFFFFL;
    Datapath crc32 = stream(32, 0x04C11DB7L, ones, ones, true);
    assertEquals(0xCBF43926L, last(crc32, text)); // CRC-32/ISO-HDLC
    assertEquals(0xE3069283L, last(stream(32, 0x1EDC6F41L, ones, ones, true), text)); // /ISCSI
    assertEquals(
        0x6C40DF5F0B497347L, last(stream(64, 0x42F0E1EBA9EA3693L, 0, 0, false), text)); // ECMA-182
    Random random = new Random(3);
    for (int length = 1; length < 300; length += 37) {
      byte[] bytes = new byte[length];
      random.nextBytes(bytes);
      java.util.zip.CRC32 jdk = new java.util.zip.CRC32();
      jdk.update(bytes);
      assertEquals(jdk.getValue(), last(crc32, bytes));
    }
  }

  private static Datapath stream(int width, long polynomial, long start, long flip, boolean low) {
    Datapath.Builder b = Datapath.named("check");
    Value data = b.input("data", Format.unsigned(8, 0));
    Format register = Format.unsigned(width, 0);
    Value before = b.register("before", register, start);
    Value after = b.crc("after", before, data, polynomial, low);
    b.next(before, after);
    Value mask = b.constant("mask", register, flip);
    return b.output(b.exclusiveOr("check", after, mask)).build();
  }

  private static long last(Datapath datapath, byte[] bytes) {
    BitEvaluation bits = datapath.bits(bytes.length);
    for (int i = 0; i < bytes.length; i++) {
      bits.input(0, 0)[i] = bytes[i] & 0xFF;
    }
    bits.run(bytes.length);
    return bits.output(0, 0)[bytes.length - 1];
  }

  @Test
  void runsAllocateNothingForACase() {
    Datapath datapath = iir(Format.signed(1, 7), 100);
    BitEvaluation bits = datapath.bits(1024);
    BoundsEvaluation bounds = datapath.bounds(1024);
    IdealEvaluation ideal = datapath.ideal(1024);
    Allocations.requireNone(1024, () -> bits.run(1024));
    Allocations.requireNone(1024, () -> bounds.run(1024));
    Allocations.requireNone(1024, () -> ideal.run(1024));
  }

  @Test
  void unfinishedRegistersAreRefused() {
    Datapath.Builder b = Datapath.named("refused");
    Value x = b.input("x", SAMPLE);
    Value r = b.register("r", Format.signed(2, 8), 0);
    refused("begins with code 4000", () -> b.register("s", SAMPLE, 4000));
    refused("a register without a next value", () -> b.output(x).build());
    refused("gives x s2.10", () -> b.next(r, x));
    refused("is given a next value", () -> b.next(x, x));
    b.next(r, r);
    refused("is given a next value again", () -> b.next(r, r));
    Datapath datapath = accumulator();
    Datapath.Builder other = Datapath.named("other");
    Value a = other.input("a", SAMPLE);
    Value on = other.input("on", Format.bit());
    Unit unit = Unit.of(datapath, "y", v -> v[0], 1);
    refused("with registers", () -> other.unit("u", unit, a, on));
  }

  private static void refused(String part, Runnable action) {
    String message = assertThrows(DatapathException.class, action::run).getMessage();
    assertTrue(message.contains(part), message);
  }
}
