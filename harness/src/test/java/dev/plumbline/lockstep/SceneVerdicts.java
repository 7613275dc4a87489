package dev.plumbline.lockstep;

import dev.plumbline.verdict.Recorder;

/** Verdicts of a scene executor in software, for the tests of reports. */
public final class SceneVerdicts {
  private SceneVerdicts() {}

  /** Records a mismatch with its smallest case. */
  public static void wrongValueTo(Recorder recorder, String name) {
    SoftExecutor.bench(SoftExecutor.Fault.DROPS_THE_LAST_SPAN)
        .named(name)
        .cases(200)
        .recorder(recorder)
        .run();
  }
}
