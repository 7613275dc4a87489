package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.check.Striker.Fault;
import dev.plumbline.contract.Contract;
import dev.plumbline.contract.ContractException;
import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.report.RunReport;
import dev.plumbline.run.ContractSubject;
import dev.plumbline.stimulus.Generator;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.Stimulus;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Mismatch.Kind;
import dev.plumbline.verdict.Row;
import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.math.BigInteger;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicLong;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** References with state, from bench to verdict, on a bell and a gear train in software. */
class StatefulBenchTest {
  @TempDir private Path folder;

  @Test
  void aRightDesignPassesUnderEveryPacing() {
    List<Pacing> all =
        List.of(Pacing.backToBack(), Pacing.bubbles(0.7), Pacing.bursts(4, 9), Pacing.varied());
    for (Pacing offers : all) {
      for (Pacing ready : all) {
        for (double resets : new double[] {0, 0.01}) {
          Verdict verdict =
              Striker.bench(Fault.NONE)
                  .pacing(offers)
                  .ready(ready)
                  .resets(resets)
                  .cases(1_500)
                  .run();
          assertTrue(verdict.isPass(), () -> offers + ", " + ready + " " + verdict.facts());
        }
      }
    }
  }

  @Test
  void everyResultOfEveryCaseIsChecked() {
    Stimulus threes =
        Stimulus.standard().with("strikes", Generator.drawn(stream -> 3L * stream.below(2)));
    Verdict verdict = Striker.bench(Fault.NONE).stimulus(threes).resets(0).cases(3_000).check();

    assertEquals(0, verdict.cases() % 3);
    assertTrue(verdict.cases() > 4_000 && verdict.cases() < 5_000, verdict::facts);
  }

  @Test
  void plantedFaultsAreCalledByTheirNames() {
    first(Striker.bench(Fault.NUMBER_OUTLIVES_A_RESET).resets(0.01), Kind.VALUE_WRONG);
    first(Striker.bench(Fault.STRIKES_OUTLIVE_A_RESET).resets(0.01), Kind.VALID_WITHOUT_CASE);
    first(endsTooEarly(), Kind.VALUE_WRONG);
    first(Striker.bench(Fault.A_STRIKE_TOO_MANY).resets(0), Kind.VALUE_WRONG);
    first(inAStream(Fault.LOSES_A_STRIKE_UNDER_A_STALL), Kind.RESULT_LOST);
    first(
        Striker.bench(Fault.TOO_EARLY).pacing(Pacing.bursts(1, 30)).ready(Pacing.backToBack()),
        Kind.EARLY);
  }

  private static Bench.Builder endsTooEarly() {
    return Striker.bench(Fault.END_TOO_EARLY)
        .stimulus(Stimulus.standard().with("force", Generator.drawn(s -> s.below(100))));
  }

  private static Bench.Builder inAStream(Fault fault) {
    return Striker.bench(fault).pacing(Pacing.backToBack()).ready(Pacing.bubbles(0.6)).resets(0);
  }

  @Test
  void aPauseWithinAPacketIsLateByItsCycles() {
    Mismatch late =
        first(
            Striker.bench(Fault.PAUSES_IN_A_PACKET).ready(Pacing.backToBack()).resets(0),
            Kind.LATE);

    assertEquals("right result, 2 cycles late", late.words());
  }

  @Test
  void theEndOfAPacketIsNamedWhereItIsWrong() {
    Verdict verdict = endsTooEarly().run();

    assertEquals("out_last", verdict.kept().get(0).signal(), verdict::facts);
  }

  @Test
  void evidenceReplaysTheStateFromTheStartOfItsSegment() {
    Verdict verdict =
        Striker.bench(Fault.FORCE_WRONG_LATE_IN_A_SEGMENT)
            .stimulus(Stimulus.standard().with("strikes", Generator.drawn(s -> 1 + s.below(3))))
            .resets(0.0005)
            .cases(ContractSubject.SEGMENT_CASES)
            .run();
    Mismatch mismatch = first(verdict, Kind.VALUE_WRONG);

    assertEquals("out_force", mismatch.signal());
    assertEquals(BigInteger.ONE, mismatch.difference().abs());
    assertEquals(39_999, mismatch.caseNumber());
    Row given =
        verdict.rows().stream().filter(r -> r.caseIn() == mismatch.caseNumber()).findFirst().get();
    assertEquals(given.inputs().get(1), mismatch.low(), "held to the force of its own case");
    verdict.rows().stream()
        .filter(row -> row.isDue() && row.caseOut() != mismatch.caseNumber())
        .forEach(row -> assertEquals(row.low(), row.outputs(), "the numbers are those of the run"));
  }

  @Test
  @Tag("thorough")
  void evidenceIsTheSameBytesForAnyNumberOfThreads() throws IOException {
    List<Path> folders = new ArrayList<>();
    for (int threads : new int[] {1, 2}) {
      RunReport run = RunReport.open(folder.resolve("r" + folders.size()), "night");
      Verdict verdict =
          Striker.bench(Fault.END_TOO_EARLY)
              .stimulus(
                  Stimulus.standard()
                      .with("force", Generator.drawn(s -> s.below(20_000) == 0 ? 77 : s.below(70))))
              .resets(0.002)
              .cases(2L * ContractSubject.SEGMENT_CASES)
              .threads(threads)
              .seed(3)
              .recorder(run)
              .run();
      assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome(), verdict::facts);
      folders.add(run.folder().resolve("striker"));
    }
    try (Stream<Path> files = Files.list(folders.get(0))) {
      for (Path file : files.toList()) {
        for (Path other : folders) {
          assertArrayEquals(
              Files.readAllBytes(file),
              Files.readAllBytes(other.resolve(file.getFileName())),
              () -> file + " and " + other);
        }
      }
    }
  }

  @Test
  void aFunctionThatRemembersIsRefused() {
    AtomicLong sum = new AtomicLong();
    Reference remembers =
        Reference.of(
            "angle since the start",
            GearTrain.REFERENCE.inputs(),
            GearTrain.REFERENCE.outputs(),
            (in, out) -> out[0] = sum.addAndGet(in[0]));
    Bench.Builder bench =
        GearTrain.bench(GearTrain.Fault.NONE)
            .contract(GearTrain.contract().build().withReference(remembers));
    String message = assertThrows(ContractException.class, bench::run).getMessage();

    assertTrue(
        message.contains("\"angle since the start\" gave two results for the same operands"));
    assertTrue(message.contains("Use Reference.stateful"), message);
  }

  @Test
  void modelsThatShareTheirStateAreRefused() {
    AtomicLong struck = new AtomicLong();
    Reference shares =
        Reference.statefulStream(
            "one bell",
            Striker.REFERENCE.inputs(),
            Striker.REFERENCE.outputs(),
            () -> (in, results) -> results.give(struck.getAndIncrement() & 0xFFFF, in[1], 1));
    Bench.Builder bench = Striker.bench(Fault.NONE);
    Bench.Builder sharing = bench.contract(bench.contract().withReference(shares));
    String message = assertThrows(ContractException.class, sharing::run).getMessage();

    assertTrue(message.startsWith("Reference \"one bell\" gave other results when"), message);
    assertTrue(message.endsWith("Make all its state inside the supplier."), message);
  }

  @Test
  void resultsThatDoNotFitAreRefused() {
    Bench.Builder bench = Striker.bench(Fault.NONE);
    String words =
        refused(bench, Reference.statefulStream("short", in(), out(), () -> (i, r) -> r.give(1)));
    assertTrue(words.contains("gave a result of 1 words; its outputs have 3."), words);
    long[] codes = new long[3];
    String range =
        refused(
            bench,
            Reference.statefulStream(
                "sure", in(), out(), () -> (i, r) -> r.giveBetween(codes, codes)));
    assertTrue(range.contains("is exact and gave a range"), range);
    Reference many =
        Reference.statefulStream(
            "peal",
            in(),
            out(),
            () ->
                (i, r) -> {
                  for (int n = 0; n < 100_000; n++) {
                    r.give(codes);
                  }
                });
    String most = refused(bench, many);
    assertTrue(most.contains("gave more than 262144 results for the cases"), most);
    ContractException noValid =
        assertThrows(ContractException.class, () -> Contract.of(many).latency(2).build());
    assertTrue(noValid.getMessage().contains("add valid(...)"), noValid.getMessage());
    ContractException latency =
        assertThrows(ContractException.class, () -> Striker.bench(Fault.NONE).measureLatency(20));
    assertTrue(latency.getMessage().contains("cannot be measured"), latency.getMessage());
  }

  private static List<Operand> in() {
    return Striker.REFERENCE.inputs();
  }

  private static List<Operand> out() {
    return Striker.REFERENCE.outputs();
  }

  private static String refused(Bench.Builder bench, Reference reference) {
    Bench.Builder other = bench.contract(bench.contract().withReference(reference));
    return assertThrows(ContractException.class, other::run).getMessage();
  }

  private static Mismatch first(Bench.Builder bench, Kind kind) {
    return first(bench.run(), kind);
  }

  private static Mismatch first(Verdict verdict, Kind kind) {
    assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome(), verdict::facts);
    assertEquals(kind, verdict.kept().get(0).kind(), verdict::facts);
    return verdict.kept().get(0);
  }
}
