package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Contract;
import dev.plumbline.faults.FaultyCopies;
import dev.plumbline.junit.DesignUnderTest;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.verdict.Mismatch.Kind;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** Valid and ready on both sides as RTL, right and with faults planted in copies. */
@DesignUnderTest(sources = "src/test/rtl/checked/escapement.sv", top = "escapement")
@Execution(ExecutionMode.CONCURRENT)
class EscapementRtlTest {
  private static final Path RTL = Path.of("src/test/rtl/checked/escapement.sv");

  private static final FaultyCopies COPIES = FaultyCopies.of(RTL, faults(), 2);

  /** 1 + ticks cycles, with up to 7 ticks. */
  private static Contract contract() {
    return Contract.of(Escapement.REFERENCE)
        .valid("in_valid", "out_valid")
        .ready("in_ready", "out_ready")
        .reset("rst")
        .latencyBetween(1, 8)
        .build();
  }

  @Test
  @Tag("thorough")
  void holdsUnderVariedPacingAndResets(Bench.Builder bench) {
    Verdict verdict = bench.contract(contract()).cases(70_000).resets(0.003).check();

    assertTrue(verdict.cases() > 50_000, verdict::facts);
  }

  @Test
  @Tag("thorough")
  void noResultIsLeftBehind(Bench.Builder bench) {
    Verdict verdict =
        bench
            .contract(contract())
            .pacing(Pacing.backToBack())
            .ready(Pacing.bubbles(0.3))
            .resets(0)
            .cases(5_000)
            .check();

    assertEquals(5_000, verdict.cases());
  }

  static Stream<Arguments> faults() {
    return Stream.of(
        fault(
            "a tick too few",
            Kind.VALUE_WRONG,
            "travel_q <= travel_q + 27'(step_q)",
            "travel_q <= ticks_q == 3'd7 ? travel_q : travel_q + 27'(step_q)"),
        fault("step without its sign", Kind.VALUE_WRONG, "27'(step_q)", "{3'b0, step_q}"),
        fault(
            "goes on while stalled",
            Kind.CHANGED_WHILE_STALLED,
            "busy_q && ticks_q != 3'd0) begin\n      ticks_q  <= ticks_q - 3'd1;",
            "busy_q) begin\n      if (ticks_q != 3'd0) ticks_q <= ticks_q - 3'd1;"),
        fault(
            "gives up when stalled",
            Kind.WITHDRAWN_WHILE_STALLED,
            "else if (out_valid && out_ready)",
            "else if (out_valid)"),
        fault(
            "one cycle too long",
            Kind.LATE,
            "out_valid  = busy_q && ticks_q == 3'd0",
            "out_valid = held_q",
            "  logic               busy_q;",
            "  logic busy_q, held_q;\n  always_ff @(posedge clk) held_q <= !rst && busy_q"
                + " && ticks_q == 3'd0 && !(held_q && out_ready);"),
        fault(
            "gives a result twice",
            Kind.VALID_WITHOUT_CASE,
            "else if (out_valid && out_ready) busy_q <= 1'b0",
            "else if (out_valid && out_ready && in_step[0]) busy_q <= 1'b0"),
        fault(
            "never ready again",
            Kind.NEVER_READY,
            "in_ready   = !busy_q",
            "in_ready   = !busy_q && !(step_q == 24'h7FFFFF && ticks_q == 3'd0)"),
        fault(
            "reset does not stop it",
            Kind.VALID_WITHOUT_CASE,
            "if (rst) busy_q <= 1'b0;\n    else ",
            ""));
  }

  private static Arguments fault(String name, Kind kind, String... replacements) {
    return Arguments.of(name, kind, Arrays.asList(replacements));
  }

  @ParameterizedTest(name = "{0}: {1}")
  @MethodSource("faults")
  @Tag("thorough")
  void aPlantedFaultIsCaughtAndCalledByItsName(String name, Kind kind, List<String> replacements) {
    Verdict verdict =
        COPIES
            .bench(replacements)
            .named(name)
            .contract(contract())
            .initialStates(0)
            .cases(20_000)
            .run();

    assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome(), verdict::facts);
    assertEquals(kind, verdict.kept().get(0).kind(), verdict::facts);
  }
}
