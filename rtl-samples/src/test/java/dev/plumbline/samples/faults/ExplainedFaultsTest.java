package dev.plumbline.samples.faults;

import static dev.plumbline.verdict.MismatchGroup.LikelyKind.CONSTANT;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.DECISION;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.EXCHANGED;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.GAP;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.INITIAL_STATE;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.NEIGHBOUR;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.OVERFLOW;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.RESET;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.ROUNDING;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.SIGN;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.STUCK_BIT;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.TIMING;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.WIDTH;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.evidence.CsvTable;
import dev.plumbline.faults.Fault;
import dev.plumbline.verdict.KeptCase;
import dev.plumbline.verdict.MismatchGroup;
import dev.plumbline.verdict.MismatchGroup.Hypothesis;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import dev.plumbline.verdict.Verdict;
import java.math.BigInteger;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;

/**
 * How often what is said of a planted fault is right: over the catalogue, but for the scene
 * executor. The kind that is right follows from what the catalogue says was planted. Leaves a table
 * in {@code target/explained.csv}.
 */
@EnabledIfSystemProperty(named = "plumbline.long", matches = "true")
class ExplainedFaultsTest {
  private static final long FEW = 8_192;
  private static final long CASES = 1_000_000;
  private static final Path FOLDER = Path.of("target", "planted").toAbsolutePath();

  private static Set<LikelyKind> right(Fault fault) {
    return switch (fault.kind()) {
      case ROUNDING -> Set.of(ROUNDING);
      case SATURATION -> Set.of(OVERFLOW);
      case WIDTH -> Set.of(WIDTH, STUCK_BIT);
      case SIGN -> Set.of(SIGN);
      case LATENCY -> Set.of(TIMING, NEIGHBOUR, GAP);
      case OPERAND, ORDER -> Set.of(EXCHANGED);
      case DECISION -> Set.of(DECISION);
      case MEMORY -> Set.of(CONSTANT);
      case RESET -> Set.of(RESET, INITIAL_STATE);
      case STALL, COUNTER, PARAMETER -> Set.of(); // no kind is said of these
    };
  }

  /** What was found. */
  private record Found(Fault fault, Verdict verdict) {
    /** Of the run, the explanation included, without the build. */
    double seconds() {
      return verdict.seconds();
    }

    MismatchGroup group() {
      return verdict.groups().get(0);
    }

    boolean isAlone() {
      return group().likely().size() == 1;
    }

    boolean isRight() {
      return isAlone() && right(fault).contains(group().likely().get(0).kind());
    }

    boolean isWrongTiming() {
      return group().likely().stream().map(Hypothesis::kind).anyMatch(TIMING::equals)
          && !right(fault).contains(TIMING);
    }

    int vectors() {
      return group().smallest().map(Found::vectors).orElse(Integer.MAX_VALUE);
    }

    /** Rows that are valid, the reset apart. */
    private static int vectors(KeptCase kept) {
      List<String> names = kept.columns().stream().map(KeptCase.Column::name).toList();
      int reset = names.indexOf("rst");
      int valid = names.indexOf("in_valid");
      return (int)
          kept.cycles().stream()
              .filter(row -> reset < 0 || row.get(reset).signum() == 0)
              .filter(row -> row.get(valid).equals(BigInteger.ONE))
              .count();
    }
  }

  private static Found found(Fault fault) {
    Verdict[] kept = new Verdict[1];
    Planting planting =
        new Planting(fault, FOLDER.resolve(fault.name()))
            .recorder(
                verdict -> {
                  kept[0] = verdict;
                  return Optional.empty();
                });
    Verdict.Outcome soon = planting.run(Planting.BRIEF, FEW, 1).outcome();
    if (soon != Verdict.Outcome.MISMATCH) {
      planting.run(Planting.BRIEF, CASES, 1); // slower, but there
    }
    return new Found(fault, kept[0]);
  }

  private static Stream<Fault> faults() {
    List<Fault> all =
        Faults.all().stream()
            .filter(fault -> !Faults.unit(fault).equals("scene_executor"))
            .toList();
    int every = Integer.getInteger("plumbline.every", 1);
    return IntStream.range(0, all.size()).filter(i -> i % every == 0).mapToObj(all::get);
  }

  @Test
  void mostOfWhatIsSaidIsRight() {
    List<Found> all = new ArrayList<>();
    CsvTable table =
        new CsvTable("fault", "kind", "likely", "right and alone", "vectors", "size", "seconds");
    for (Fault fault : faults().toList()) {
      Found found = found(fault);
      if (found.verdict().groups().isEmpty()) {
        System.out.println(fault.name() + ": not a mismatch: " + found.verdict().outcome());
        continue;
      }
      all.add(found);
      String likely =
          String.join(" | ", found.group().likely().stream().map(Object::toString).toList());
      System.out.printf(
          Locale.ROOT,
          "%s %s: %s vectors %d, %.1f s: %s%n",
          found.isRight() ? "RIGHT" : "-----",
          fault.name(),
          fault.kind(),
          found.vectors(),
          found.seconds(),
          likely.isEmpty() ? "none; " + found.group().words() : likely);
      table.add(
          fault.name(),
          fault.kind().name(),
          likely,
          found.isRight() ? 1 : 0,
          found.vectors(),
          found.group().size(),
          CsvTable.number(Double.toString(found.seconds())));
    }
    table.writeTo(Path.of("target", "explained.csv").toAbsolutePath());
    long right = all.stream().filter(Found::isRight).count();
    long single = all.stream().filter(found -> found.vectors() <= 1).count();
    List<Double> seconds = all.stream().map(Found::seconds).sorted().toList();
    System.out.println(
        all.size()
            + " faults: kind right and alone "
            + right
            + ", one vector "
            + single
            + ", median seconds "
            + seconds.get(seconds.size() / 2));
    assertEquals(List.of(), all.stream().filter(Found::isWrongTiming).map(Found::fault).toList());
    assertTrue(10 * single >= 9 * all.size(), () -> single + " of " + all.size());
    assertTrue(10 * right >= 8 * all.size(), () -> right + " of " + all.size());
  }
}
