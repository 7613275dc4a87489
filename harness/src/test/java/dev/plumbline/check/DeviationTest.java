package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.drive.Feed;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.Stimulus;
import dev.plumbline.verdict.Deviation;
import dev.plumbline.verdict.Verdict;
import java.math.BigInteger;
import java.util.List;
import org.junit.jupiter.api.Test;

/** How far off a pass was: a wheel that is a known number of LSB off at known angles. */
class DeviationTest {
  private static final List<Operand> IN = List.of(new Operand("angle", Format.signed(8, 4)));
  private static final List<Operand> OUT = List.of(new Operand("turn", Format.signed(8, 4)));

  /** 0 LSB off but at four angles. */
  private static final Reference SHOWN =
      Reference.of(
          "worn wheel",
          IN,
          OUT,
          (in, out) ->
              out[0] = in[0] + (in[0] == 100 ? 1 : in[0] == 200 ? 3 : in[0] == -300 ? -6 : 0));

  private static Verdict run(Reference held, long tolerance) {
    return run(
        held,
        tolerance,
        tolerance == 0 ? 5 : 6, // a bounded range of its own stays within the format
        Stimulus.listed(
            new long[] {0},
            new long[] {100},
            new long[] {200},
            new long[] {7},
            new long[] {-300},
            new long[] {-2048}));
  }

  private static Verdict run(Reference held, long tolerance, int cases, Stimulus stimulus) {
    Contract contract =
        Contract.of(held)
            .valid("in_valid", "out_valid")
            .reset("rst")
            .latency(4)
            .tolerance("turn", tolerance)
            .build();
    return Pipeline.bench(SHOWN, SHOWN, 4)
        .contract(contract)
        .stimulus(stimulus)
        .cases(cases)
        .pacing(Pacing.backToBack())
        .resets(0)
        .run();
  }

  @Test
  void aPassWithAToleranceSaysHowFarOffItWasAndWhere() {
    Reference held = Reference.of("wheel", IN, OUT, (in, out) -> out[0] = in[0]);
    Verdict verdict = run(held, 8);

    assertTrue(verdict.isPass(), verdict::facts);
    Deviation turn = verdict.checked().deviations().get(0);
    assertEquals(
        new Deviation(
            OUT.get(0),
            true,
            6,
            -6,
            0,
            4,
            IN,
            List.of(BigInteger.valueOf(-300)),
            List.of(3L, 1L, 1L, 1L)),
        turn,
        "also at the end of the format, where the tolerance is cut");
    assertTrue(
        verdict
            .facts()
            .contains(
                String.join(
                    System.lineSeparator(),
                    "  deviation  turn s8.4: -6 LSB at most, from the expected code, in case 4",
                    "               angle = 0xed4  -18.75",
                    "               results by LSB off: 0: 3, 1: 1, 2 to 3: 1, 4 to 7: 1")),
        verdict::facts);
  }

  /** The case may stand in the block before that of its result. */
  @Test
  void theCaseFarthestOffIsKnownWhereverABlockEnds() {
    Reference held = Reference.of("wheel", IN, OUT, (in, out) -> out[0] = in[0]);
    for (int before = 2 * Feed.BLOCK - 12; before < 2 * Feed.BLOCK + 4; before++) {
      long[][] angles = new long[before + 10][1];
      angles[before][0] = -300;
      Verdict verdict = run(held, 8, angles.length, Stimulus.listed(angles));
      Deviation turn = verdict.checked().deviations().get(0);
      assertEquals(before, turn.caseNumber());
      assertEquals(List.of(BigInteger.valueOf(-300)), turn.operands(), "case " + before);
    }
  }

  @Test
  void boundsAreMeasuredFromTheirMiddle() {
    Reference
        held = // from 9 below the angle to 10 above it: the middle, rounded down, is the angle
        Reference.statefulBounded(
                "loose wheel",
                IN,
                OUT,
                () ->
                    (in, least, greatest) -> {
                      least[0] = in[0] - 9;
                      greatest[0] = in[0] + 10;
                    });
    Verdict verdict = run(held, 0);

    assertTrue(verdict.isPass(), verdict::facts);
    Deviation turn = verdict.checked().deviations().get(0);
    assertEquals(-6, turn.largest());
    assertEquals(List.of(2L, 1L, 1L, 1L), turn.histogram());
    assertTrue(verdict.facts().contains("from the middle of what is allowed"), verdict::facts);
  }

  @Test
  void whereOneCodeAlonePassesNothingIsMeasured() {
    assertEquals(List.of(), run(SHOWN, 0).checked().deviations());
  }
}
