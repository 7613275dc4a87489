package dev.plumbline.run;

import dev.plumbline.drive.Segment;
import dev.plumbline.verdict.KeptCase;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;

/**
 * The cases that a bench runs before its stimulus, or one that it runs instead.
 *
 * @param byFile the cases, by the file that keeps each
 * @param alone whether the first of them is all that is run
 */
public record KeptCases(Map<String, KeptCase> byFile, boolean alone) {
  /**
   * A case as a bench plays it.
   *
   * @param subject plays it
   * @param segment of it
   */
  public record Replay(Subject subject, Segment segment) {}

  /**
   * Runs a bench; what passed before on the same is not run again, unless it is one case alone.
   *
   * @param replay how a case is played
   * @return the verdict, recorded: the first that is no pass, or that of the whole
   * @throws RuntimeException what the DUT threw, when it ended by itself
   */
  public Verdict run(
      Plan plan, Subject subject, Recorder recorder, Function<KeptCase, Replay> replay) {
    return alone
        ? runs(plan, subject, recorder, replay)
        : PassMemory.of(recorder, plan, subject, byFile)
            .run(recorder, () -> runs(plan, subject, recorder, replay));
  }

  private Verdict runs(
      Plan plan, Subject subject, Recorder recorder, Function<KeptCase, Replay> replay) {
    for (Map.Entry<String, KeptCase> kept : byFile.entrySet()) {
      Replay played = replay.apply(kept.getValue());
      Verdict verdict =
          new BenchRun(plan, played.subject())
              .replay(played.segment(), kept.getKey(), alone ? recorder : unlessPass(recorder));
      if (alone || !verdict.isPass()) {
        return verdict;
      }
    }
    return new BenchRun(plan, subject).run(recorder);
  }

  /** A case that passes goes without a row of its own. */
  private static Recorder unlessPass(Recorder recorder) {
    return verdict -> verdict.isPass() ? Optional.empty() : recorder.record(verdict);
  }
}
