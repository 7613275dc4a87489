package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.drive.Feed;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.RandomStream;
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

  /** Resets take cases on their way, also of the block before, and cases are counted on. */
  @Test
  void theCaseFarthestOffIsKnownAmongResets() {
    Operand position = new Operand("position", Format.signed(20, 0));
    List<Operand> one = List.of(position);
    Reference held = Reference.of("dial", one, one, (in, out) -> out[0] = in[0] & -4096);
    Reference shown = Reference.of("dial", one, one, (in, out) -> out[0] = in[0]);
    for (int seed = 1; seed <= 12; seed++) {
      RandomStream chance = RandomStream.of(seed);
      long[][] positions = new long[70_000][1];
      for (long[] each : positions) {
        each[0] = chance.next() >> 44;
      }
      int latency = 1 + chance.below(9);
      Verdict verdict =
          Pipeline.bench(held, shown, latency)
              .contract(
                  Contract.of(held)
                      .valid("in_valid", "out_valid")
                      .reset("rst")
                      .latency(latency)
                      .tolerance("position", 4095)
                      .build())
              .stimulus(Stimulus.listed(positions))
              .cases(seed > 2 ? 3_000 : positions.length)
              .seed(seed)
              .resets(0.02)
              .run();
      Deviation most = verdict.checked().deviations().get(0);
      long operand = most.operands().get(0).longValueExact();
      assertEquals(positions[(int) most.caseNumber()][0], operand, "seed " + seed);
      assertEquals(operand & 4095, most.largest(), "seed " + seed);
    }
  }

  /** Results of a stream stand where none or several come for a case. */
  @Test
  void theCaseFarthestOffOfAStreamIsKnown() {
    Reference held =
        Reference.statefulStream(
            "striker",
            Striker.REFERENCE.inputs(),
            Striker.REFERENCE.outputs(),
            () -> {
              long[] struck = new long[1];
              long[] codes = new long[3];
              return (in, results) -> {
                for (int n = 1; n <= in[0]; n++) {
                  codes[0] = struck[0]++;
                  codes[1] = in[1] & -256;
                  codes[2] = n == in[0] ? 1 : 0;
                  results.give(codes);
                }
              };
            });
    for (int seed = 1; seed <= 6; seed++) {
      RandomStream chance = RandomStream.of(seed);
      long[][] cases = new long[2_000][2];
      for (long[] each : cases) {
        each[0] = chance.below(4);
        each[1] = chance.below(4096);
      }
      Verdict verdict =
          Striker.bench(Striker.Fault.NONE)
              .contract(
                  Contract.of(held)
                      .valid("in_valid", "out_valid")
                      .ready("in_ready", "out_ready")
                      .reset("rst")
                      .latencyBetween(Striker.LEAST, Striker.MOST)
                      .tolerance("force", 255)
                      .build())
              .stimulus(Stimulus.listed(cases))
              .cases(cases.length)
              .seed(seed)
              .resets(0.02)
              .run();
      Deviation most = verdict.checked().deviations().get(0);
      long force = most.operands().get(1).longValueExact();
      assertEquals(cases[(int) most.caseNumber()][1], force, "seed " + seed);
      assertEquals(force & 255, most.largest(), "seed " + seed);
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
