package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.datapath.BitEvaluation;
import dev.plumbline.models.datapath.BoundsEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.DatapathException;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.rows.RowCode;
import dev.plumbline.models.rows.RowProgram;
import dev.plumbline.models.rows.RowRunner;
import dev.plumbline.models.rows.RowTier;
import dev.plumbline.models.solid.BoxSlab;
import dev.plumbline.models.solid.HalfSpace;
import dev.plumbline.models.solid.Sphere;
import dev.plumbline.stimulus.Generator;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.toolchain.RowBuild;
import dev.plumbline.toolchain.RowBuild.Vectors;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** Machine code of references gives the bits that their loops give. */
class RowLibrariesTest {
  private static final int CASES = 1003; // no multiple of what runs at once
  private static final int STEPS = 14;
  private static final int ENOUGH = 1 << 14; // rows after which a program is waited for

  private final CountedPrograms compiler = new CountedPrograms(Vectors.values());
  private final RandomStream chance = RandomStream.of(77);

  @Test
  void boundsOfSolidsAreThoseOfTheLoops() {
    Format word = Format.signed(16, 16);
    Format direction = Format.signed(2, 16);
    BoxSlab box = BoxSlab.of(word).withMargin(2);
    Sphere sphere = Sphere.of(word, direction);
    hold(box.budgetedFromInverse(word, box.budget(word)));
    hold(sphere.budgeted(sphere.budget(word)));
    assertEquals(3, compiler.found(), "bounds of both, bits of the box");
  }

  @Test
  @Tag("thorough")
  void solidsInOtherFormatsAreThoseOfTheLoops() {
    for (int fraction = 4; fraction <= 20; fraction += 4) {
      Format word = Format.signed(12, fraction);
      Format direction = Format.signed(2, fraction + 2);
      BoxSlab box = BoxSlab.of(word).withFaces();
      Sphere sphere = Sphere.of(word, direction);
      HalfSpace plane = HalfSpace.of(word, direction);
      hold(box.fromInverse(direction));
      hold(box.budgetedFromInverse(direction, box.budget(direction)));
      hold(sphere.budgeted(sphere.budget(word)));
      hold(plane.budgeted(plane.budget(word)));
    }
  }

  @Test
  void randomDatapathsAreThoseOfTheirLoops() {
    hold(6);
  }

  @Test
  @Tag("thorough")
  void manyRandomDatapathsAreThoseOfTheirLoops() {
    hold(100);
  }

  private void hold(int datapaths) {
    for (int i = 0; i < datapaths; i++) {
      hold(draw(2 + chance.below(i % 2 == 0 ? 31 : 44)));
    }
    assertTrue(
        compiler.found() > datapaths / 2,
        () -> compiler.found() + " programs of " + datapaths + " datapaths");
  }

  /** Both evaluations of the outputs against those that keep every step, which are never told. */
  private void hold(Datapath datapath) {
    BoundsEvaluation bounds =
        RowTier.asking(compiler, () -> BoundsEvaluation.ofOutputs(datapath, CASES));
    BitEvaluation bits = RowTier.asking(compiler, () -> BitEvaluation.ofOutputs(datapath, CASES));
    BoundsEvaluation boundsByLoops = datapath.bounds(CASES);
    BitEvaluation bitsByLoops = datapath.bits(CASES);
    for (int run = 0; run < 2; run++) { // what the first has left behind must not matter
      for (int i = 0; i < datapath.inputs().size(); i++) {
        Format format = datapath.inputs().get(i).format();
        long[][] codes = {bounds.input(i, 0)};
        Generator.standard().open(format, chance.next()).fill(codes, 0, CASES);
        System.arraycopy(codes[0], 0, bits.input(i, 0), 0, CASES);
        System.arraycopy(codes[0], 0, boundsByLoops.input(i, 0), 0, CASES);
        System.arraycopy(codes[0], 0, bitsByLoops.input(i, 0), 0, CASES);
      }
      int count = run == 0 ? CASES : CASES - 2;
      bounds.run(count);
      bits.run(count);
      boundsByLoops.run(count);
      bitsByLoops.run(count);
    }
    for (int o = 0; o < datapath.outputs().size(); o++) {
      for (int word = 0; word < datapath.outputs().get(o).format().words(); word++) {
        String which = datapath.outputs().get(o) + " word " + word + " of " + datapath.table();
        assertArrayEquals(boundsByLoops.low(o, word), bounds.low(o, word), which);
        assertArrayEquals(boundsByLoops.high(o, word), bounds.high(o, word), which);
        assertArrayEquals(bitsByLoops.output(o, word), bits.output(o, word), which);
      }
    }
  }

  private Datapath draw(int widest) {
    Datapath.Builder b = Datapath.named("drawn");
    List<Value> values = new ArrayList<>();
    for (int i = 0; i < 3; i++) {
      values.add(b.input("x" + i, format(Math.min(widest, 40))));
    }
    values.add(b.constant("c", new Format(true, 6, 2), chance.below(60) - 30L));
    List<Value> bits = new ArrayList<>(List.of(b.lessThan("b", values.get(0), values.get(1))));
    int described = 0;
    for (int n = 0; described < STEPS; n++) {
      try {
        step(b, String.format(Locale.ROOT, "s%d", n), values, bits, widest);
        described++;
      } catch (DatapathException refused) {
        assertTrue(n < 100 * STEPS, () -> "one step in a hundred is allowed: " + refused);
      }
    }
    values.subList(4, values.size()).forEach(b::output);
    bits.forEach(b::output);
    return b.build();
  }

  private Format format(int widest) {
    return new Format(chance.below(4) > 0, 1 + chance.below(widest), chance.below(widest));
  }

  private <T> T any(List<T> of) {
    return of.get(chance.below(of.size()));
  }

  private void step(
      Datapath.Builder b, String name, List<Value> values, List<Value> bits, int widest) {
    Value x = any(values);
    Value y = any(values);
    Value p = any(bits);
    Value q = any(bits);
    Rounding rounding = any(List.of(Rounding.values()));
    Overflow overflow = any(List.of(Overflow.values()));
    switch (chance.below(20)) {
      case 0 -> values.add(b.add(name, x, y));
      case 1 -> values.add(b.subtract(name, x, y));
      case 2, 3 -> values.add(b.multiply(name, x, y));
      case 4 -> values.add(b.multiply(name, x, x));
      case 5 -> values.add(b.negate(name, x));
      case 6 -> values.add(b.absolute(name, x));
      case 7, 8, 9 -> values.add(b.convert(name, x, format(widest), rounding, overflow));
      case 10 -> bits.add(b.lessThan(name, x, y));
      case 11 -> bits.add(b.atMost(name, x, y));
      case 12 -> bits.add(b.equal(name, x, y));
      case 13 ->
          bits.add(chance.below(2) == 0 ? b.and(name, p, b.not(name + "n", q)) : b.or(name, p, q));
      case 14 -> values.add(b.select(name, p, x, y));
      case 15 -> values.add(chance.below(2) == 0 ? b.minimum(name, x, y) : b.maximum(name, x, y));
      case 16 -> values.add(chance.below(2) == 0 ? b.either(name, x, y) : b.confine(name, x, y));
      case 17 -> values.add(b.squareRoot(name, b.absolute(name + "a", x), Rounding.FLOOR));
      case 18 -> values.add(b.divide(name, x, y, format(widest)));
      default -> values.add(b.allow(name, x, chance.below(5), x.format()));
    }
  }

  @Test
  void columnsThatNeverChangeAndTheStateReachTheCode() {
    long[] turns = new long[8];
    long[] out = new long[8];
    for (int i = 0; i < turns.length; i++) {
      turns[i] = RandomStream.STEP * (i + 1);
    }
    RowCode code = new RowCode(List.of());
    code.set(out, "mixed(state + $0)", turns);
    RowRunner runner =
        compiler.find(code.program(List.of(out)).orElseThrow(), ENOUGH).orElseThrow();
    runner.run(5, 7);
    RandomStream stream = RandomStream.of(5);
    for (int i = 0; i < 7; i++) {
      assertEquals(stream.next(), out[i], "row " + i);
    }
    assertEquals(0, out[7], "a row that was not asked for");
  }

  /** Conversions of numbers with all sorts of bits, against Java's. */
  @Test
  void conversionsAreJavas() {
    long[] x = new long[CASES];
    double[] real = new double[CASES];
    long[] bits = new long[CASES];
    long[] back = new long[CASES];
    long[] root = new long[CASES];
    RowCode code = new RowCode(List.of(x));
    code.set(real, "reals($0)", x);
    code.set(bits, "bits($0)", real);
    code.set(back, "codes(real(0) / $0)", real);
    code.set(real, "root(reals($0))", x);
    code.set(root, "short_codes($0)", real);
    RowRunner runner =
        compiler.find(code.program(List.of(bits, back, root)).orElseThrow(), ENOUGH).orElseThrow();
    for (int i = 0; i < CASES; i++) {
      x[i] = i < 3 ? i - 1 : chance.next() >> chance.below(64);
    }
    runner.run(0, CASES);
    for (int i = 0; i < CASES; i++) {
      assertEquals(Double.doubleToRawLongBits((double) x[i]), bits[i], "of " + x[i]);
      assertEquals((long) (0.0 / x[i]), back[i], "no number is 0");
      assertEquals((long) Math.sqrt((double) x[i]), root[i], "of " + x[i]);
    }
  }

  /** Floor and ceiling of a square root, from one that is off by one or not. */
  @Test
  void rootsAreFoundFromTheirNeighbours() {
    long[] near = new long[CASES];
    long[] rest = new long[CASES];
    long[] floor = new long[CASES];
    long[] ceiling = new long[CASES];
    RowCode code = new RowCode(List.of(near, rest));
    code.set(floor, "raised_root($0, $1, $2, $3)", near, rest, Long.MAX_VALUE, 0L);
    code.set(ceiling, "raised_root($0, $1, $2, $3)", near, rest, 0L, 0L);
    RowRunner runner =
        compiler.find(code.program(List.of(floor, ceiling)).orElseThrow(), ENOUGH).orElseThrow();
    long[] root = new long[CASES];
    long[] over = new long[CASES];
    for (int i = 0; i < CASES; i++) {
      root[i] = 1 + (chance.next() >>> (34 + chance.below(28)));
      over[i] = chance.below(3) == 0 ? 0 : chance.below((int) Math.min(2 * root[i] + 1, 1 << 30));
      near[i] = root[i] - chance.below(2);
      rest[i] = root[i] * root[i] + over[i] - near[i] * near[i];
    }
    runner.run(0, CASES);
    for (int i = 0; i < CASES; i++) {
      assertEquals(root[i], floor[i], "from " + near[i]);
      assertEquals(root[i] + Math.min(over[i], 1), ceiling[i], "from " + near[i]);
    }
  }

  @Test
  void shortRunsCompileNothing() {
    assertEquals(
        Long.MAX_VALUE,
        new RowLibraries(BuildOptions.Optimisation.NEVER, Vectors.AVX2).firstAsked());
    RowProgram program = unseen();
    RowLibraries later = new RowLibraries(BuildOptions.Optimisation.LATER, Vectors.AVX2);
    assertEquals(Optional.empty(), later.find(program, 200_000), "more than a bench has by itself");
    assertFalse(RowBuild.isMade(RowBuild.place(program.statements(), 1, Vectors.AVX2)));
  }

  @Test
  void shortRunsUseWhatAnEarlierRunHasMade() {
    RowProgram program = unseen();
    RowBuild.build(program.statements(), 1, Vectors.AVX2);
    RowLibraries later = new RowLibraries(BuildOptions.Optimisation.LATER, Vectors.AVX2);
    RowRunner runner = later.find(program, later.firstAsked()).orElseThrow();
    program.inputs().get(0)[2] = 5;
    runner.run(0, 3);
    assertEquals(6, program.outputs().get(0)[2]);
  }

  /** One that no run before can have made. */
  private static RowProgram unseen() {
    long[] in = new long[3];
    long[] out = new long[3];
    RowCode code = new RowCode(List.of(in));
    code.set(out, "$0 + 1 + 0 * $1", in, System.nanoTime());
    return code.program(List.of(out)).orElseThrow();
  }
}
