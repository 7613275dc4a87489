package dev.plumbline.samples.faults;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import dev.plumbline.faults.Fault;
import dev.plumbline.samples.Night;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Faults of the catalogue, each in a copy of the RTL: the bench it names has to see it. Some of
 * each unit by default; all with {@code -Dplumbline.everyFault=true}; every night as many of those
 * as there is time for.
 */
@Execution(ExecutionMode.CONCURRENT)
class PlantedFaultsTest {
  /** Most faults show within these, for which a model need not be quick. */
  private static final long FEW = 8_192;

  private static final long CASES = 2_000_000;
  private static final long RAYS = 20_000;

  /** Stays for the next run, which then finds the builds of copies that are as they were. */
  private static final Path FOLDER = Path.of("target", "planted").toAbsolutePath();

  static List<Fault> faults() {
    List<Fault> faults = new ArrayList<>(Faults.chosen());
    Collections.shuffle(faults, new Random(Night.began().hashCode()));
    return faults;
  }

  @ParameterizedTest
  @MethodSource("faults")
  @Tag("thorough")
  void isCaught(Fault fault) {
    assumeTrue(Night.hasTimeForFaults(), "the night's time for planted faults is over");
    Planting planting = new Planting(fault, FOLDER.resolve(fault.name()));
    Verdict.Outcome soon = planting.run(Planting.BRIEF, FEW, RAYS).outcome();
    if (soon != Verdict.Outcome.MISMATCH) {
      assertEquals(
          Verdict.Outcome.MISMATCH,
          planting.run(Planting.WITHOUT_ASSERTIONS, CASES, RAYS).outcome(),
          () -> fault + ": " + fault.what());
    }
  }
}
