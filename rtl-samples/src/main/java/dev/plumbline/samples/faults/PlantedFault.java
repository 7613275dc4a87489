package dev.plumbline.samples.faults;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.faults.Fault;
import dev.plumbline.regression.Regression;
import dev.plumbline.report.RunReport;
import dev.plumbline.samples.ChipBenches;
import dev.plumbline.stimulus.SeedText;
import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * What red looks like, {@code mvn -q test -Pplanted-fault}: a fault of the catalogue in a copy of
 * the RTL, and the bench that has to find it.
 *
 * <p>Properties: {@code plumbline.fault}, its name; {@code plumbline.cases}, a million unless set,
 * of rays through the scene executor a hundredth; {@code plumbline.seed}. The status is 0 when it
 * is found.
 */
public final class PlantedFault {
  private PlantedFault() {}

  /**
   * Plants it and runs its bench.
   *
   * @param arguments none
   * @throws IOException when there is no room for the copy
   */
  public static void main(String[] arguments) throws IOException {
    Fault fault = find(System.getProperty("plumbline.fault", ""));
    Path folder = Files.createTempDirectory("plumbline-fault");
    boolean caught;
    try {
      caught = show(fault, folder);
    } finally {
      Files.deleteIfExists(folder.resolve(fault.file()));
      Files.deleteIfExists(folder);
    }
    System.exit(caught ? 0 : 1);
  }

  private static boolean show(Fault fault, Path folder) {
    System.out.println("Planted in a copy of " + fault.file() + ": " + fault.what());
    for (Fault.Change change : fault.changes()) {
      System.out.println("  instead of  " + change.original().strip());
      System.out.println("  stands      " + change.replacement().strip());
    }
    System.out.println();
    long cases = Long.getLong("plumbline.cases", 1_000_000);
    long seed = SeedText.parse(System.getProperty("plumbline.seed", "1"));
    Verdict verdict =
        bench(fault)
            .map(bench -> around(fault, bench, folder, cases, seed))
            .orElseGet(
                () ->
                    new Planting(fault, folder)
                        .seed(seed)
                        .recorder(RunReport.current())
                        .run(Planting.WITHOUT_ASSERTIONS, cases, Math.max(1, cases / 100)));
    System.out.println(verdict.facts());
    System.out.println();
    System.out.println(RunReport.current().consoleTable());
    boolean caught = verdict.outcome() == Verdict.Outcome.MISMATCH;
    System.out.println(caught ? "Caught, as it has to be." : "NOT CAUGHT.");
    return caught;
  }

  /** The first bench of the block, for one around the executor. */
  private static Optional<ChipBenches.ChipBench> bench(Fault fault) {
    return ChipFaults.all().contains(fault)
        ? ChipBenches.all().stream()
            .filter(bench -> bench.name().startsWith(ChipFaults.block(fault) + " "))
            .findFirst()
        : Optional.empty();
  }

  private static Verdict around(
      Fault fault, ChipBenches.ChipBench bench, Path folder, long cases, long seed) {
    CompiledDesign model =
        CompiledDesign.of(fault.plantedIn(bench.rtl(), folder), Planting.WITHOUT_ASSERTIONS);
    return bench
        .runner()
        .run(model, bench.name(), new Regression.Settings(cases, seed, RunReport.current(), ""));
  }

  private static Fault find(String name) {
    List<Fault> faults = new ArrayList<>(Faults.all());
    ChipFaults.all().stream().filter(fault -> bench(fault).isPresent()).forEach(faults::add);
    return faults.stream()
        .filter(fault -> fault.name().equals(name))
        .findFirst()
        .orElseThrow(
            () ->
                new IllegalArgumentException(
                    "There is no fault \""
                        + name
                        + "\" to plant; there are "
                        + faults.stream().map(Fault::name).collect(Collectors.joining(", "))
                        + "."));
  }
}
