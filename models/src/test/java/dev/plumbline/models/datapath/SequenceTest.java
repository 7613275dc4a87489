package dev.plumbline.models.datapath;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

/**
 * Whatever is evaluated by columns and whatever case by case, a datapath with registers is what its
 * cases are when they are written one below the other without any register.
 */
class SequenceTest {
  private static final Format WORD = Format.signed(4, 3);
  private static final int INPUTS = 2;
  private static final int STEPS = 10;
  private static final int CASES = 6;

  private static final Unit SQUARE = square();

  private static Unit square() {
    Datapath.Builder b = Datapath.named("square");
    Value x = b.input("x", WORD);
    Value y = b.multiply("whole", x, x);
    b.output(b.convert("y", y, WORD, Rounding.HALF_EVEN, Overflow.SATURATE));
    return Unit.of(b.build(), "y", v -> v[0] * v[0], 0.5);
  }

  /** The steps of one case, by chance: the same for each case that begins with the same seed. */
  private static final class Drawn {
    private final Random random;
    private final Datapath.Builder b;
    private final List<Value> values;
    private Value bit;

    Drawn(long seed, Datapath.Builder b, String suffix, List<Value> given) {
      this.random = new Random(seed);
      this.b = b;
      this.values = new ArrayList<>(given);
      this.bit = b.lessThan("bit" + suffix, given.get(0), given.get(1));
      for (int n = 0; n < STEPS; n++) {
        step("s" + n + suffix);
      }
    }

    private Value any() {
      return values.get(random.nextInt(values.size()));
    }

    private void step(String name) {
      Value x = any();
      Value y = any();
      Value made =
          switch (random.nextInt(8)) {
            case 0 -> b.add(name, x, y);
            case 1 -> b.subtract(name, x, y);
            case 2 -> b.multiply(name, x, y);
            case 3 -> b.scale(name, x, random.nextInt(3) - 1);
            case 4 -> b.select(name, bit, x, y);
            case 5 -> b.minimum(name, x, y);
            case 6 -> b.unit(name, SQUARE, x);
            default -> b.absolute(name, x);
          };
      Rounding rounding = Rounding.values()[random.nextInt(Rounding.values().length)];
      values.add(b.convert(name + "_w", made, WORD, rounding, Overflow.SATURATE));
      bit = random.nextInt(3) == 0 ? b.atMost(name + "_b", any(), any()) : bit;
    }

    /** What a register takes and, or null, when: any value, which may be in no loop at all. */
    Value[] next() {
      return new Value[] {any(), random.nextInt(3) == 0 ? bit : null};
    }
  }

  private static Datapath inTurn(long seed, int registers) {
    Datapath.Builder b = Datapath.named("in_turn");
    List<Value> given = new ArrayList<>();
    for (int k = 0; k < INPUTS; k++) {
      given.add(b.input("x" + k, WORD));
    }
    List<Value> held = new ArrayList<>();
    for (int k = 0; k < registers; k++) {
      held.add(b.register("r" + k, WORD, k));
    }
    given.addAll(held);
    Drawn drawn = new Drawn(seed, b, "", given);
    for (Value register : held) {
      Value[] next = drawn.next();
      if (next[1] == null) {
        b.next(register, next[0]);
      } else {
        b.next(register, next[0], next[1]);
      }
    }
    drawn.values.subList(INPUTS, drawn.values.size()).forEach(b::output);
    return b.build();
  }

  private static Datapath unrolled(long seed, int registers) {
    Datapath.Builder b = Datapath.named("unrolled");
    List<Value> held = new ArrayList<>();
    for (int k = 0; k < registers; k++) {
      held.add(b.constant("r" + k, WORD, k));
    }
    for (int n = 0; n < CASES; n++) {
      List<Value> given = new ArrayList<>();
      for (int k = 0; k < INPUTS; k++) {
        given.add(b.input("x" + k + "_" + n, WORD));
      }
      given.addAll(held);
      Drawn drawn = new Drawn(seed, b, "_" + n, given);
      for (int k = 0; k < registers; k++) {
        Value[] next = drawn.next();
        held.set(
            k,
            next[1] == null
                ? next[0]
                : b.select("held" + k + "_" + n, next[1], next[0], held.get(k)));
      }
      List<Value> shown = drawn.values.subList(INPUTS, drawn.values.size());
      for (int k = 0; k < shown.size(); k++) {
        b.output("y" + k + "_" + n, shown.get(k), WORD);
      }
    }
    return b.build();
  }

  @Test
  void casesInTurnAreWhatTheyAreOneBelowTheOther() {
    for (int seed = 0; seed < 16; seed++) {
      int registers = 1 + seed % 4;
      Datapath turn = inTurn(seed, registers);
      Datapath whole = unrolled(seed, registers);
      int wide = turn.outputs().size();
      List<BigInteger[]> one = Cases.random(whole.inputs(), 1, new Random(seed));
      BigInteger[] row = one.get(0);
      BitEvaluation bits = whole.bits(1);
      BoundsEvaluation bounds = whole.bounds(1);
      IdealEvaluation ideal = whole.ideal(1);
      Cases.fill(whole, bits::input, one, 0, 1);
      Cases.fill(whole, bounds::input, one, 0, 1);
      Cases.fill(whole, ideal::input, one, 0, 1);
      bits.run(1);
      bounds.run(1);
      ideal.run(1);

      List<BigInteger[]> cases = new ArrayList<>();
      for (int n = 0; n < CASES; n++) {
        cases.add(Arrays.copyOfRange(row, INPUTS * n, INPUTS * (n + 1)));
      }
      // Some before them, which a reset has to make forgotten.
      List<BigInteger[]> all =
          new ArrayList<>(Cases.random(turn.inputs(), 3, new Random(seed + 1)));
      all.addAll(cases);
      BitEvaluation turnBits = turn.bits(all.size());
      BoundsEvaluation turnBounds = turn.bounds(all.size());
      IdealEvaluation turnIdeal = turn.ideal(all.size());
      Cases.fill(turn, turnBits::input, all, 0, all.size());
      Cases.fill(turn, turnBounds::input, all, 0, all.size());
      Cases.fill(turn, turnIdeal::input, all, 0, all.size());
      turnBits.renewBefore(3);
      turnBounds.renewBefore(3);
      turnIdeal.renewBefore(3);
      turnBits.run(all.size());
      turnBounds.run(all.size());
      turnIdeal.run(all.size());

      for (int n = 0; n < CASES; n++) {
        for (int k = 0; k < wide; k++) {
          String where = "seed " + seed + ", output " + k + " in case " + n + " of\n" + turn;
          int o = n * wide + k;
          assertEquals(bits.output(o, 0)[0], turnBits.output(k, 0)[3 + n], where);
          assertEquals(bounds.low(o, 0)[0], turnBounds.low(k, 0)[3 + n], where);
          assertEquals(bounds.high(o, 0)[0], turnBounds.high(k, 0)[3 + n], where);
          assertEquals(ideal.output(o)[0], turnIdeal.output(k)[3 + n], 1e-9, where);
        }
      }
    }
  }

  /** Taps are evaluated by columns, and only what depends on itself case by case. */
  @Test
  void onlyLoopsAreGroups() {
    Datapath.Builder b = Datapath.named("groups");
    Value x = b.input("x", WORD);
    Value tap = b.delay("tap", x, 0);
    Value other = b.delay("other", tap, 0);
    Value y = b.register("y", WORD, 0);
    Value sum = b.add("sum", y, other);
    Value next = b.convert("next", sum, WORD, Rounding.FLOOR, Overflow.SATURATE);
    b.next(y, next);
    Value twice = b.scale("twice", next, 1);
    Datapath datapath = b.output(b.delay("late", twice, 0)).build();
    List<List<String>> groups =
        Groups.of(datapath).stream().map(g -> g.stream().map(Value::name).toList()).toList();
    assertTrue(groups.contains(List.of("y", "sum", "next")), groups::toString);
    assertEquals(6, groups.size(), groups::toString);
  }
}
