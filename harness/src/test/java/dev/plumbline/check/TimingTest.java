package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.stimulus.Generator;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.stimulus.Stimulus;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Mismatch.Kind;
import dev.plumbline.verdict.Verdict;
import java.util.List;
import org.junit.jupiter.api.Test;

/** A result is called late or early only where several values of its own output say so. */
class TimingTest {
  private static final Operand A = new Operand("a", Format.signed(12, 0));
  private static final Operand B = new Operand("b", Format.signed(12, 0));
  private static final Operand PRODUCT = new Operand("product", Format.signed(24, 0));
  private static final Operand SUM = new Operand("sum", Format.signed(13, 0));
  private static final Operand NEGATIVE = new Operand("negative", Format.bit());

  private static Reference product(long signMask) {
    return Reference.of(
        "arms",
        List.of(A, B),
        List.of(PRODUCT, SUM, NEGATIVE),
        (in, out) -> {
          out[0] = in[0] * in[1] * (signMask == 0 ? 1 : -1);
          out[1] = in[0] + in[1];
          out[2] = in[0] * in[1] < 0 ? 1 : 0;
        });
  }

  /** Few values, so that a wrong one is often right for a neighbour. */
  private static Stimulus small(int most) {
    return Stimulus.each(Generator.drawn(stream -> stream.below(2 * most + 1) - most));
  }

  @Test
  void aWrongProductIsNoRightResultOfAnotherCycle() {
    for (int most : new int[] {1, 2, 3, 9}) {
      for (long seed = 1; seed <= 8; seed++) {
        Verdict verdict =
            Pipeline.bench(product(0), product(1), 4)
                .stimulus(small(most))
                .pacing(seed % 2 == 0 ? Pacing.varied() : Pacing.bubbles(0.9))
                .seed(seed)
                .run();
        for (Mismatch mismatch : verdict.kept()) {
          assertFalse(
              mismatch.kind() == Kind.EARLY || mismatch.kind() == Kind.LATE, verdict::facts);
        }
        assertFalse(verdict.facts().contains("  timing "), verdict::facts);
      }
    }
  }

  @Test
  void aWrongBitIsNoRightBitOfAnotherCycle() {
    Reference wrong =
        Reference.of(
            "bit",
            List.of(A, B),
            List.of(NEGATIVE),
            (in, out) -> out[0] = in[0] * in[1] < 0 || in[0] % 7 == 0 ? 1 : 0);
    Reference right =
        Reference.of(
            "bit",
            List.of(A, B),
            List.of(NEGATIVE),
            (in, out) -> out[0] = in[0] * in[1] < 0 ? 1 : 0);
    Reference inverted =
        Reference.of(
            "bit",
            List.of(A, B),
            List.of(NEGATIVE),
            (in, out) -> out[0] = in[0] * in[1] < 0 ? 0 : 1);
    for (long seed = 1; seed <= 8; seed++) {
      for (Reference shown : List.of(wrong, inverted)) {
        Verdict verdict = Pipeline.bench(right, shown, 4).seed(seed).run();
        assertEquals(Kind.VALUE_WRONG, verdict.kept().get(0).kind(), verdict::facts);
      }
      Verdict late =
          Pipeline.bench(right, right, 4, 3)
              .stimulus(Stimulus.each(Generator.uniform()))
              .resets(0)
              .seed(seed)
              .run();
      assertEquals("right result, 3 cycles late", late.kept().get(0).words(), late::facts);
    }
  }

  @Test
  void aRoundingInASlowTableIsAWrongValue() {
    Operand step = new Operand("step", Format.unsigned(16, 0));
    Operand height = new Operand("height", Format.unsigned(16, 0));
    Reference rounded =
        Reference.of("cam", List.of(step), List.of(height), (in, out) -> out[0] = (in[0] + 3) / 6);
    Reference floored =
        Reference.of("cam", List.of(step), List.of(height), (in, out) -> out[0] = in[0] / 6);
    long[] ramp = new long[2_000];
    for (int i = 0; i < ramp.length; i++) {
      ramp[i] = i;
    }
    for (Pacing pacing : List.of(Pacing.backToBack(), Pacing.bubbles(0.8), Pacing.varied())) {
      Verdict verdict =
          Pipeline.bench(rounded, floored, 2)
              .stimulus(Stimulus.each(Generator.codes(ramp)))
              .pacing(pacing)
              .resets(0)
              .run();
      for (Mismatch mismatch : verdict.kept()) {
        assertEquals(Kind.VALUE_WRONG, mismatch.kind(), verdict::facts);
      }
    }
  }

  @Test
  void oneOutputOfSeveralThatIsLateOrEarlyIsCalledThat() {
    RandomStream chance = RandomStream.of(6);
    for (int i = 0; i < 12; i++) {
      int output = chance.below(2);
      int cycles = chance.chance(0.5) ? 1 + chance.below(16) : -1 - chance.below(3);
      int[] shifts = new int[3];
      shifts[output] = cycles;
      Verdict verdict = Pipeline.bench(product(0), product(0), 4, shifts).seed(i).run();
      String port = output == 0 ? "out_product" : "out_sum";
      int distance = Math.abs(cycles);
      String words =
          distance + (distance == 1 ? " cycle " : " cycles ") + (cycles > 0 ? "late" : "early");
      assertEquals("right result, " + words, verdict.kept().get(0).words(), verdict::facts);
      assertEquals(port, verdict.kept().get(0).signal());
      assertTrue(
          verdict
              .facts()
              .lines()
              .anyMatch(
                  line ->
                      line.matches(
                          "  timing     "
                              + port
                              + " "
                              + words
                              + ": (\\d+) of \\1 results agree at that shift, with \\d+ different"
                              + " values; sure")),
          verdict::facts);
    }
  }

  @Test
  void anOutputThatIsLateIsToldBesideOneThatIsWrong() {
    Reference off =
        Reference.of(
            "arms",
            List.of(A, B),
            List.of(PRODUCT, SUM, NEGATIVE),
            (in, out) -> {
              out[0] = in[0] * in[1] + 5 * (in[0] & 3);
              out[1] = in[0] + in[1];
              out[2] = in[0] * in[1] < 0 ? 1 : 0;
            });
    Verdict verdict = Pipeline.bench(product(0), off, 5, 0, 2).seed(4).run();
    String facts = verdict.facts();
    assertTrue(facts.contains("out_sum 2 cycles late: "), facts);
  }
}
