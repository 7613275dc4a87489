package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.Evaluated;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What bounds under a budget have to take in, and what they must not. */
class SphereBudgetTest {
  private static final int CASES = 4000;
  private static final long SEED = 20251;

  /** Formats to hold the rules in. */
  record Formats(Format word, Format direction, Format working) {
    Sphere sphere() {
      return Sphere.of(word, direction);
    }

    Budget budget() {
      return sphere().budget(working);
    }

    SphereCases cases(int count) {
      return new SphereCases(word, direction, count, SEED);
    }
  }

  static Stream<Formats> formats() {
    Format narrow = Format.signed(2, 14);
    Format usual = Format.signed(2, 16);
    Format word = Format.signed(16, 16);
    return Stream.of(
        new Formats(word, usual, word),
        new Formats(word, usual, Format.signed(20, 20)),
        new Formats(Format.signed(18, 14), narrow, Format.signed(18, 14)),
        new Formats(Format.signed(12, 20), usual, Format.signed(16, 24)),
        new Formats(Format.signed(12, 20), Format.signed(2, 22), Format.signed(12, 20)),
        new Formats(word, usual, Format.signed(20, 12)),
        new Formats(Format.signed(5, 3), Format.signed(2, 6), Format.signed(5, 3)),
        new Formats(Format.signed(5, 3), Format.signed(2, 6), Format.signed(9, 9)));
  }

  @ParameterizedTest
  @MethodSource("formats")
  void exactAndIdealLieInTheirOwnBounds(Formats f) {
    Evaluated.lawsHold(f.sphere().datapath(), f.cases(CASES).columns, 1e-3);
    Evaluated.lawsHold(f.sphere().budgeted(f.budget()), f.cases(CASES).columns, 1e-3);
  }

  @ParameterizedTest
  @MethodSource("formats")
  void exactLiesInTheBoundsOfTheBudget(Formats f) {
    if (f.working().fractionBits() > f.word().fractionBits() + 4) {
      return; // finer than what the exact micro-architecture keeps
    }
    SphereCases cases = f.cases(CASES);
    Datapath exact = f.sphere().datapath();
    Evaluated bits = Evaluated.bits(exact, cases.columns);
    Bounds bounds = new Bounds(f.sphere().budgeted(f.budget()), cases.columns);
    for (int i = 0; i < CASES; i++) {
      if (Math.abs(new SphereMath(f.word(), f.direction(), cases.columns, i).surplus()) > 0.1) {
        continue; // no unit vector's code: a step may saturate
      }
      for (String output : List.of("hit", "inside", "entry", "exit")) {
        boolean counts = output.equals("hit") || bits.codes("hit")[i] == 1;
        assertTrue(
            !counts || bounds.holds(output, i, bits.codes(output)[i]),
            cases.kinds[i]
                + ": "
                + output
                + " "
                + bits.codes(output)[i]
                + " in "
                + bounds.describe(output, i)
                + " of "
                + Evaluated.describe(exact, cases.columns, i)
                + ", seed "
                + SEED);
      }
    }
  }
}
