package dev.plumbline.samples;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.Batch;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.verdict.Recorder;
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
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The small share of the exhaustive sweeps that every gate runs. */
class SweepTest {
  private static final Format WHOLE = Format.signed(17, 0);
  private static final SampleBench ROOTS = SampleBenches.sharpest("square_root", WHOLE);
  private static final long RANGE = 1 << 13;

  @TempDir private Path folder;

  /** All 2^17 radicands of 17 bits, in sixteen ranges. */
  static Sweep roots() {
    return new Sweep(ROOTS, RANGE);
  }

  @Test
  void sweepThatIsKilledGoesOnWithoutRepeatingARange() throws IOException {
    Path file = folder.resolve("ledger.csv");
    kill(file, 5, true);
    kill(file, 9, false); // the ninth holds, but nobody knows
    Files.writeString(folder.resolve(".ledger.csv1.part"), "key,fir"); // torn while written aside

    Sweep sweep = roots();
    SweepLedger ledger = new SweepLedger(file, sweep.key());
    assertEquals(8, ledger.count());
    List<Integer> ran = new ArrayList<>();
    Verdict verdict =
        sweep.run(ledger, sweep.ranges(), 1, Recorder.none(), ran::add).orElseThrow().orFail();

    assertEquals(List.of(1, 9, 5, 13, 3, 11, 7, 15), ran); // the odd ones: even ones were done
    assertEquals(1 << 17, verdict.cases());
    assertEquals(16, new SweepLedger(file, sweep.key()).count());
    assertTrue(sweep.run(ledger, 16, 1, Recorder.none(), ran::add).isEmpty(), "nothing is left");
  }

  private static void kill(Path ledger, int ranges, boolean noted) {
    Command.Outcome outcome =
        Command.run(
            Path.of("").toAbsolutePath(), // where the RTL is found
            List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "--enable-native-access=ALL-UNNAMED",
                "-XX:TieredStopAtLevel=1",
                "-cp",
                System.getProperty("java.class.path"),
                KilledSweep.class.getName(),
                ledger.toString(),
                Integer.toString(ranges),
                Boolean.toString(noted)));
    assertEquals(KilledSweep.DIED, outcome.status(), outcome.output());
  }

  @Test
  void changeOfAnythingStartsAnew() {
    Path file = folder.resolve("ledger.csv");
    new SweepLedger(file, roots().key()).finish(3);

    assertEquals(1, new SweepLedger(file, roots().key()).count());
    assertEquals(0, new SweepLedger(file, new Sweep(ROOTS, 2 * RANGE).key()).count());
    Sweep wider = new Sweep(SampleBenches.sharpest("square_root"), 1 << 20);
    assertEquals(0, new SweepLedger(file, wider.key()).count());
  }

  @Test
  void oneWrongCodeOfAllIsFoundAndItsRangeIsNotFinished() {
    // Floor of the root, but for one code: whatever is compared in its place, this is a mismatch.
    Reference reference = ROOTS.contract().reference();
    Reference but =
        Reference.of(
            "root but one",
            reference.inputs(),
            reference.outputs(),
            (in, out) -> {
              out[0] = in[0] < 0 ? 1 : 0;
              out[1] = (long) Math.sqrt(Math.max(0.0, (double) in[0])) + (in[0] == 54_321 ? 1 : 0);
            });
    Sweep sweep = new Sweep(with(but), RANGE);
    SweepLedger ledger = new SweepLedger(folder.resolve("ledger.csv"), sweep.key());
    List<Verdict> recorded = new ArrayList<>();
    Recorder recorder =
        verdict -> {
          recorded.add(verdict);
          return Optional.empty();
        };
    Verdict verdict = sweep.run(ledger, 16, 1, recorder, range -> {}).orElseThrow();

    assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome());
    assertEquals(1, verdict.mismatches());
    assertEquals(54_321 % RANGE, verdict.first().orElseThrow().caseNumber());
    assertEquals("square_root s17.0 exact sweep from 0xc000", verdict.bench());
    assertEquals(List.of(verdict), recorded, "evidence is kept");
    assertFalse(ledger.isFinished((int) (54_321 / RANGE)));
  }

  private static SampleBench with(Reference reference) {
    Contract contract =
        Contract.of(reference).valid("in_valid", "out_valid").reset("rst").latency(10).build();
    return new SampleBench(ROOTS.name(), ROOTS.unit(), ROOTS.rtl(), contract, ROOTS.stimulus());
  }

  @Test
  void shareOfTheSweepOfReciprocalHolds() {
    Sweep sweep = new Sweep(SampleBenches.sharpest("reciprocal"), 1 << 16);
    SweepLedger ledger = new SweepLedger(folder.resolve("ledger.csv"), sweep.key());
    Verdict verdict = sweep.run(ledger, 16, 1, Recorder.none(), range -> {}).orElseThrow().orFail();
    assertEquals(1 << 20, verdict.cases());
    assertEquals("reciprocal s16.16 exact sweep", verdict.bench());
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
  @DisplayName("B4: roots of all codes of 16 bits sum up to 11152000, of 8 bits to 2600")
  void rootsOfAllCodesSumUp() {
    // OEIS A000196: each r occurs 2r + 1 times, whatever the insides of the RTL.
    long sum = 0;
    int[] times = new int[256];
    try (Dut dut = CompiledDesign.of(ROOTS.rtl()).open()) {
      int rows = 1 << 16;
      Batch batch = dut.batch(rows + 10); // ten cycles of latency
      dut.set("rst", 1);
      dut.cycle();
      dut.set("rst", 0);
      for (int row = 0; row < rows; row++) {
        batch.column("in_x")[row] = row;
        batch.column("in_valid")[row] = 1;
      }
      dut.run(batch, rows + 10);
      for (int x = 0; x < rows; x++) {
        int root = (int) batch.column("out_root")[x + 10];
        times[root]++;
        sum += root;
        assertTrue(x != 255 || sum == 2600, "the first 256");
      }
    }
    assertEquals(11_152_000, sum);
    for (int root = 0; root < times.length; root++) {
      assertEquals(2 * root + 1, times[root], "how often " + root);
    }
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
