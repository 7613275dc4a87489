package dev.plumbline.samples.faults;

import static dev.plumbline.verdict.MismatchGroup.LikelyKind.CONSTANT;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.DECISION;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.EXCHANGED;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.GAP;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.INITIAL_STATE;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.LEFT_OVER;
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

import dev.plumbline.check.Bench;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.evidence.CsvTable;
import dev.plumbline.faults.Fault;
import dev.plumbline.report.RunReport;
import dev.plumbline.rtl.Signals;
import dev.plumbline.samples.SampleBenches;
import dev.plumbline.samples.SampleRtl;
import dev.plumbline.verdict.Fact;
import dev.plumbline.verdict.KeptCase;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.MismatchGroup;
import dev.plumbline.verdict.MismatchGroup.Hypothesis;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.math.BigInteger;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;

/**
 * How often what is said of a planted fault is right (to be nine stages and eight kinds of ten;
 * what is held here is what was reached): over the catalogue, but for the scene executor. The kind
 * that is right follows from what the catalogue says was planted. Leaves a table in {@code
 * target/explained.csv}.
 */
@EnabledIfSystemProperty(named = "plumbline.long", matches = "true")
class ExplainedFaultsTest {
  private static final long FEW = 8_192;
  private static final long CASES = 1_000_000;
  private static final Set<String> PIPELINES =
      Set.of("reciprocal", "square_root", "box_pipeline", "sphere_pipeline", "plane_pipeline");

  /** Its pipeline has a stage more. */
  private static final Set<String> IS_LATE = Set.of("square-root-size-rounded-up-twice");

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
      case RESET -> Set.of(RESET, INITIAL_STATE, LEFT_OVER);
      case STALL ->
          fault.shows() == Fault.Shows.BACK_TO_BACK ? Set.of(GAP) : Set.of(LikelyKind.STALL);
      case COUNTER, PARAMETER -> Set.of(); // no kind is said of these
    };
  }

  /**
   * What the edit itself is, whatever the catalogue files the fault under: another comparison or
   * condition, a constant, a shift, a width.
   */
  private static Set<LikelyKind> ofEdit(Fault fault) {
    Set<LikelyKind> kinds = EnumSet.noneOf(LikelyKind.class);
    if (fault.what().contains("wraps")) {
      kinds.add(OVERFLOW);
    }
    for (Fault.Change change : fault.changes()) {
      String was = change.original();
      String is = change.replacement();
      int from = 0;
      while (from < Math.min(was.length(), is.length()) && was.charAt(from) == is.charAt(from)) {
        from++;
      }
      int same = 0;
      while (same < Math.min(was.length(), is.length()) - from
          && was.charAt(was.length() - 1 - same) == is.charAt(is.length() - 1 - same)) {
        same++;
      }
      String taken = was.substring(from, was.length() - same);
      String given = is.substring(from, is.length() - same);
      String edit = taken + " " + given;
      boolean isStrict = // < for <=, or the reverse, in an expression
          (taken + given).equals("=") && from > 0 && "<>".indexOf(was.charAt(from - 1)) >= 0;
      boolean isCompared = // its operand, if not the comparison itself
          was.replaceAll("<<<?|>>>?|<=", "").matches("(?s).*([<>]|==|!=).*");
      if (isCompared
          || isStrict
          || edit.replaceAll("<<<?|>>>?", "").matches("(?s).*([<>!?]|==|&&|\\|\\||1'b[01]).*")) {
        kinds.add(DECISION);
      }
      if (edit.matches("(?s).*(<<|>>|\\*|\\[|\\w'\\().*")) {
        kinds.add(WIDTH);
      }
      if (edit.matches("[\\d\\s]+") || was.matches("(?s)\\w+ = [^;]*;|localparam.*")) {
        kinds.add(CONSTANT);
      }
    }
    return kinds;
  }

  /**
   * What was found.
   *
   * @param faulty the signals that the edited statement drives
   * @param behind the same, with those up to the first register behind
   * @param named the first wrong signal, as the evidence says; empty where it names none
   * @param found seconds until the mismatch was found, without evidence
   * @param build seconds that the probe build took; next to none where it was there
   * @param all seconds of the run with its evidence, all written
   */
  private record Found(
      Fault fault,
      Verdict verdict,
      Set<String> faulty,
      Set<String> behind,
      String named,
      double found,
      double build,
      double all) {
    /** From the mismatch to the last file. */
    double seconds() {
      return all - found + build;
    }

    MismatchGroup group() {
      return verdict.groups().get(0);
    }

    boolean isStageRight() {
      return behind.contains(named);
    }

    boolean isAlone() {
      return group().likely().size() == 1;
    }

    /** By the catalogue alone. */
    boolean isRight() {
      return right(fault).isEmpty()
          ? group().likely().isEmpty()
          : isAlone() && right(fault).contains(group().likely().get(0).kind());
    }

    /** By the catalogue, or by what the edit is; "none" is right of what has no kind. */
    boolean isFair() {
      boolean ofCounts = fault.kind() == Fault.Kind.COUNTER;
      return isRight()
          || (!ofCounts && isAlone() && ofEdit(fault).contains(group().likely().get(0).kind()))
          || (isAlone() && IS_LATE.contains(fault.name()) && isTiming());
    }

    private boolean isTiming() {
      return group().likely().get(0).kind() == TIMING;
    }

    boolean isWrongTiming() {
      boolean said =
          group().likely().stream().map(Hypothesis::kind).anyMatch(TIMING::equals)
              || verdict.kept().stream()
                  .anyMatch(
                      mismatch ->
                          mismatch.kind() == Mismatch.Kind.EARLY
                              || mismatch.kind() == Mismatch.Kind.LATE);
      return said && !right(fault).contains(TIMING) && !IS_LATE.contains(fault.name());
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

  private static final Pattern NAMED =
      Pattern.compile(
          "first wrong: (?<signal>\\S+)"
              + "|part at \\S+ \\((?<part>[^,]+),"
              + "|first to equal no step: (?<root>\\S+)"
              + "|different cases meet at (?<mixed>\\S+)");

  private static String named(Verdict verdict) {
    for (Fact fact : verdict.findings().inside().facts()) {
      for (String line : fact.lines()) {
        Matcher named = NAMED.matcher(line);
        if (fact.label().equals("stage") && named.find()) {
          return Stream.of("signal", "part", "root", "mixed")
              .map(named::group)
              .filter(Objects::nonNull)
              .findFirst()
              .orElseThrow();
        }
      }
    }
    return "";
  }

  /** The sample RTL, text by file name. */
  static Map<String, String> files() throws IOException {
    Map<String, String> files = new HashMap<>();
    for (Path file : SampleRtl.files()) {
      files.put(file.getFileName().toString(), Files.readString(file));
    }
    return files;
  }

  private static Found found(Fault fault) throws IOException {
    Planting planting = new Planting(fault, FOLDER.resolve(fault.name()));
    CompiledDesign model = CompiledDesign.of(planting.copy(), Planting.BRIEF);
    Bench.Builder bench = SampleBenches.named(fault.bench()).of(model).seed(1);
    long cases = FEW;
    long started = System.nanoTime();
    Verdict soon = bench.cases(cases).recorder(Recorder.none()).run();
    if (soon.outcome() != Verdict.Outcome.MISMATCH) {
      cases = CASES;
      started = System.nanoTime();
      bench.cases(cases).recorder(Recorder.none()).run();
    }
    double found = (System.nanoTime() - started) / 1e9;
    started = System.nanoTime();
    Signals signals = model.withInternals().signals();
    double build = (System.nanoTime() - started) / 1e9;
    started = System.nanoTime();
    RunReport report = RunReport.open(FOLDER.resolveSibling("explained"), fault.name());
    Verdict verdict = bench.cases(cases).recorder(report).run();
    double all = (System.nanoTime() - started) / 1e9;
    Set<String> faulty = FaultySignals.of(fault, files(), signals);
    return new Found(
        fault,
        verdict,
        faulty,
        FaultySignals.directlyBehind(faulty, signals),
        named(verdict),
        found,
        build,
        all);
  }

  private static List<Fault> faults() {
    Pattern wanted = Pattern.compile(System.getProperty("plumbline.faults", ""));
    List<Fault> all =
        Faults.all().stream()
            .filter(fault -> !Faults.unit(fault).equals("scene_executor"))
            .filter(fault -> wanted.matcher(fault.name()).find())
            .toList();
    int every = Integer.getInteger("plumbline.every", 1);
    return IntStream.range(0, all.size()).filter(i -> i % every == 0).mapToObj(all::get).toList();
  }

  @Test
  void mostOfWhatIsSaidIsRight() throws IOException {
    List<Found> all = new ArrayList<>();
    CsvTable table =
        new CsvTable(
            "fault",
            "unit",
            "kind",
            "faulty signals",
            "stage named",
            "stage right",
            "likely",
            "right and alone",
            "or by the edit",
            "vectors",
            "timing right",
            "seconds",
            "of these build");
    for (Fault fault : faults()) {
      Found found = found(fault);
      if (found.verdict().groups().isEmpty()) {
        System.out.println(
            fault.name() + ": " + found.verdict().outcome() + ", nothing is explained");
        continue;
      }
      all.add(found);
      String likely =
          String.join(" | ", found.group().likely().stream().map(Object::toString).toList());
      System.out.printf(
          Locale.ROOT,
          "%s %s %s: %s vectors %d, %.1f s (build %.1f): %s; stage %s of %s%n",
          found.isRight() ? "KIND " : found.isFair() ? "EDIT " : "-----",
          found.isStageRight() ? "STAGE" : "-----",
          fault.name(),
          fault.kind(),
          found.vectors(),
          found.seconds(),
          found.build(),
          likely.isEmpty() ? "none; " + found.group().words() : likely,
          found.named(),
          found.faulty().stream().limit(4).toList());
      table.add(
          fault.name(),
          Faults.unit(fault),
          fault.kind().name(),
          String.join(" ", found.faulty()),
          found.named(),
          found.isStageRight() ? 1 : 0,
          likely,
          found.isRight() ? 1 : 0,
          found.isFair() ? 1 : 0,
          found.vectors(),
          found.isWrongTiming() ? 0 : 1,
          CsvTable.number(Double.toString(found.seconds())),
          CsvTable.number(Double.toString(found.build())));
      table.writeTo(
          Path.of("target", System.getProperty("plumbline.table", "explained.csv"))
              .toAbsolutePath());
    }
    long stage = all.stream().filter(Found::isStageRight).count();
    long strict = all.stream().filter(Found::isRight).count();
    long right = all.stream().filter(Found::isFair).count();
    List<Found> pipelines =
        all.stream().filter(found -> PIPELINES.contains(Faults.unit(found.fault()))).toList();
    long single = pipelines.stream().filter(found -> found.vectors() <= 1).count();
    List<Double> seconds = all.stream().map(Found::seconds).sorted().toList();
    System.out.println(
        all.size()
            + " faults: stage right "
            + stage
            + ", kind right and alone "
            + right
            + " (by the catalogue alone "
            + strict
            + "), one vector "
            + single
            + " of "
            + pipelines.size()
            + ", median seconds "
            + seconds.get(seconds.size() / 2));
    assertEquals(List.of(), all.stream().filter(Found::isWrongTiming).map(Found::fault).toList());
    assertTrue(10 * stage >= 9 * all.size(), () -> stage + " of " + all.size());
    assertTrue(10 * single >= 9 * pipelines.size(), () -> single + " of " + pipelines.size());
    assertTrue(10 * right >= 8 * all.size(), () -> right + " of " + all.size());
  }
}
