package dev.plumbline.samples;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.lockstep.LockstepBench;
import dev.plumbline.report.Run;
import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * The main job: every sample bench, its verdicts as a table on the console, its files under {@code
 * reports/}.
 *
 * <p>Properties: {@code plumbline.cases} a bench (a million unless set; of rays through the scene
 * executor a hundredth, of pixels of a demo scene a quarter of that), {@code plumbline.seed},
 * {@code plumbline.only}, part of the names of the benches to run, and {@code plumbline.fault}, a
 * name from the catalogue: that fault is planted in a copy of the RTL, and the unit's exact bench
 * has to find it. The status is 0 when all is as it should be.
 */
final class Regression {
  private static final long CASES = Long.getLong("plumbline.cases", 1_000_000);

  /** Fewer rays may miss a coverage point. */
  private static final long SITUATIONS_FROM = 10_000;

  private static final long SEED = Long.getLong("plumbline.seed", 1);

  private static final String NAMED = System.getProperty("plumbline.only", "");

  private Regression() {}

  /** Runs it. */
  public static void main(String[] arguments) throws IOException {
    String fault = System.getProperty("plumbline.fault", "");
    System.exit(fault.isEmpty() ? all() : planted(find(fault)));
  }

  private static int all() {
    List<SampleBench> benches = named(SampleBenches.all());
    List<SampleExecutor> executors = named(SampleExecutor.all());
    List<SampleScene> scenes = named(SampleScene.all());
    if (benches.isEmpty() && executors.isEmpty() && scenes.isEmpty()) {
      throw new IllegalArgumentException(
          "No bench has \""
              + NAMED
              + "\" in its name; there are "
              + Stream.of(SampleBenches.all(), SampleExecutor.all(), SampleScene.all())
                  .flatMap(List::stream)
                  .map(Object::toString)
                  .collect(Collectors.joining(", "))
              + ".");
    }
    boolean passed = true;
    for (SampleBench bench : benches) {
      passed &= told(run(bench, CompiledDesign.of(bench.rtl())));
    }
    for (SampleExecutor executor : executors) {
      passed &=
          told(lockstep(executor.bench(CompiledDesign.of(executor.rtlIn(SampleRtl.FOLDER)))).run());
    }
    for (SampleScene scene : scenes) {
      LockstepBench.Builder bench = scene.bench(SampleScene.model(), Math.max(1, CASES / 400));
      passed &= told(bench.seed(SEED).recorder(Run.current()).run());
    }
    System.out.println(Run.current().consoleTable());
    return passed ? 0 : 1;
  }

  private static <T> List<T> named(List<T> benches) {
    return benches.stream().filter(bench -> bench.toString().contains(NAMED)).toList();
  }

  /** Prints what is wrong; gives whether nothing is. */
  private static boolean told(Verdict verdict) {
    if (!verdict.isPass()) {
      System.out.println(verdict.facts() + System.lineSeparator());
    }
    return verdict.isPass();
  }

  private static int planted(Fault fault) throws IOException {
    Path copy = Files.createTempDirectory("plumbline-fault");
    try {
      System.out.println("Planted in a copy of " + fault.file() + ": " + fault.what());
      System.out.println("  instead of  " + fault.original().strip());
      System.out.println("  stands      " + fault.replacement().strip());
      System.out.println();
      Verdict verdict = verdictOn(fault, copy);
      System.out.println(verdict.facts());
      System.out.println();
      System.out.println(Run.current().consoleTable());
      boolean caught = verdict.outcome() == Verdict.Outcome.MISMATCH;
      System.out.println(caught ? "Caught, as it has to be." : "NOT CAUGHT.");
      return caught ? 0 : 1;
    } finally {
      delete(copy);
    }
  }

  private static Verdict verdictOn(Fault fault, Path copy) throws IOException {
    if (SceneFaults.all().contains(fault)) {
      return lockstep(SceneFaultsTest.planted(fault, copy)).run();
    }
    Faults.plantedCopy(fault, copy);
    SampleBench bench = SampleBenches.sharpest(fault.unit());
    return run(bench, CompiledDesign.of(bench.rtlIn(copy), PlantedFaultsTest.WITHOUT_ASSERTIONS));
  }

  /** A ray takes about a hundred cycles, so a hundredth of the cases takes as many. */
  private static LockstepBench.Builder lockstep(LockstepBench.Builder bench) {
    long rays = Math.max(1, CASES / 100);
    if (rays < SITUATIONS_FROM) {
      bench.withoutCoverage();
    }
    return bench.cases(rays).seed(SEED).recorder(Run.current());
  }

  private static Verdict run(SampleBench bench, CompiledDesign model) {
    return bench.of(model).cases(CASES).seed(SEED).recorder(Run.current()).run();
  }

  private static Fault find(String name) {
    List<Fault> faults = new ArrayList<>(Faults.all());
    faults.addAll(SceneFaultsTest.everyFault());
    Optional<Fault> found = faults.stream().filter(fault -> fault.name().equals(name)).findFirst();
    return found.orElseThrow(
        () ->
            new IllegalArgumentException(
                "There is no fault \""
                    + name
                    + "\" to plant; there are "
                    + faults.stream().map(Fault::name).collect(Collectors.joining(", "))
                    + "."));
  }

  private static void delete(Path folder) throws IOException {
    try (Stream<Path> files = Files.walk(folder)) {
      for (Path file : files.sorted(Comparator.reverseOrder()).toList()) {
        Files.delete(file);
      }
    }
  }
}
