package dev.plumbline.stage;

import dev.plumbline.contract.Reference;
import dev.plumbline.drive.GivenStage;
import dev.plumbline.drive.OutputCheck;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.rtl.Signal;
import dev.plumbline.verdict.CodeText;
import dev.plumbline.verdict.Fact;
import dev.plumbline.verdict.Inside;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Stage;
import dev.plumbline.verdict.Stage.Relation;
import java.math.BigInteger;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Deque;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** Says where in the DUT the case of a mismatch first differs from the reference's steps. */
final class StageFinder {
  /** Registers named beside the stage. */
  private static final int MOST_ROOTS = 3;

  private final StepSample cases;
  private final SignalSample sample;
  private final Optional<Datapath> datapath;
  private final Map<String, List<String>> operands;
  private final List<List<Station>> stations;
  private final Blame blame;
  private final String wrongPort;
  private final Map<String, List<String>> sources;
  private final Set<String> way;
  private final int mostDelay;
  private final List<Stage> stages = new ArrayList<>();
  private final Set<String> givenSteps = new LinkedHashSet<>();
  private final List<Inside.Wrong> named = new ArrayList<>();

  /**
   * Looks for the steps.
   *
   * @param datapath the steps; empty where nobody knows them
   * @param sources of each signal, by path
   * @param wrong the path of the port that is wrong
   * @param given steps whose signals are known
   */
  StageFinder(
      StepSample cases,
      SignalSample sample,
      Optional<Datapath> datapath,
      Map<String, List<String>> sources,
      String wrong,
      int mostDelay,
      List<GivenStage> given) {
    this.wrongPort = wrong;
    this.sources = sources;
    this.way = Blame.wayTo(wrong, sources);
    this.mostDelay = mostDelay;
    this.cases = cases;
    this.sample = sample;
    this.datapath = datapath;
    this.operands = datapath.map(Datapath::operands).orElse(Map.of());
    Set<String> made = new LinkedHashSet<>(way);
    made.removeIf(path -> sources.getOrDefault(path, List.of()).isEmpty()); // an input is right
    this.stations = new StationFinder(cases, sample, operands, made, datapath, mostDelay).find();
    GivenStations.replace(given, cases, sample, stations, mostDelay);
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
      int index = cases.stepNamed(operand);
      latest = index < 0 || index == step ? latest : Math.max(latest, delay(index));
    }
    return latest;
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
        same
            ? Relation.AGREES
            : matters(step, station, caseIndex) ? Relation.DIFFERS : Relation.UNUSED,
        givenSteps.contains(operand.name())
            ? station.how().replace("by name", "as given")
            : station.how());
  }

  /** Whether a step that is right wherever it matters does so in a case. */
  private boolean matters(int step, Station station, int caseIndex) {
    return !station.isExact()
        || datapath
            .filter(steps -> !steps.hasState())
            .map(steps -> cases.matters(steps, step)[caseIndex])
            .orElse(true);
  }

  /** Bits of a signal as a code of a format. */
  private static BigInteger read(Format format, BigInteger value, int width) {
    int bits = Math.min(width, format.width());
    BigInteger code = value.mod(BigInteger.ONE.shiftLeft(Math.max(bits, 1)));
    return format.signed() && code.testBit(bits - 1)
        ? code.subtract(BigInteger.ONE.shiftLeft(bits))
        : code;
  }

  /**
   * The first signal from which the reference goes on to what the DUT gave.
   *
   * @param caseIndex the case of the mismatch
   * @param isOfTime whether its results are right in another cycle
   */
  Optional<FirstWrong.Found> firstWrong(
      Reference reference, OutputCheck[] checks, int output, int caseIndex, boolean isOfTime) {
    return reference
        .exactSteps()
        .filter(steps -> !steps.hasState())
        .flatMap(
            steps ->
                new FirstWrong(
                        steps,
                        cases,
                        sample,
                        stations,
                        way,
                        sources,
                        checks,
                        output,
                        mostDelay,
                        caseIndex,
                        firstUnknown())
                    .find(isOfTime));
  }

  /**
   * The signals that do what explains the mismatches, where that can be seen and tells more.
   *
   * @param changes of the reference, each of which explains them, by number
   * @param found the first wrong signal, where one was found
   */
  List<ChangedStep.Found> changed(List<Integer> changes, Optional<FirstWrong.Found> found) {
    if (datapath.isEmpty() || datapath.get().hasState()) {
      return List.of();
    }
    ChangedStep step =
        new ChangedStep(datapath.get(), cases, sample, stations, way, sources, mostDelay);
    List<ChangedStep.Found> changed = step.of(changes);
    return step.tellMore(changed, found) ? changed : List.of();
  }

  private int firstUnknown() {
    return blame.rootsOf(wrongPort).stream()
        .mapToInt(Blame.Root::delay)
        .min()
        .orElse(Integer.MAX_VALUE);
  }

  /** The signals that the facts name as wrong first. */
  List<Inside.Wrong> named() {
    return List.copyOf(named);
  }

  /**
   * What there is to say of the first wrong stage; the stages have to be known.
   *
   * @param found the first wrong signal, where one was found
   * @param changed signals that do what explains the mismatches
   */
  List<Fact> facts(
      Mismatch mismatch, Optional<FirstWrong.Found> found, List<ChangedStep.Found> changed) {
    boolean isOfFlow = mismatch.kind() == Mismatch.Kind.CHANGED_WHILE_STALLED;
    if (mismatch.output().isEmpty() || isOfFlow) {
      return time();
    }
    Optional<Stage> wrong =
        (changed.isEmpty() ? stages.stream() : Stream.of(stages.get(changed.get(0).step())))
            .filter(stage -> stage.relation() == Relation.DIFFERS)
            .findFirst();
    String start = wrong.map(Stage::signal).orElse(wrongPort);
    List<Blame.Root> roots = changed.isEmpty() ? blame.rootsOf(start) : List.of();
    List<String> lines =
        new ArrayList<>(
            !changed.isEmpty()
                ? done(changed)
                : found
                    .filter(one -> !one.byClue())
                    .flatMap(this::met)
                    .or(() -> found.map(this::said))
                    .orElseGet(() -> guessed(wrong, roots)));
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
    if (wrong.isEmpty() && roots.isEmpty() && found.isEmpty() && changed.isEmpty()) {
      register(wrongPort).ifPresent(path -> lines.add("first wrong: " + path + ", likely"));
      lines.add(
          "every signal on the way to "
              + wrongPort
              + (mismatch.kind() == Mismatch.Kind.VALUE_WRONG
                  ? " equals a step in one cycle or another: nothing tells where it goes wrong"
                  : " equals a step: it is a matter of time"));
    }
    return List.of(new Fact("stage", lines));
  }

  /** A signal that is wrong first, with its place. */
  private String wrong(int g) {
    Inside.Wrong one = new Inside.Wrong(sample.name(g), location(g));
    named.add(one);
    return one.signal() + " (" + one.location() + ")";
  }

  private String location(int g) {
    return sample.signals().get(g).location().toString();
  }

  /** Different cases that meet on the way to what is wrong first. */
  private Optional<List<String>> met(FirstWrong.Found found) {
    return found.signals().stream()
        .flatMap(g -> blame.rootsOf(sample.name(g)).stream())
        .filter(Blame.Root::mixes)
        .findFirst()
        .map(
            root ->
                List.of(
                    "first wrong: " + wrong(root.signal()) + ", in which different cases meet"));
  }

  private List<String> said(FirstWrong.Found found) {
    String delay = found.delay() + (found.delay() == 1 ? " cycle" : " cycles");
    String step = String.join(" and ", found.steps().stream().map(Operand::name).toList());
    List<String> lines = new ArrayList<>();
    for (int g : found.signals()) {
      lines.add(
          (lines.isEmpty() ? "first wrong: " : "        and: ")
              + wrong(g)
              + ", "
              + delay
              + " after its case went in");
    }
    if (found.rightAt() >= 0) {
      int early = found.delay() - found.rightAt();
      lines.add(
          "  it is right "
              + Math.abs(early)
              + (Math.abs(early) == 1 ? " cycle " : " cycles ")
              + (early > 0 ? "before" : "later")
              + ", and meets what belongs to another case");
    }
    lines.add(
        "  with it for "
            + step
            + " the reference gives what the DUT gave, in all "
            + found.results()
            + " results, "
            + found.wrong()
            + " of them wrong");
    return lines;
  }

  private List<String> done(List<ChangedStep.Found> changed) {
    List<String> lines = new ArrayList<>();
    for (ChangedStep.Found one : changed) {
      int delay = one.station().delay();
      lines.add(
          (lines.isEmpty() ? "first wrong: " : "        and: ")
              + wrong(one.station().signal())
              + ", "
              + delay
              + (delay == 1 ? " cycle" : " cycles")
              + " after its case went in");
      lines.add(
          "  it equals step "
              + cases.steps().get(one.step()).name()
              + ", changed as the likely explanation says, in all "
              + one.station().cases()
              + " cases; unchanged in "
              + (one.station().cases() - one.unlike()));
    }
    return lines;
  }

  /** Where no signal explains every result: where different cases meet, or what is not right. */
  private List<String> guessed(Optional<Stage> wrong, List<Blame.Root> roots) {
    return roots.stream()
        .filter(Blame.Root::mixes)
        .findFirst()
        .map(Blame.Root::signal)
        .or(() -> wrong.map(stage -> sample.find(stage.signal())))
        .or(() -> roots.stream().findFirst().map(Blame.Root::signal))
        .map(g -> List.of("first wrong: " + wrong(g) + ", likely"))
        .orElse(List.of());
  }

  /** The register that a valid or ready comes from. */
  private Optional<String> register(String port) {
    Deque<String> open = new ArrayDeque<>(List.of(port));
    Set<String> seen = new LinkedHashSet<>(open);
    while (!open.isEmpty()) {
      String here = open.poll();
      int g = sample.find(here);
      if (g >= 0 && sample.signals().get(g).register()) {
        return Optional.of(wrong(g));
      }
      sources.getOrDefault(here, List.of()).stream().filter(seen::add).forEach(open::add);
    }
    return Optional.empty();
  }

  /** A valid or ready is no step; what there is to say is whether any step is wrong. */
  private List<Fact> time() {
    List<Stage> found =
        stages.stream()
            .filter(stage -> stage.relation() != Relation.NOT_FOUND)
            .filter(stage -> stage.relation() != Relation.UNUSED)
            .toList();
    boolean all = found.stream().allMatch(stage -> stage.relation() == Relation.AGREES);
    List<String> lines = new ArrayList<>();
    register(wrongPort).ifPresent(path -> lines.add("first wrong: " + path + ", of " + wrongPort));
    if (all && !found.isEmpty()) {
      Stage last = found.get(found.size() - 1);
      lines.add("all " + found.size() + " steps that were found agree, the last is " + named(last));
    }
    return lines.isEmpty() ? List.of() : List.of(new Fact("stage", lines));
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
        .map(name -> named(stages.get(cases.stepNamed(name))))
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
      int index = cases.stepNamed(operand);
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
    return CodeText.both(stage.step(), code);
  }
}
