package dev.plumbline.run;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.rtl.Signal;
import dev.plumbline.verdict.CodeText;
import dev.plumbline.verdict.Fact;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Stage;
import dev.plumbline.verdict.Stage.Relation;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/** Says where in the DUT the case of a mismatch first differs from the reference's steps. */
final class StageFinder {
  /** Registers named beside the stage. */
  private static final int MOST_ROOTS = 3;

  private final StepSample cases;
  private final SignalSample sample;
  private final Map<String, List<String>> operands;
  private final List<List<Station>> stations;
  private final Blame blame;
  private final String wrongPort;
  private final List<Stage> stages = new ArrayList<>();
  private final Set<String> givenSteps = new LinkedHashSet<>();

  /**
   * Looks for the steps.
   *
   * @param operands of each step, by name
   * @param sources of each signal, by path
   * @param wrong the path of the port that is wrong
   * @param given steps whose signals are known
   */
  StageFinder(
      StepSample cases,
      SignalSample sample,
      Map<String, List<String>> operands,
      Map<String, List<String>> sources,
      String wrong,
      int mostDelay,
      List<GivenStage> given) {
    this.wrongPort = wrong;
    this.cases = cases;
    this.sample = sample;
    this.operands = operands;
    this.stations =
        new StationFinder(cases, sample, operands, Blame.wayTo(wrong, sources), mostDelay).find();
    GivenStage.replace(given, cases, sample, stations, mostDelay);
    given.forEach(stage -> givenSteps.add(stage.step()));
    this.blame = new Blame(sample, sources, stations);
  }

  /** The steps beside their signals, for a case of the sample. */
  List<Stage> stages(int caseIndex) {
    stages.clear();
    for (int step = 0; step < stations.size(); step++) {
      stages.add(stage(step, caseIndex));
    }
    return List.copyOf(stages);
  }

  /** Cycles after which a step is shown in a waveform: its signal's, or those of its operands. */
  int delay(int step) {
    if (!stations.get(step).isEmpty()) {
      return stations.get(step).get(0).delay();
    }
    int latest = 0;
    for (String operand : operands.getOrDefault(cases.steps().get(step).name(), List.of())) {
      int index = indexOf(operand);
      latest = index < 0 || index == step ? latest : Math.max(latest, delay(index));
    }
    return latest;
  }

  private int indexOf(String step) {
    for (int i = 0; i < cases.steps().size(); i++) {
      if (cases.steps().get(i).name().equals(step)) {
        return i;
      }
    }
    return -1;
  }

  private Stage stage(int step, int caseIndex) {
    Operand operand = cases.steps().get(step);
    BigInteger expected = cases.code(step, caseIndex);
    if (stations.get(step).isEmpty()) {
      return new Stage(
          operand, "", "", -1, expected, null, Relation.NOT_FOUND, "no signal equals it");
    }
    Station station = stations.get(step).get(0);
    Signal signal = sample.signals().get(station.signal());
    BigInteger value = sample.value(station.signal(), cases.row(caseIndex) + station.delay());
    if (value == null) {
      return new Stage(
          operand, "", "", -1, expected, null, Relation.NOT_FOUND, "its cycle is not recorded");
    }
    BigInteger actual = read(operand.format(), value, signal.width());
    boolean same =
        expected.subtract(value).mod(BigInteger.ONE.shiftLeft(signal.width())).signum() == 0;
    return new Stage(
        operand,
        sample.name(station.signal()),
        signal.location().toString(),
        station.delay(),
        expected,
        same ? expected : actual,
        same ? Relation.AGREES : Relation.DIFFERS,
        givenSteps.contains(operand.name())
            ? station.how().replace("by name", "as given")
            : station.how());
  }

  /** Bits of a signal as a code of a format. */
  private static BigInteger read(Format format, BigInteger value, int width) {
    int bits = Math.min(width, format.width());
    BigInteger code = value.mod(BigInteger.ONE.shiftLeft(Math.max(bits, 1)));
    return format.signed() && code.testBit(bits - 1)
        ? code.subtract(BigInteger.ONE.shiftLeft(bits))
        : code;
  }

  /** What there is to say of the first wrong stage; the stages have to be known. */
  List<Fact> facts(Mismatch mismatch) {
    if (mismatch.output().isEmpty()) {
      return time();
    }
    Optional<Stage> wrong =
        stages.stream().filter(stage -> stage.relation() == Relation.DIFFERS).findFirst();
    String start = wrong.map(Stage::signal).orElse(wrongPort);
    List<Blame.Root> roots = blame.rootsOf(start);
    List<String> lines = new ArrayList<>();
    Set<String> agreeing = agreeing(wrong, roots);
    if (!agreeing.isEmpty()) {
      lines.add("steps agree up to " + String.join(", ", agreeing));
    }
    if (wrong.isPresent()) {
      Stage stage = wrong.get();
      lines.add("part at " + named(stage));
      lines.add("  expected  " + code(stage, stage.expected()));
      lines.add("  actual    " + code(stage, stage.actual()));
      lines.add("  " + stage.how());
    }
    Set<String> shown = new LinkedHashSet<>();
    for (Blame.Root root : roots) {
      String path = sample.name(root.signal());
      boolean named = wrong.isPresent() && path.equals(start) && !root.mixes();
      // Of the like elements of a generate loop one is enough.
      if (shown.size() < MOST_ROOTS && !named && shown.add(path.replaceAll("\\[\\d+]", ""))) {
        String line =
            path
                + " ("
                + sample.signals().get(root.signal()).location()
                + "), made from "
                + Blame.from(root);
        lines.add((root.mixes() ? "different cases meet at " : "first to equal no step: ") + line);
      }
    }
    if (wrong.isEmpty() && roots.isEmpty()) {
      lines.add(
          "every signal on the way to " + wrongPort + " equals a step: it is a matter of time");
    }
    return List.of(new Fact("stage", lines));
  }

  /** A valid or ready is no step; what there is to say is whether any step is wrong. */
  private List<Fact> time() {
    List<Stage> found =
        stages.stream().filter(stage -> stage.relation() != Relation.NOT_FOUND).toList();
    boolean all = found.stream().allMatch(stage -> stage.relation() == Relation.AGREES);
    if (!all || found.isEmpty()) {
      return List.of();
    }
    Stage last = found.get(found.size() - 1);
    return List.of(
        Fact.of(
            "stage",
            "all " + found.size() + " steps that were found agree, the last is " + named(last)));
  }

  /** The last steps that agree before the first wrong one. */
  private Set<String> agreeing(Optional<Stage> wrong, Collection<Blame.Root> roots) {
    Set<String> names = new LinkedHashSet<>();
    if (wrong.isPresent()) {
      located(wrong.get().step().name(), names, new LinkedHashSet<>());
    } else {
      roots.stream()
          .limit(1)
          .flatMap(root -> root.from().keySet().stream())
          .forEach(path -> stationStep(path).ifPresent(names::add));
    }
    return names.stream()
        .map(name -> named(stages.get(indexOf(name))))
        .collect(Collectors.toCollection(LinkedHashSet::new));
  }

  private Optional<String> stationStep(String path) {
    int g = sample.find(path);
    for (int step = 0; step < stations.size(); step++) {
      if (stations.get(step).stream()
          .anyMatch(station -> station.signal() == g && station.isExact())) {
        return Optional.of(cases.steps().get(step).name());
      }
    }
    return Optional.empty();
  }

  private void located(String step, Set<String> into, Set<String> seen) {
    for (String operand : operands.getOrDefault(step, List.of())) {
      int index = indexOf(operand);
      if (!seen.add(operand) || index < 0) {
        continue;
      }
      if (stages.get(index).relation() == Relation.AGREES) {
        into.add(operand);
      } else {
        located(operand, into, seen);
      }
    }
  }

  private static String named(Stage stage) {
    return stage.step().name()
        + " ("
        + stage.signal()
        + ", "
        + stage.location()
        + ", after "
        + stage.delay()
        + (stage.delay() == 1 ? " cycle)" : " cycles)");
  }

  private static String code(Stage stage, BigInteger code) {
    Format format = stage.step().format();
    return CodeText.hex(format, code) + "  " + CodeText.real(format, code);
  }
}
