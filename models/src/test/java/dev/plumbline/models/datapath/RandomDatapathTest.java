package dev.plumbline.models.datapath;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

/**
 * The two laws on whole datapaths: bits within bounds, ideal within bounds. Steps are drawn at
 * random, each on earlier ones, so that intervals reach every kind of step.
 */
class RandomDatapathTest {
  private static final int STEPS = 12;

  @Test
  void bitsAndIdealLieWithinBoundsOverWholeSmallFormats() {
    for (int seed = 0; seed < 300; seed++) {
      Random random = new Random(seed);
      List<Format> inputs = new ArrayList<>();
      for (int i = 0; i < 3; i++) {
        inputs.add(new Format(random.nextBoolean(), 1 + random.nextInt(4), random.nextInt(4)));
      }
      Datapath datapath = draw(random, inputs, 10);
      Laws.hold(datapath, Cases.all(datapath.inputs()), 0x1p-30);
    }
  }

  @Test
  void bitsAndIdealLieWithinBoundsInLargeFormats() {
    for (int seed = 0; seed < 200; seed++) {
      Random random = new Random(1000 + seed);
      List<Format> inputs = new ArrayList<>();
      for (int i = 0; i < 3; i++) {
        inputs.add(new Format(random.nextBoolean(), 8 + random.nextInt(25), random.nextInt(30)));
      }
      Datapath datapath = draw(random, inputs, 40);
      // Cancellation can lose all of a double's bits of an intermediate: the ideal is held to
      // its bounds over the whole small formats only.
      Laws.hold(datapath, Cases.random(datapath.inputs(), 300, random), Double.POSITIVE_INFINITY);
    }
  }

  /** Columns that are used again by later steps, and steps that nobody asks for. */
  @Test
  void outputsAloneAreWhatAllStepsGive() {
    for (int seed = 0; seed < 60; seed++) {
      Random random = new Random(5000 + seed);
      List<Format> inputs = new ArrayList<>();
      for (int i = 0; i < 3; i++) {
        inputs.add(new Format(random.nextBoolean(), 2 + random.nextInt(31), random.nextInt(30)));
      }
      Datapath datapath = draw(random, inputs, 40, 6);
      List<BigInteger[]> cases = Cases.random(datapath.inputs(), 40, random);
      String shown = any(random, datapath.steps()).name();
      BitEvaluation allBits = datapath.bits(cases.size());
      BitEvaluation bits = BitEvaluation.ofOutputs(datapath, cases.size(), shown);
      BoundsEvaluation all = datapath.bounds(cases.size());
      BoundsEvaluation bounds = BoundsEvaluation.ofOutputs(datapath, cases.size(), shown);
      for (int i = 0; i < cases.size(); i++) {
        for (int k = 0; k < inputs.size(); k++) {
          long code = cases.get(i)[k].longValueExact();
          allBits.input(k, 0)[i] = code;
          bits.input(k, 0)[i] = code;
          all.input(k, 0)[i] = code;
          bounds.input(k, 0)[i] = code;
        }
      }
      for (int run = 0; run < 2; run++) { // what the first has left in columns must not matter
        allBits.run(cases.size());
        bits.run(cases.size());
        all.run(cases.size());
        bounds.run(cases.size());
      }
      String which = "seed " + seed;
      for (int o = 0; o < datapath.outputs().size(); o++) {
        for (int word = 0; word < datapath.outputs().get(o).format().words(); word++) {
          assertArrayEquals(allBits.output(o, word), bits.output(o, word), which);
          assertArrayEquals(all.low(o, word), bounds.low(o, word), which);
          assertArrayEquals(all.high(o, word), bounds.high(o, word), which);
        }
      }
      assertArrayEquals(allBits.step(shown, 0), bits.step(shown, 0), which);
      assertArrayEquals(all.stepLow(shown, 0), bounds.stepLow(shown, 0), which);
      assertArrayEquals(all.stepHigh(shown, 0), bounds.stepHigh(shown, 0), which);
    }
  }

  private static Datapath draw(Random random, List<Format> inputs, int widest) {
    return draw(random, inputs, widest, 1);
  }

  /** One value in so many is an output, and the last. */
  private static Datapath draw(Random random, List<Format> inputs, int widest, int oneIn) {
    Datapath.Builder b = Datapath.named("random");
    List<Value> values = new ArrayList<>();
    List<Value> bits = new ArrayList<>();
    for (Format format : inputs) {
      values.add(b.input("x" + values.size(), format));
    }
    values.add(b.constant("c", new Format(true, 6, 2), random.nextInt(60) - 30));
    bits.add(b.lessThan("b0", values.get(0), values.get(1)));
    int described = 0;
    for (int n = 0; described < STEPS; n++) {
      try {
        step(b, random, "s" + n, values, bits, widest);
        described++;
      } catch (DatapathException refused) {
        assertTrue(n < 100 * STEPS, () -> "one step in a hundred is allowed: " + refused);
      }
    }
    Value last = values.get(values.size() - 1);
    for (Value value : values.subList(inputs.size(), values.size())) {
      if (value == last || random.nextInt(oneIn) == 0) {
        b.output(value);
      }
    }
    bits.stream().filter(bit -> random.nextInt(oneIn) == 0).forEach(b::output);
    return b.build();
  }

  private static void step(
      Datapath.Builder b,
      Random random,
      String name,
      List<Value> values,
      List<Value> bits,
      int widest) {
    Value x = any(random, values);
    Value y = any(random, values);
    Value p = any(random, bits);
    Value q = any(random, bits);
    Format format =
        new Format(random.nextBoolean(), 1 + random.nextInt(widest), random.nextInt(widest));
    Rounding rounding = any(random, List.of(Rounding.values()));
    Overflow overflow = any(random, List.of(Overflow.values()));
    switch (random.nextInt(30)) {
      case 0 -> values.add(b.add(name, x, y));
      case 1 -> values.add(b.subtract(name, x, y));
      case 2 -> values.add(b.multiply(name, x, y));
      case 3 -> values.add(b.multiply(name, x, x));
      case 4 -> values.add(b.negate(name, x));
      case 5 -> values.add(b.absolute(name, x));
      case 6 -> values.add(b.scale(name, x, random.nextInt(5) - 2));
      case 7 -> values.add(b.minimum(name, x, y));
      case 8 -> values.add(b.maximum(name, x, y));
      case 9 -> values.add(b.select(name, p, x, y));
      case 10 -> values.add(b.squareRoot(name, b.absolute(name + "_a", x), rounding));
      case 11 -> values.add(b.divide(name, x, y, format));
      case 12 -> values.add(b.shiftLeft(name, x, places(b, name, y)));
      case 13 -> values.add(b.shiftRight(name, x, places(b, name, y)));
      case 14 -> bits.add(b.lessThan(name, x, y));
      case 15 -> bits.add(b.atMost(name, x, y));
      case 16 -> bits.add(random.nextBoolean() ? b.equal(name, x, y) : b.not(name, p));
      case 17 -> bits.add(random.nextBoolean() ? b.and(name, p, q) : b.or(name, p, q));
      case 18 -> values.add(b.field(name, x, 3 + random.nextInt(3), random.nextInt(3)));
      case 19 -> values.add(b.leadingZeros(name, b.absolute(name + "_a", x), 128));
      case 20 -> values.add(b.normalise(name, b.absolute(name + "_a", x), widest));
      case 21 ->
          values.add(
              b.reinterpret(
                  name,
                  x,
                  new Format(random.nextBoolean(), x.format().width(), random.nextInt(4))));
      case 22 -> values.add(b.concatenate(name, x, y));
      case 23 -> values.add(b.choose(name, places(b, name, y), x, y, x, values.get(0)));
      case 24 -> values.add(b.rotateLeft(name, x, places(b, name, y)));
      case 25 -> values.add(random.nextBoolean() ? b.ones(name, x) : b.reverseBits(name, x));
      case 26 -> bits.add(random.nextBoolean() ? b.parity(name, x) : b.within(name, x, y, x));
      case 27 ->
          values.add(
              b.functionTable(name, places(b, name, x), format, rounding, v -> v * v / 3 - 1));
      default -> values.add(b.convert(name, x, format, rounding, overflow));
    }
  }

  private static <T> T any(Random random, List<T> of) {
    return of.get(random.nextInt(of.size()));
  }

  private static Value places(Datapath.Builder b, String name, Value from) {
    return b.convert(
        name + "_p", from, Format.unsigned(2, 0), Rounding.HALF_CEILING, Overflow.SATURATE);
  }
}
