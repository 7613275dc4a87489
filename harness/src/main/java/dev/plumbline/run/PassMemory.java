package dev.plumbline.run;

import dev.plumbline.toolchain.Digest;
import dev.plumbline.verdict.Checked;
import dev.plumbline.verdict.Findings;
import dev.plumbline.verdict.Passes;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import java.io.File;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * What a recorder remembers of a bench: whether it passed before on the same RTL, tool chain,
 * compiled code, contract, stimulus, seed and number of cases.
 */
public final class PassMemory {
  private static String code = ""; // digest of all code; empty until somebody asks

  private final Passes passes; // null where nothing is remembered
  private final Plan plan;
  private final String key;

  private PassMemory(Passes passes, Plan plan, String key) {
    this.passes = passes;
    this.plan = plan;
    this.key = key;
  }

  /**
   * The memory of a bench; none where its recorder has none, or where it cannot be told what the
   * bench depends on.
   *
   * @param recorder who remembers
   * @param plan of the bench
   * @param data all else that the bench is made of
   */
  public static PassMemory of(Recorder recorder, Plan plan, Object... data) {
    Optional<Passes> passes = recorder.passes();
    if (passes.isEmpty()) {
      return new PassMemory(null, plan, "");
    }
    try {
      String key =
          new Digest()
              .add(code())
              .add(Long.toString(plan.cases()))
              .add(Long.toString(plan.origin().seed()))
              .add(Integer.toString(plan.initialStates()))
              .add(Double.toString(plan.mostOpen()))
              .add(plan.origin().contentHash())
              .add(Fingerprint.of(data))
              .hex();
      return new PassMemory(passes.get(), plan, key);
    } catch (Fingerprint.UnknownException e) {
      System.out.println(plan.name() + ": runs every time, since it holds " + e.what());
      return new PassMemory(null, plan, "");
    }
  }

  /** All code that this JVM may load, tests and models among it. */
  private static synchronized String code() {
    if (code.isEmpty()) {
      String path =
          System.getProperty("surefire.test.class.path", System.getProperty("java.class.path"));
      Digest digest = new Digest().add(Runtime.version().toString());
      for (String place : path.split(File.pathSeparator, -1)) {
        if (!place.isEmpty() && Files.exists(Path.of(place))) {
          digest.addTree(Path.of(place));
        }
      }
      code = digest.hex();
    }
    return code;
  }

  /**
   * Runs the bench, and remembers whether it passed; or records that it need not run.
   *
   * @param recorder who keeps its verdict
   * @param run runs it and has its verdict recorded
   * @return what was found, now or then
   */
  public Verdict run(Recorder recorder, Supplier<Verdict> run) {
    if (passes == null) {
      return run.get();
    }
    Optional<Passes.Pass> before = passes.find(plan.name(), key);
    if (before.isPresent()) {
      return recorder.keep(verdict(before.get()), null);
    }
    Verdict verdict;
    try {
      verdict = run.get();
    } catch (RuntimeException | Error e) {
      passes.forget(plan.name(), key);
      throw e;
    }
    if (verdict.isPass()) {
      passes.add(verdict, key);
    } else {
      passes.forget(plan.name(), key);
    }
    return verdict;
  }

  private Verdict verdict(Passes.Pass pass) {
    return Verdict.of(
        plan.name(),
        Verdict.Outcome.UNCHANGED,
        String.format(
            Locale.ROOT,
            "passed on %s in run %s, and nothing that bears on it has changed since",
            pass.date(),
            pass.run()),
        Checked.of(pass.cases(), pass.cycles(), 0),
        plan.origin(),
        Findings.NOTHING);
  }
}
