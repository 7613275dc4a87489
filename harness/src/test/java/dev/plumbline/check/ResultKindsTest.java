package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.ContractException;
import dev.plumbline.contract.Reference;
import dev.plumbline.contract.Suspect;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.datapath.Variation;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.rtl.Clock;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import dev.plumbline.verdict.MismatchGroup.Hypothesis;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import dev.plumbline.verdict.Verdict;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What is said of faults where nothing is known of the steps: by results alone. */
class ResultKindsTest {
  private static final Format WORD = Format.signed(12, 0);
  private static final Format TOTAL = Format.signed(16, 0);
  private static final List<Operand> IN =
      List.of(new Operand("up", WORD), new Operand("down", WORD));
  private static final List<Operand> OUT = List.of(new Operand("total", TOTAL));

  /** Counts up and down; the model of a counter whose faults are planted below. */
  private static final Reference COUNTER =
      Reference.stateful(
          "counter",
          IN,
          OUT,
          () -> {
            long[] total = new long[1];
            return (in, out) -> out[0] = total[0] = (short) (total[0] + in[0] - in[1]);
          });

  private static final Reference DIFFERENCE =
      Reference.of("difference", IN, OUT, (in, out) -> out[0] = in[0] - in[1]);

  /** What is wrong with the counter. */
  enum Fault {
    NONE,
    EXCHANGED,
    OF_THE_CYCLE_BEFORE,
    BIT_STUCK,
    SIGN_LOST,
    SURVIVES_RESET,
    SHOWS_A_BIT_STUCK,
    NOT_AT_NOUGHT,
    REMEMBERS
  }

  /** Counts, or only subtracts where it has no state. */
  private static final class Counter implements SoftDut {
    private final Fault fault;
    private final boolean counts;
    private long total;
    private long before; // what stood at up a cycle ago
    private boolean wasNegative;
    private boolean valid;

    Counter(Fault fault, boolean counts) {
      this.fault = fault;
      this.counts = counts;
    }

    @Override
    public void settle(Pins pins) {
      pins.set("out_valid", valid);
      pins.set("out_total", fault == Fault.SHOWS_A_BIT_STUCK ? total | 8 : total);
    }

    @Override
    public void edge(Pins pins) {
      long up = pins.get("in_up");
      long down = pins.get("in_down");
      long now = up;
      if (fault == Fault.EXCHANGED) {
        now = down;
        down = up;
      }
      now = fault == Fault.OF_THE_CYCLE_BEFORE ? before : now;
      now = fault == Fault.BIT_STUCK ? now | 4 : now;
      now = fault == Fault.SIGN_LOST && now != -2048 ? Math.abs(now) : now; // of 12 bits
      now += fault == Fault.NOT_AT_NOUGHT && down == 0 ? 1 : 0;
      now += fault == Fault.REMEMBERS && wasNegative ? 1 : 0;
      before = up;
      valid = pins.isHigh("in_valid") && !pins.isHigh("rst");
      if (valid) {
        total = (short) ((counts ? total : 0) + now - down);
        wasNegative |= up < 0;
      }
      if (pins.isHigh("rst")) {
        total = fault == Fault.SURVIVES_RESET ? total : 0;
        wasNegative = false;
      }
    }
  }

  private static Bench.Builder bench(Reference held, Fault fault) {
    List<Port> ports =
        List.of(
            GearTrain.port("clk", Port.Direction.INPUT, 1, false),
            GearTrain.port("rst", Port.Direction.INPUT, 1, false),
            GearTrain.port("in_valid", Port.Direction.INPUT, 1, false),
            GearTrain.port("in_up", Port.Direction.INPUT, 12, true),
            GearTrain.port("in_down", Port.Direction.INPUT, 12, true),
            GearTrain.port("out_valid", Port.Direction.OUTPUT, 1, false),
            GearTrain.port("out_total", Port.Direction.OUTPUT, 16, true));
    Design design =
        new Design(
            "counter",
            ports,
            List.of(),
            List.of(new Clock("clk", Clock.Edge.RISING, GearTrain.at(9))),
            List.of(),
            List.of(),
            List.of(),
            List.of());
    return new Bench.Builder(
            design,
            opening ->
                new SoftEngine(
                    new Counter(fault, held.isStateful()),
                    Set.of("out_valid", "out_total"),
                    opening),
            "0123abcd")
        .named("counter")
        .contract(Contract.of(held).valid("in_valid", "out_valid").reset("rst").latency(1).build())
        .cases(3_000)
        .resets(0.002)
        .initialStates(0)
        .recorder(verdict -> Optional.empty());
  }

  private static Hypothesis only(Bench.Builder bench) {
    Verdict verdict = bench.run();
    List<Hypothesis> likely = verdict.groups().get(0).likely();
    assertEquals(1, likely.size(), verdict::facts);
    return likely.get(0);
  }

  @ParameterizedTest
  @CsvSource({
    "EXCHANGED, EXCHANGED, input up and down are exchanged",
    "OF_THE_CYCLE_BEFORE, NEIGHBOUR, input up is that of 1 cycle before",
    "BIT_STUCK, STUCK_BIT, input up has bit 2 always 1",
    "SIGN_LOST, SIGN, input up is its magnitude",
    "SURVIVES_RESET, RESET, what is remembered outlives a reset in mid-stream",
    "SHOWS_A_BIT_STUCK, STUCK_BIT, output total has bit 3 always 1",
  })
  void aModelWithStateIsEvaluatedAgain(Fault fault, LikelyKind kind, String words) {
    Hypothesis likely = only(bench(COUNTER, fault));
    assertEquals(kind, likely.kind(), likely::toString);
    assertTrue(likely.words().startsWith(words), likely::toString);
    assertTrue(likely.explained() > 1, likely::toString);
  }

  @ParameterizedTest
  @CsvSource({
    "EXCHANGED, EXCHANGED, input up and down are exchanged",
    "BIT_STUCK, STUCK_BIT, input up has bit 2 always 1",
    "'NOT_AT_NOUGHT', DECISION, 'wrong wherever, and only where, down is 0'",
    "'REMEMBERS', LEFT_OVER, 'behind a reset, without the cases before, those that are wrong are"
        + " right'",
  })
  void soIsAFunction(Fault fault, LikelyKind kind, String words) {
    Hypothesis likely = only(bench(DIFFERENCE, fault));
    assertEquals(kind, likely.kind(), likely::toString);
    assertTrue(likely.words().startsWith(words), likely::toString);
    assertTrue(likely.explained() > 1, likely::toString);
  }

  @Test
  void whatAReferenceSuspectsIsSaidWhereItAgrees() {
    Suspect turned =
        new Suspect(
            Variation.Kind.SIGN,
            "the difference has the other sign",
            Reference.of("turned", IN, OUT, (in, out) -> out[0] = in[1] - in[0]));
    Suspect odd =
        new Suspect(
            Variation.Kind.ROUNDING,
            "where nothing goes down one is left over",
            Reference.of(
                "odd", IN, OUT, (in, out) -> out[0] = in[0] - in[1] + (in[1] == 0 ? 1 : 0)));
    Reference both = DIFFERENCE.suspecting(List.of(turned, odd));
    Hypothesis likely = only(bench(both, Fault.NOT_AT_NOUGHT));
    assertEquals(LikelyKind.ROUNDING, likely.kind(), likely::toString);
    assertEquals(odd.words(), likely.words());
    Reference one = DIFFERENCE.suspecting(List.of(turned));
    assertEquals(LikelyKind.DECISION, only(bench(one, Fault.NOT_AT_NOUGHT)).kind());
    assertTrue(bench(both, Fault.NONE).run().isPass(), "no verdict rests on a suspect");
  }

  @Test
  void aSuspectOfOtherOperandsIsRefused() {
    Suspect other =
        new Suspect(
            Variation.Kind.SIGN, "the other way", Reference.of("other", OUT, OUT, (in, out) -> {}));
    ContractException refused =
        assertThrows(ContractException.class, () -> DIFFERENCE.suspecting(List.of(other)));
    assertTrue(refused.getMessage().contains("suspect \"the other way\""), refused.getMessage());
  }

  @Test
  void suspectsOfAModelWithStateBeginAnewAtResets() {
    Reference limited =
        Reference.stateful(
            "stuck",
            IN,
            OUT,
            () -> {
              long[] total = new long[1];
              return (in, out) -> out[0] = total[0] = (short) (total[0] + (in[0] | 4) - in[1]);
            });
    Suspect stuck = new Suspect(Variation.Kind.STUCK_BIT, "up has a bit that sticks", limited);
    Hypothesis likely = only(bench(COUNTER.suspecting(List.of(stuck)), Fault.BIT_STUCK));
    assertEquals(stuck.words(), likely.words());
  }

  @Test
  void theRightOnesPass() {
    assertTrue(bench(COUNTER, Fault.NONE).run().isPass());
    assertTrue(bench(DIFFERENCE, Fault.NONE).run().isPass());
  }

  /** The same with a limit, of which a wrap is a change of one step beside the register. */
  private static Datapath steps(Overflow overflow) {
    Datapath.Builder b = Datapath.named("counted");
    Value up = b.input("up", WORD);
    Value down = b.input("down", WORD);
    Value held = b.register("held", TOTAL, 0);
    Value sum = b.add("sum", held, b.subtract("more", up, down));
    Value next = b.convert("next", sum, TOTAL, Rounding.FLOOR, overflow);
    b.next(held, next);
    return b.output("total", next).build();
  }

  @Test
  void declaredStepsBesideRegistersExplainAndDecideNothing() {
    Reference saturates =
        Reference.stateful(
            "saturating counter",
            IN,
            OUT,
            () -> {
              long[] total = new long[1];
              return (in, out) ->
                  out[0] =
                      total[0] =
                          Math.max(
                              Short.MIN_VALUE, Math.min(Short.MAX_VALUE, total[0] + in[0] - in[1]));
            });
    // The DUT wraps.
    Hypothesis likely =
        only(
            bench(saturates.explainedBy(steps(Overflow.SATURATE)), Fault.NONE)
                .cases(20_000)
                .resets(0));
    assertEquals(LikelyKind.OVERFLOW, likely.kind(), likely::toString);
    assertTrue(likely.words().startsWith("step next wraps instead of saturating"), likely.words());
    // Steps that are not the reference's change no verdict.
    assertTrue(bench(COUNTER.explainedBy(steps(Overflow.SATURATE)), Fault.NONE).run().isPass());
  }

  @Test
  void stepsOfOtherOperandsAreRefused() {
    Datapath.Builder b = Datapath.named("other");
    b.output("total", b.input("up", WORD));
    Datapath other = b.build();
    String message =
        assertThrows(ContractException.class, () -> COUNTER.explainedBy(other)).getMessage();
    assertTrue(
        message.startsWith("Reference \"counter\" cannot be explained by datapath \"other\""),
        message);
  }
}
