package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Beats;
import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.junit.DesignUnderTest;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Mismatch.Kind;
import dev.plumbline.verdict.Row;
import dev.plumbline.verdict.Verdict;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Operands that come one after the other on a narrow bus, right and with faults switched on. */
@Execution(ExecutionMode.CONCURRENT)
class BeatsRtlTest {
  private static final String BUS = "src/test/rtl/checked/gear_bus.sv";
  private static final String GATE = "src/test/rtl/checked/gear_gate.sv";
  private static final Beats THREE =
      Beats.on("in_data", "turns", "teeth", "offset").mark("in_first", 0);

  private static Contract.Builder bus(int fault, Beats beats) {
    return Contract.of(Reference.exact(GearTrainRtlTest.datapath()))
        .signsFromFormats()
        .valid("in_valid", "out_valid")
        .reset("rst")
        .hold("fault", fault)
        .hold("lone_start", beats.isValidAtFirst() ? 1 : 0)
        .beats(beats);
  }

  private static Contract.Builder gate(int fault) {
    return Contract.of(Reference.exact(GearTrainRtlTest.datapath()))
        .signsFromFormats()
        .valid("in_valid", "out_valid")
        .ready("in_ready", "out_ready")
        .reset("rst")
        .hold("fault", fault)
        .beats(Beats.on("in_data[15:8]", "teeth").at(1, "turns", "in_data").mark("in_last", 1));
  }

  @Test
  @DesignUnderTest(sources = BUS, top = "gear_bus")
  void beatsWithBubblesAreCases(Bench.Builder bench) {
    Verdict verdict = bench.contract(bus(0, THREE).latency(2).build()).cases(70_000).check();

    assertTrue(verdict.cases() > 69_000, verdict::facts);
    assertTrue(verdict.cycles() > 3 * verdict.cases(), verdict::facts);
  }

  @Test
  @DesignUnderTest(sources = BUS, top = "gear_bus")
  void everyPacingAndManyResetsPass(Bench.Builder bench) {
    for (Pacing pacing :
        List.of(Pacing.backToBack(), Pacing.bubbles(0.99), Pacing.bursts(2, 5), Pacing.varied())) {
      bench.contract(bus(0, THREE).latency(2).build()).pacing(pacing).resets(0.02).cases(2_000);
      Verdict verdict = bench.check();
      assertTrue(verdict.cases() > 1_500, () -> pacing + " " + verdict.facts());
    }
  }

  @Test
  @DesignUnderTest(sources = BUS, top = "gear_bus")
  @Tag("thorough")
  void withoutResetsNoCaseIsLeftBehind(Bench.Builder bench) {
    bench.contract(bus(0, THREE.contiguous().latencyFromFirst()).latency(4).build());

    assertEquals(5_000, bench.resets(0).cases(5_000).check().cases());
  }

  @Test
  @DesignUnderTest(sources = BUS, top = "gear_bus")
  void aStartAtTheFirstBeatIsEnough(Bench.Builder bench) {
    bench.contract(bus(0, THREE.validAtFirst()).latency(4).build()).cases(20_000).check();
  }

  @Test
  @DesignUnderTest(sources = BUS, top = "gear_bus")
  void latencyIsMeasuredFromTheBeatItCountsFrom(Bench.Builder bench) {
    bench.contract(bus(0, THREE).build());
    assertEquals(2, bench.measureLatency(50).least());
    bench.contract(bus(0, THREE.validAtFirst()).latency(2).build());
    assertEquals(4, bench.measureLatency(50).most());
  }

  @ParameterizedTest(name = "fault {0} of the bus: {1}")
  @CsvSource({
    "1, VALUE_WRONG",
    "2, VALID_MISSING",
    "3, VALID_WITHOUT_CASE",
    "4, VALID_WITHOUT_CASE",
    "5, LATE",
    "6, VALUE_WRONG",
    "7, VALUE_WRONG"
  })
  @DesignUnderTest(sources = BUS, top = "gear_bus")
  @Tag("thorough")
  void faultsOfTheBusAreCaught(int fault, Kind kind, Bench.Builder bench) {
    bench.contract(bus(fault, THREE).latency(2).build()).cases(20_000).initialStates(0);

    assertEquals(kind, bench.run().first().orElseThrow().kind());
  }

  @Test
  @DesignUnderTest(sources = BUS, top = "gear_bus")
  @Tag("thorough")
  void evidenceShowsTheCaseAtItsBeats(Bench.Builder bench) {
    Verdict verdict = bench.contract(bus(6, THREE).latency(2).build()).cases(20_000).run();

    assertEquals(
        List.of("in_data_beat0", "in_data_beat1", "in_data_beat2"),
        verdict.findings().layout().inputPorts());
    Mismatch mismatch = verdict.first().orElseThrow();
    List<Row> beats =
        verdict.rows().stream().filter(row -> row.caseIn() == mismatch.caseNumber()).toList();
    assertEquals(1, beats.size(), "a case is offered with its last beat");
    assertTrue(verdict.facts().contains("teeth = 0x"), verdict.facts());
  }

  @Test
  @DesignUnderTest(sources = GATE, top = "gear_gate")
  void beatsWaitForReady(Bench.Builder bench) {
    Verdict verdict = bench.contract(gate(0).latency(9).build()).cases(20_000).check();
    assertTrue(verdict.cases() > 19_000, verdict::facts);
    bench.contract(gate(0).build());
    assertEquals(9, bench.measureLatency(50).most());
  }

  @Test
  @DesignUnderTest(sources = GATE, top = "gear_gate")
  void casesCutByResetsBetweenWaitsAreGivenUp(Bench.Builder bench) {
    bench.contract(gate(0).latency(9).build()).resets(0.02).cases(5_000);
    Verdict verdict = bench.check();

    assertTrue(verdict.cases() < 4_900, verdict::facts);
    assertTrue(verdict.cases() > 3_000, verdict::facts);
  }

  @ParameterizedTest(name = "fault {0} of the gate")
  @CsvSource({"1", "2", "3", "4", "5"})
  @DesignUnderTest(sources = GATE, top = "gear_gate")
  @Tag("thorough")
  void faultsOfTheGateAreCaught(int fault, Bench.Builder bench) {
    bench.contract(gate(fault).latency(9).build()).cases(20_000);
    Verdict verdict = bench.run();

    assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome(), verdict::facts);
  }

  /** A model made anew at resets, though nothing is remembered: cases come to it as taken. */
  private static Contract remembering(Contract.Builder contract) {
    return contract
        .build()
        .withReference(
            Reference.stateful(
                "gear train",
                GearTrain.REFERENCE.inputs(),
                GearTrain.REFERENCE.outputs(),
                () ->
                    (in, out) -> {
                      out[0] = in[0] * in[1] + in[2];
                      out[1] = out[0] > 0 ? 1 : 0;
                    }));
  }

  @Test
  @DesignUnderTest(sources = BUS, top = "gear_bus")
  void aReferenceWithStateIsGivenWholeCases(Bench.Builder bench) {
    bench.contract(remembering(bus(0, THREE).latency(2)));

    bench.resets(0.02).cases(10_000).check();
  }

  @Test
  @DesignUnderTest(sources = GATE, top = "gear_gate")
  void aReferenceWithStateIsNotGivenCasesThatAResetCuts(Bench.Builder bench) {
    bench.contract(remembering(gate(0).latency(9)));

    bench.resets(0.02).cases(10_000).check();
  }
}
