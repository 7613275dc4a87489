package dev.plumbline.sweep;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.JavaFork;
import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.evidence.ReportException;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.verdict.Verdict;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class SweepTest {
  private static final RtlSource RTL = RtlSource.of(Path.of("src/test/rtl/checked/peg_count.sv"));
  private static final long RANGE = 1 << 13;
  private static final int ODD_ROW = 54_321;

  @TempDir private Path folder;

  /** All 2^17 rows of pegs, in sixteen ranges; what is set in a row is counted by the JDK. */
  static Sweep pegs() {
    return pegs(
        (in, out) -> {
          out[0] = Long.bitCount(in[0]);
        });
  }

  private static Sweep pegs(Reference.CaseFunction count) {
    Reference reference =
        Reference.of(
            "pegs",
            List.of(new Operand("pegs", Format.unsigned(17, 0))),
            List.of(new Operand("count", Format.unsigned(5, 0))),
            count);
    Contract contract =
        Contract.of(reference).valid("in_valid", "out_valid").reset("rst").latency(2).build();
    return Sweep.of(CompiledDesign.of(RTL), contract).named("peg_count").rangeCases(RANGE);
  }

  @Test
  @Tag("thorough")
  void sweepThatIsKilledGoesOnWithoutRepeatingARange() throws Exception {
    Path file = folder.resolve("ledger.csv");
    kill(file, 5, true);
    kill(file, 9, false); // the ninth holds, but nobody knows
    Files.writeString(folder.resolve(".ledger.csv1.part"), "key,fir"); // torn while written aside

    Sweep sweep = pegs();
    SweepLedger ledger = new SweepLedger(file, sweep.key());
    assertEquals(8, ledger.count());
    List<Integer> ran = new ArrayList<>();
    Verdict verdict = sweep.run(ledger, sweep.ranges(), ran::add).orElseThrow().orFail();

    assertEquals(List.of(1, 9, 5, 13, 3, 11, 7, 15), ran); // the odd ones: even ones were done
    assertEquals(1 << 17, verdict.cases());
    assertEquals(16, new SweepLedger(file, sweep.key()).count());
    assertTrue(sweep.run(ledger, 16, ran::add).isEmpty(), "nothing is left");
  }

  @ParameterizedTest
  @ValueSource(strings = {"k,,7", "k,x,7", "k,9,7", "k,-1,7", "k,0,99999999999", "k"})
  void aLedgerThatSomebodyChangedIsRefused(String row) throws IOException {
    Path file = folder.resolve("ledger.csv");
    Files.writeString(file, "key,first_range,last_range\r\n" + row + "\r\n");

    String message =
        assertThrows(ReportException.class, () -> new SweepLedger(file, "k")).getMessage();

    assertTrue(message.startsWith(file + ": The ranges from "), message);
    assertEquals(0, new SweepLedger(file, "another").count());
  }

  private static void kill(Path ledger, int ranges, boolean noted) throws Exception {
    try (JavaFork fork =
        new JavaFork(
            KilledSweep.class,
            List.of(),
            ledger.toString(),
            Integer.toString(ranges),
            Boolean.toString(noted))) {
      assertEquals(KilledSweep.DIED, fork.status());
    }
  }

  @Test
  void changeOfAnythingStartsAnew() {
    Path file = folder.resolve("ledger.csv");
    new SweepLedger(file, pegs().key()).finish(3);

    assertEquals(1, new SweepLedger(file, pegs().key()).count());
    for (Sweep other :
        List.of(
            pegs().rangeCases(2 * RANGE), pegs().named("other"), pegs().dependsOn(Test.class))) {
      assertEquals(0, new SweepLedger(file, other.key()).count());
    }
  }

  @Test
  @Tag("thorough")
  void changeOfADatapathStartsAnew() {
    assertEquals(sumKey(0), sumKey(0));
    assertNotEquals(sumKey(0), sumKey(1));
  }

  private static String sumKey(int more) {
    Datapath.Builder b = Datapath.named("sum");
    Format format = Format.unsigned(17, 0);
    b.output(
        "count",
        b.convert(
            "counted",
            b.add("sum", b.input("pegs", format), b.constant("more", format, more)),
            Format.unsigned(5, 0),
            Rounding.FLOOR,
            Overflow.WRAP));
    Contract contract = Contract.of(Reference.exact(b.build())).latency(2).build();
    return Sweep.of(CompiledDesign.of(RTL), contract).key();
  }

  private static Sweep faulty() {
    return pegs(
        (in, out) -> {
          out[0] = Long.bitCount(in[0]) + (in[0] == ODD_ROW ? 1L : 0L);
        });
  }

  @Test
  void oneWrongCodeOfAllIsFoundAndItsRangeIsNotFinished() {
    // Right but for one code: whatever is compared in its place, this is a mismatch.
    List<Verdict> recorded = new ArrayList<>();
    Sweep sweep =
        faulty()
            .recorder(
                verdict -> {
                  recorded.add(verdict);
                  return Optional.empty();
                });
    SweepLedger ledger = new SweepLedger(folder.resolve("ledger.csv"), sweep.key());
    Verdict verdict = sweep.run(ledger, 16, range -> {}).orElseThrow();

    assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome());
    assertEquals(1, verdict.mismatches());
    assertEquals(ODD_ROW % RANGE, verdict.first().orElseThrow().caseNumber());
    assertEquals("peg_count sweep from 0xc000", verdict.bench());
    assertEquals(List.of(verdict), recorded, "evidence is kept");
    assertFalse(ledger.isFinished((int) (ODD_ROW / RANGE)));
  }

  @Test
  @Tag("thorough")
  void shareOfASweepIsShownAndRunOnce() {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    PrintStream out = new PrintStream(bytes, true, StandardCharsets.UTF_8);
    Verdict verdict = pegs().progress(out, false).run(folder, 4 * RANGE + 1).orElseThrow();

    assertEquals(4 * RANGE, verdict.cases());
    assertEquals("peg_count sweep", verdict.bench());
    assertTrue(pegs().run(folder, 4 * RANGE).isEmpty());
    assertEquals(8 * RANGE, pegs().run(folder, 8 * RANGE).orElseThrow().cases());
    assertTrue(Files.exists(folder.resolve("peg_count-sweep.csv")));
    List<String> lines = bytes.toString(StandardCharsets.UTF_8).lines().toList();
    assertTrue(lines.get(0).contains("   0.00 %"), lines.get(0));
    assertTrue(lines.get(1).contains(" 100.00 %"), lines.get(1));
  }

  @Test
  void rangesThatDoNotDivideAllCasesAreRefused() {
    for (long count : new long[] {0, 3, 1 << 18}) {
      assertThrows(IllegalArgumentException.class, () -> pegs().rangeCases(count));
    }
  }

  @Test
  void turnsAreSpreadEvenlyAndVisitEachRangeOnce() {
    BitSet seen = new BitSet();
    BitSet sixteenths = new BitSet();
    for (int turn = 0; turn < 1024; turn++) {
      int range = Sweep.rangeOfTurn(turn, 1024);
      seen.set(range);
      if (turn < 16) {
        sixteenths.set(range / 64);
      }
    }
    assertEquals(1024, seen.nextClearBit(0));
    assertEquals(16, sixteenths.nextClearBit(0));
    assertEquals(0, Sweep.rangeOfTurn(0, 1));
  }

  @Test
  void progressTellsShareRateAndTimeLeft() {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    long[] now = {0};
    SweepProgress progress =
        new SweepProgress(
            "roots",
            8_000_000,
            2_000_000,
            true,
            new PrintStream(bytes, true, StandardCharsets.UTF_8),
            () -> now[0]);
    progress.done(2_000_000);
    now[0] = 100_000_000;
    progress.done(2_000_001); // too soon to draw again
    now[0] = 2_000_000_000;
    progress.done(4_000_000);
    now[0] = 6_000_000_000L;
    progress.done(8_000_000);
    assertEquals(
        List.of(
            "",
            "roots [#######.......................]  25.00 %  0.00 M cases/s  ? left ",
            "roots [###############...............]  50.00 %  1.00 M cases/s  0:00:04 left ",
            "roots [##############################] 100.00 %  1.00 M cases/s  0:00:00 left "
                + System.lineSeparator()),
        List.of(bytes.toString(StandardCharsets.UTF_8).split("\r")));
  }
}
