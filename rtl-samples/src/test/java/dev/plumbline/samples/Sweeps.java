package dev.plumbline.samples;

import dev.plumbline.report.Run;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;

/**
 * The exhaustive sweeps, {@code mvn -q test -Psweep}: every code of square_root and of reciprocal,
 * bit for bit. A sweep that was killed goes on where it was; finished ranges are kept in {@code
 * reports/sweeps}, and a change of RTL, models or harness starts anew.
 *
 * <p>Properties: {@code plumbline.sweeps}, the units; {@code plumbline.cases}, how much of each
 * sweep is wanted, all unless set, spread evenly over the codes; {@code plumbline.threads}. The
 * status is 0 when all of it holds.
 */
final class Sweeps {
  private static final long RANGE = 1 << 22;

  private Sweeps() {}

  /** Runs them. */
  public static void main(String[] arguments) {
    boolean passed = true;
    List<String> units =
        List.of(System.getProperty("plumbline.sweeps", "square_root,reciprocal").split(","));
    for (String unit : units) {
      passed &= run(new Sweep(SampleBenches.sharpest(unit.strip()), RANGE));
    }
    System.out.println(Run.current().consoleTable());
    System.exit(passed ? 0 : 1);
  }

  private static boolean run(Sweep sweep) {
    Path folder = Run.current().folder().resolveSibling("sweeps");
    SweepLedger ledger =
        new SweepLedger(folder.resolve(sweep.name().replace(' ', '-') + ".csv"), sweep.key());
    long wanted = Long.getLong("plumbline.cases", Long.MAX_VALUE);
    int turns = (int) Math.max(1, Math.min(sweep.ranges(), wanted / RANGE));
    int missing = sweep.missing(ledger, turns);
    if (missing == 0) {
      System.out.println(sweep.name() + ": all that is wanted is finished, see " + folder);
      return true;
    }
    long[] done = {turns - missing};
    SweepProgress progress =
        new SweepProgress(
            sweep.name(),
            turns * RANGE,
            done[0] * RANGE,
            isTerminal(),
            System.out,
            System::nanoTime);
    progress.done(done[0] * RANGE);
    Optional<Verdict> verdict =
        sweep.run(
            ledger,
            turns,
            Integer.getInteger("plumbline.threads", 1),
            Run.current(),
            range -> progress.done(++done[0] * RANGE));
    verdict.filter(found -> !found.isPass()).ifPresent(Sweeps::tell);
    return verdict.map(Verdict::isPass).orElse(true);
  }

  private static void tell(Verdict verdict) {
    System.out.println(System.lineSeparator() + verdict.facts());
  }

  /** Maven stands between this process and the terminal, so the environment has to tell. */
  private static boolean isTerminal() {
    String kind = System.getenv("TERM");
    return kind != null && !kind.equals("dumb") && System.getenv("CI") == null;
  }
}
