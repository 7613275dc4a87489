package dev.plumbline.regression;

import dev.plumbline.cosim.DutException;
import dev.plumbline.regression.Regression.Runner;
import dev.plumbline.regression.Regression.Settings;
import dev.plumbline.report.RunReport;
import dev.plumbline.verdict.Checked;
import dev.plumbline.verdict.Findings;
import dev.plumbline.verdict.Origin;
import dev.plumbline.verdict.Passes;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Path;
import java.util.Optional;
import java.util.function.BiFunction;

/** One bench's turn: it ends with a verdict that is recorded once, whatever is thrown. */
final class Turn implements Recorder {
  private final String name;
  private final RunReport run;
  private final Progress progress;
  private Verdict recorded; // null until the bench records its own

  Turn(String name, RunReport run, Progress progress) {
    this.name = name;
    this.run = run;
    this.progress = progress;
  }

  Verdict run(Runner runner, BiFunction<String, Recorder, Settings> settings) {
    Settings with = settings.apply(name, this);
    try {
      Verdict verdict = runner.run(with);
      if (recorded == null) {
        record(verdict);
        return recorded;
      }
      return verdict;
    } catch (RuntimeException | Error e) {
      if (Thread.currentThread().isInterrupted()) {
        throw e;
      }
      if (recorded == null || recorded.isPass()) {
        record(thrown(e, with));
      }
      return recorded;
    }
  }

  @Override
  public void checked(long cases, long of) {
    progress.checked(cases, of);
  }

  @Override
  public Optional<Passes> passes() {
    return run.passes();
  }

  @Override
  public Optional<Path> record(Verdict verdict) {
    Optional<Path> folder = run.record(verdict);
    recorded = folder.map(verdict::withEvidenceFolder).orElse(verdict);
    return folder;
  }

  /** Nothing was judged, unless it was the DUT that ended. */
  private Verdict thrown(Throwable thrown, Settings with) {
    boolean ended = thrown instanceof DutException;
    String message = thrown.getMessage() == null ? thrown.toString() : thrown.getMessage();
    return Verdict.of(
        name,
        ended ? Verdict.Outcome.DUT_ENDED : Verdict.Outcome.NOTHING_CHECKED,
        ended ? message : "it could not run: " + message,
        Checked.NOTHING,
        new Origin(with.seed(), "", with.repeat()),
        Findings.NOTHING);
  }
}
