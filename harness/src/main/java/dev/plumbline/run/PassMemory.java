package dev.plumbline.run;

import dev.plumbline.toolchain.Digest;
import dev.plumbline.verdict.Checked;
import dev.plumbline.verdict.Findings;
import dev.plumbline.verdict.Passes;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import java.io.File;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Supplier;
import java.util.regex.Pattern;

/**
 * What a recorder remembers of a bench: whether it passed before on the same RTL, tool chain,
 * compiled code, contract, stimulus, seed and number of cases.
 *
 * <p>Which of several functions of one class a bench was given, its data does not tell. So the key
 * has the place in the test that asks, and where one place asks for the same again, as a loop does,
 * nothing is left out.
 */
public final class PassMemory {
  /** Properties that say how tests are run; any other one may be read by a model. */
  private static final Pattern NOT_OF_MODELS =
      Pattern.compile(
          "(java|jdk|sun|os|user|file|line|path|native|std(in|out|err)|awt|http|https|ftp|socksNon"
              + "|surefire|failsafe|maven|junit|plumbline|jna|jnidispatch|style|idea|eclipse|gopherProxySet)\\b.*"
              + "|test|basedir|localRepository|failIfNo.*|.*\\.skip|skip.*");

  private static final Map<String, Integer> ASKED = new ConcurrentHashMap<>(); // times by key

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
    // Where a waveform is wanted whatever the verdict, it has to run.
    if (passes.isEmpty() || plan.waveform().isPresent()) {
      return new PassMemory(null, plan, "");
    }
    try {
      String key =
          new Digest()
              .add(code())
              .add(String.join("\n", properties()))
              .add(String.join("\n", place()))
              .add(Long.toString(plan.cases()))
              .add(Long.toString(plan.origin().seed()))
              .add(Integer.toString(plan.initialStates()))
              .add(Double.toString(plan.mostOpen()))
              .add(plan.origin().contentHash())
              .add(Fingerprint.of(data))
              .hex();
      if (ASKED.merge(plan.name() + " " + key, 1, Integer::sum) > 1) {
        passes.get().forget(plan.name(), key);
        System.out.println(
            plan.name() + ": runs every time, since one place asks for several that look the same");
        return new PassMemory(null, plan, "");
      }
      return new PassMemory(passes.get(), plan, key);
    } catch (Fingerprint.UnknownException e) {
      System.out.println(plan.name() + ": runs every time, since it holds " + e.what());
      return new PassMemory(null, plan, "");
    }
  }

  /** As in a JVM that was never asked. */
  static void startAnew() {
    ASKED.clear();
  }

  /** All code that this JVM may load, tests and models among it. */
  private static synchronized String code() {
    if (code.isEmpty()) {
      Digest digest = new Digest().add(Runtime.version().toString());
      for (String place : places()) {
        if (!place.isEmpty() && Files.exists(Path.of(place))) {
          digest.addTree(Path.of(place));
        }
      }
      code = digest.hex();
    }
    return code;
  }

  /** Class path and module path, and what Surefire puts over a module of theirs: its tests. */
  private static List<String> places() {
    String path =
        System.getProperty("surefire.test.class.path", System.getProperty("java.class.path"));
    String modules = System.getProperty("jdk.module.path", "");
    List<String> places = new ArrayList<>(List.of(path.split(File.pathSeparator, -1)));
    places.addAll(List.of(modules.split(File.pathSeparator, -1)));
    for (String argument : ManagementFactory.getRuntimeMXBean().getInputArguments()) {
      if (argument.startsWith("--patch-module=")) {
        String patches = argument.replaceFirst("--patch-module=[^=]*=", "");
        places.addAll(List.of(patches.split(File.pathSeparator, -1)));
      }
    }
    return places;
  }

  /** What a model may read that no object of the bench holds. */
  private static List<String> properties() {
    return System.getProperties().stringPropertyNames().stream()
        .filter(name -> !NOT_OF_MODELS.matcher(name).matches())
        .map(name -> name + "=" + System.getProperty(name))
        .sorted()
        .toList();
  }

  /** Who asks, down to the test: methods, and the instruction at which each stands. */
  private static List<String> place() {
    return StackWalker.getInstance()
        .walk(
            frames ->
                frames
                    .takeWhile(frame -> !frame.getClassName().startsWith("org.junit."))
                    .filter(frame -> !frame.getClassName().matches("(java|jdk|sun)\\..*"))
                    .map(
                        frame ->
                            frame.getClassName()
                                + " "
                                + frame.getMethodName()
                                + " "
                                + frame.getByteCodeIndex())
                    .toList());
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
    if (verdict.isPass() && ASKED.getOrDefault(plan.name() + " " + key, 1) == 1) {
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
