package dev.plumbline.samples.faults;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.evidence.CaseFile;
import dev.plumbline.evidence.CsvTable;
import dev.plumbline.faults.Fault;
import dev.plumbline.rtl.Signals;
import dev.plumbline.verdict.MismatchGroup;
import dev.plumbline.verdict.MismatchGroup.Hypothesis;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import dev.plumbline.verdict.Stage;
import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;

/**
 * How small the smallest scene of a planted fault is, and what is said of it, over the catalogue of
 * the scene executor: the kind is to be right for eight of ten, and for nine of ten the stage that
 * is named as wrong first is to be one that the edited statement drives, up to the first register
 * behind. Leaves a table in {@code target/explained-scenes.csv}.
 */
@EnabledIfSystemProperty(named = "plumbline.long", matches = "true")
class ExplainedScenesTest {
  private static final long FEW = 1_500;
  private static final long RAYS = 20_000;
  private static final int MOST_OPERATIONS = 3;

  private static final Path FOLDER = Path.of("target", "planted").toAbsolutePath();

  /**
   * What was found.
   *
   * @param behind the signals that the edited statement drives, and those up to the first register
   *     behind
   */
  private record Found(Fault fault, Verdict verdict, Set<String> behind, double seconds) {
    MismatchGroup group() {
      return verdict.groups().get(0);
    }

    private List<String> operations() {
      return group().smallest().orElseThrow().operations().stream()
          .filter(operation -> !operation.isEmpty())
          .toList();
    }

    /** Solids, combinations and skips; a program has to have the others. */
    int operationsThatWork() {
      return group().smallest().isEmpty()
          ? Integer.MAX_VALUE
          : (int)
              operations().stream()
                  .filter(operation -> !List.of("begin", "close", "end").contains(operation))
                  .count();
    }

    /** At most three, or as few as can show it at all. */
    boolean isSmall() {
      return operationsThatWork()
          <= Math.max(MOST_OPERATIONS, SceneFaultFacts.least(fault).operations());
    }

    boolean isRight() {
      List<Hypothesis> likely = group().likely();
      return likely.size() == 1 && SceneFaultFacts.right(fault).contains(likely.get(0).kind());
    }

    /** Late or early is said where nothing is: operations are, where their room is lost. */
    boolean isWrongTiming() {
      boolean isTimed =
          SceneFaultFacts.right(fault).contains(LikelyKind.TIMING)
              || fault.kind() == Fault.Kind.STALL;
      return !isTimed && group().likely().stream().anyMatch(one -> one.kind() == LikelyKind.TIMING);
    }

    /** The signal of the first wrong stage; empty where none is named. */
    String named() {
      return verdict.findings().inside().stages().stream()
          .filter(stage -> stage.relation() == Stage.Relation.DIFFERS)
          .map(Stage::signal)
          .findFirst()
          .orElse("");
    }

    boolean isStageRight() {
      return behind.contains(named());
    }

    int allOperations() {
      return group().smallest().isEmpty() ? Integer.MAX_VALUE : operations().size();
    }
  }

  private static Stream<Fault> faults() {
    List<Fault> all =
        Stream.of(SceneFaults.all(), SceneStreamFaults.all())
            .flatMap(List::stream)
            .filter(fault -> fault.name().matches(System.getProperty("plumbline.faults", ".*")))
            .toList();
    int every = Integer.getInteger("plumbline.every", 1);
    return IntStream.range(0, all.size()).filter(i -> i % every == 0).mapToObj(all::get);
  }

  private static Found found(Fault fault) throws IOException {
    KeptVerdict kept = new KeptVerdict(true);
    Planting planting = new Planting(fault, FOLDER.resolve(fault.name())).recorder(kept);
    if (planting.run(Planting.BRIEF, 1, FEW).outcome() != Verdict.Outcome.MISMATCH) {
      planting.run(Planting.BRIEF, 1, RAYS);
    }
    Signals signals = CompiledDesign.of(planting.copy(), Planting.BRIEF).withInternals().signals();
    Set<String> behind =
        FaultySignals.directlyBehind(
            FaultySignals.of(fault, ExplainedFaultsTest.files(), signals), signals);
    return new Found(fault, kept.verdict(), behind, kept.verdict().checked().seconds());
  }

  /**
   * Many faults need more than three operations: full memories, queues and stacks, counters that
   * wrap, lists that overflow. {@link SceneFaultFacts} says how many, and why.
   */
  @Test
  void mostComeDownToAFewOperationsAndAreExplained() throws IOException {
    List<Found> all = new ArrayList<>();
    CsvTable table =
        new CsvTable(
            "fault",
            "kind",
            "shows",
            "likely",
            "right and alone",
            "solids",
            "least possible",
            "why",
            "operations",
            "size",
            "stage named",
            "stage right",
            "seconds");
    for (Fault fault : faults().toList()) {
      Found found = found(fault);
      if (found.verdict().groups().isEmpty()) {
        System.out.println(fault.name() + ": no group: " + found.verdict().brief());
        continue;
      }
      all.add(found);
      String likely =
          String.join(" | ", found.group().likely().stream().map(Object::toString).toList());
      System.out.printf(
          Locale.ROOT,
          "%s %s %s %s (%s): %s; %s, %.1f s: %s; stage %s%n",
          found.isSmall() ? "SMALL" : "-----",
          found.isRight() ? "KIND" : "----",
          found.isStageRight() ? "STAGE" : "-----",
          fault.name(),
          fault.kind(),
          found.group().words(),
          found.group().size(),
          found.seconds(),
          likely.isEmpty() ? "none of " + found.group().tried() : likely,
          found.named());
      if (Boolean.getBoolean("plumbline.show")) {
        found.group().smallest().ifPresent(kept -> System.out.println(CaseFile.text(kept)));
      }
      table.add(
          fault.name(),
          fault.kind().name(),
          found.group().words(),
          likely,
          found.isRight() ? 1 : 0,
          found.operationsThatWork(),
          SceneFaultFacts.least(fault).operations(),
          SceneFaultFacts.least(fault).why(),
          found.allOperations(),
          found.group().size(),
          found.named(),
          found.isStageRight() ? 1 : 0,
          CsvTable.number(String.format(Locale.ROOT, "%.2f", found.seconds())));
      table.writeTo(Path.of("target", "explained-scenes.csv").toAbsolutePath());
    }
    long few = all.stream().filter(found -> found.operationsThatWork() <= MOST_OPERATIONS).count();
    long small = all.stream().filter(Found::isSmall).count();
    long explained = all.stream().filter(found -> !found.group().likely().isEmpty()).count();
    long right = all.stream().filter(Found::isRight).count();
    long named = all.stream().filter(found -> !found.named().isEmpty()).count();
    long stage = all.stream().filter(Found::isStageRight).count();
    List<Double> seconds = all.stream().map(Found::seconds).sorted().toList();
    System.out.println(
        all.size()
            + " faults: at most three operations "
            + few
            + ", at most three or the least possible "
            + small
            + ", with a likely kind "
            + explained
            + ", right and alone "
            + right
            + ", first wrong stage named "
            + named
            + ", right "
            + stage
            + ", median seconds "
            + seconds.get(seconds.size() / 2));
    // What is taken for necessary is held to what was found.
    assertEquals(
        List.of(),
        all.stream()
            .filter(
                found ->
                    found.operationsThatWork() < SceneFaultFacts.least(found.fault()).operations())
            .map(found -> found.fault().name())
            .toList());
    assertEquals(
        List.of(),
        all.stream().filter(Found::isWrongTiming).map(found -> found.fault().name()).toList());
    assertTrue(10 * small >= 9 * all.size(), () -> small + " of " + all.size());
    assertTrue(10 * right >= 8 * all.size(), () -> right + " of " + all.size());
    assertTrue(10 * stage >= 9 * all.size(), () -> stage + " of " + all.size());
  }
}
