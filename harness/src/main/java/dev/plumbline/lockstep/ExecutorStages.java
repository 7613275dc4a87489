package dev.plumbline.lockstep;

import dev.plumbline.cosim.DutException;
import dev.plumbline.cosim.Watch;
import dev.plumbline.drive.Engine;
import dev.plumbline.drive.Segment;
import dev.plumbline.lockstep.QuantityMatch.By;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import dev.plumbline.rtl.Signal;
import dev.plumbline.verdict.Stage;
import dev.plumbline.verdict.Stage.Relation;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** Which quantity of an executor goes wrong first inside a DUT, and which are right until then. */
final class ExecutorStages {
  /** Cycles that are looked at before what shows outside. */
  private static final int WINDOW = 16_384;

  /** Cycles that are too few to tell by which signals are which. */
  private static final int SHORT = 4096;

  /** Cycles of another segment that tell it. */
  private static final int ENOUGH = 512;

  /** Cycles that are looked at elsewhere at most. */
  private static final int MORE = 8192;

  /** Beyond so many cycles without anything due, what failed lies where something was due. */
  private static final int LONG_WAIT = 2048;

  private final LockstepSubject subject;
  private final Engine.Maker maker;
  private final Segment segment;
  private final Optional<Change> change; // that the DUT agrees with

  ExecutorStages(
      LockstepSubject subject, Engine.Maker maker, Segment segment, Optional<Change> change) {
    this.change = change;
    this.subject = subject;
    this.maker = maker;
    this.segment = segment;
  }

  /**
   * The same where a change that the DUT agrees with may be known; what no reset clears is looked
   * at where the DUT wakes up with zeros.
   */
  static List<Stage> of(
      LockstepSubject subject, Engine.Maker maker, Segment segment, long wrong, Change agreed) {
    Optional<Change> change = Optional.ofNullable(agreed);
    boolean lasts = agreed != null && (agreed.lasts() || agreed.keepsPredictions());
    if (lasts) {
      Segment known = SceneKinds.knownTo(agreed, segment);
      long[] rows = firstWrong(subject, known);
      List<Stage> stages =
          rows.length == 0
              ? List.of()
              : new ExecutorStages(subject, maker, known, change).stages(rows[0]);
      if (!stages.isEmpty()) {
        return stages;
      }
      change = Optional.empty();
    }
    return new ExecutorStages(subject, maker, segment, change).stages(wrong);
  }

  private static long[] firstWrong(LockstepSubject subject, Segment segment) {
    try {
      return new LockstepRunner(subject).run(segment).tally().rows();
    } catch (DutException e) {
      return new long[0];
    }
  }

  /** The stages to be shown, those that are right first; none where nothing is known. */
  List<Stage> stages(long wrong) {
    Executor executor = subject.executor();
    CycleWatcher outside =
        new CycleWatcher(
            new CycleModel(executor, Change.NONE, new Quantities(wrong + 1)), wrong, true);
    run(subject, Change.NONE, segment, outside);
    long last = wrong - outside.apart() > LONG_WAIT ? outside.apart() : wrong;
    long first = Math.max(0, last - WINDOW);
    try {
      return look(first, last, change);
    } catch (IndexOutOfBoundsException e) {
      return look(first, last, Optional.empty()); // so changed a model runs off its program
    }
  }

  private List<Stage> look(long first, long last, Optional<Change> change) {
    Optional<Recorded> seen = recorded(subject, segment, first, last, change);
    if (seen.isEmpty()) {
      return List.of();
    }
    Optional<Recorded> longer = Optional.empty();
    if (seen.get().slices().rows() < SHORT && change.isPresent()) {
      // The DUT goes on agreeing with it.
      longer = recorded(subject, segment, last + 1, last + MORE, change);
    } else if (seen.get().slices().rows() < SHORT && subject.driving().script().isEmpty()) {
      Optional<RightForLonger> other = RightForLonger.than(subject, segment, last);
      if (last < ENOUGH && other.stream().noneMatch(one -> one.row() >= ENOUGH)) {
        other = RightForLonger.rayByRay(subject, segment);
      }
      longer = other.filter(one -> one.row() >= ENOUGH).flatMap(one -> recorded(one, change));
    }
    return stages(seen.get(), longer);
  }

  /**
   * What was seen inside.
   *
   * @param promised quantities
   * @param asFound those of the change that the DUT agrees with; the promised ones where none does
   */
  private record Recorded(SignalSlices slices, Quantities promised, Quantities asFound) {
    boolean isAsPromised() {
      return promised == asFound;
    }
  }

  private Optional<Recorded> recorded(RightForLonger longer, Optional<Change> change) {
    long first = Math.max(0, longer.row() - MORE);
    return recorded(longer.subject(), longer.segment(), first, longer.row(), change);
  }

  private Optional<Recorded> recorded(
      LockstepSubject driven, Segment of, long first, long last, Optional<Change> change) {
    AtomicReference<Watch> opened = new AtomicReference<>();
    Optional<Engine.Maker> probe = maker.watching(first, (int) (last - first + 1), opened::set);
    if (probe.isEmpty()) {
      return Optional.empty();
    }
    Executor executor = subject.executor();
    Quantities promised = new Quantities(first);
    CycleWatcher watcher =
        new CycleWatcher(new CycleModel(executor, Change.NONE, promised), last, false);
    Optional<Quantities> otherwise = change.map(known -> new Quantities(first));
    otherwise.ifPresent(changed -> watcher.and(new CycleModel(executor, change.get(), changed)));
    run(driven.through(probe.get()), change.orElse(Change.NONE), of, watcher);
    Watch watch = opened.get();
    if (watch == null) {
      return Optional.empty();
    }
    if (first + watch.rows() <= last && watch.rows() < WINDOW && watcher.isOver()) {
      // Of very many signals fewer cycles are recorded: the last ones count.
      return recorded(driven, of, last - watch.rows() + 1, last, change);
    }
    return Optional.of(new Recorded(SignalSlices.of(watch), promised, otherwise.orElse(promised)));
  }

  private static void run(
      LockstepSubject through, Change change, Segment of, CycleWatcher watcher) {
    try {
      new LockstepRunner(through, change).run(of, watcher);
    } catch (DutException e) {
      // it ended; what was seen until then counts
    }
  }

  /**
   * Signals are found by what they may be, and held to what they should be; where a segment is
   * wrong too soon to tell, they are found in another one that is right for longer.
   */
  private List<Stage> stages(Recorded seen, Optional<Recorded> longer) {
    SignalSlices slices = seen.slices();
    Quantities quantities = seen.promised();
    Function<Quantity, List<QuantityMatch>> elsewhere = elsewhere(slices, longer);
    QuantityMatches matches = new QuantityMatches(slices);
    List<QuantityMatch> found = new ArrayList<>();
    quantities.all().forEach(one -> atPort(slices, matches, one).ifPresent(found::add));
    for (Quantity quantity : quantities.all()) {
      if (seen.isAsPromised()) {
        found.addAll(matches.of(quantity));
        for (QuantityMatch match : elsewhere.apply(quantity)) {
          found.add(matches.compared(quantity, match, By.SEGMENT));
        }
      } else {
        List<QuantityMatch> changed = ofChange(seen, quantity, matches, elsewhere);
        found.addAll(
            changed.isEmpty() ? matches.of(quantity, seen.asFound().find(quantity)) : changed);
      }
    }
    FirstDifference first = new FirstDifference(slices, maker.sources(), given(slices), found);
    // Where much is known of what signals are, the others are none that could be suspected.
    boolean suspects = seen.isAsPromised() && longer.isEmpty();
    Optional<QuantityMatch> wrong = first.find(matches, suspects ? quantities.all() : List.of());
    if (wrong.isEmpty()) {
      return List.of();
    }
    List<Stage> stages = new ArrayList<>();
    Map<String, QuantityMatch> agreeing = new LinkedHashMap<>();
    first.right().stream()
        .filter(match -> match.quantity().flow.compareTo(wrong.get().quantity().flow) <= 0)
        .filter(match -> match.quantity() != wrong.get().quantity())
        .filter(match -> lastCompared(slices, match) >= 0)
        .forEach(match -> agreeing.putIfAbsent(match.quantity().name, match));
    agreeing.values().forEach(match -> stages.add(stage(slices, quantities, match)));
    CopiedFrom copied =
        new CopiedFrom(slices, longer.map(Recorded::slices), maker.sources(), first.right());
    stages.add(from(stage(slices, quantities, wrong.get()), wrong.get(), slices, copied));
    return stages;
  }

  /** Ports that are driven. */
  private Set<Integer> given(SignalSlices slices) {
    Design design = subject.ports().design();
    return design.ports().stream()
        .filter(port -> port.direction() == Port.Direction.INPUT)
        .map(port -> slices.find(design.top() + "." + port.name()))
        .filter(g -> g >= 0)
        .collect(Collectors.toSet());
  }

  /** The last row in which a signal was held to a quantity; -1 where it never was. */
  private static int lastCompared(SignalSlices slices, QuantityMatch match) {
    int row = Math.min(match.quantity().rows() + match.delay(), slices.rows()) - 1;
    while (row >= 0 && !match.quantity().isDefined(row - match.delay())) {
      row--;
    }
    return row;
  }

  /** Which signals have a quantity elsewhere; of those that are alike in this window the first. */
  private static Function<Quantity, List<QuantityMatch>> elsewhere(
      SignalSlices slices, Optional<Recorded> longer) {
    if (longer.isEmpty()) {
      return quantity -> List.of();
    }
    SignalSlices there = longer.get().slices();
    slices.apartAsIn(there);
    QuantityMatches matches = new QuantityMatches(there);
    return quantity ->
        longer.get().asFound().find(quantity).map(matches::of).orElse(List.of()).stream()
            .flatMap(match -> there.alike(match.g()).stream().map(match::at))
            .map(match -> match.at(slices.firstAlike(match.g())))
            .distinct()
            .toList();
  }

  /**
   * Signals that have what the change makes of a quantity throughout, held to what it should be.
   */
  private static List<QuantityMatch> ofChange(
      Recorded seen,
      Quantity quantity,
      QuantityMatches matches,
      Function<Quantity, List<QuantityMatch>> elsewhere) {
    Optional<Quantity> changed = seen.asFound().find(quantity);
    if (changed.isEmpty()) {
      return List.of();
    }
    return Stream.concat(
            matches.of(changed.get()).stream(),
            elsewhere.apply(quantity).stream()
                .filter(QuantityMatch::isRight)
                .filter(match -> matches.compared(changed.get(), match, By.CHANGE).isRight()))
        .filter(QuantityMatch::isRight)
        .map(match -> matches.compared(quantity, match, By.CHANGE))
        .toList();
  }

  private Optional<QuantityMatch> atPort(
      SignalSlices slices, QuantityMatches matches, Quantity quantity) {
    if (quantity.role.isEmpty() || !subject.ports().has(quantity.role)) {
      return Optional.empty();
    }
    int g = slices.find(subject.ports().design().top() + "." + subject.ports().name(quantity.role));
    if (g < 0) {
      return Optional.empty();
    }
    int width = Math.min(quantity.bits, slices.signal(g).width());
    int offset = quantity.element * quantity.bits;
    return offset + width <= slices.signal(g).width()
        ? Optional.of(matches.compared(quantity, g, offset, width, 0, By.PORT))
        : Optional.empty();
  }

  private Stage stage(SignalSlices slices, Quantities quantities, QuantityMatch match) {
    Signal signal = slices.signal(match.g());
    Quantity quantity = match.quantity();
    int row = match.isRight() ? lastCompared(slices, match) : match.differs();
    BigInteger expected = code(quantity.value(row - match.delay()));
    BigInteger actual = code(slices.bits(match.g(), match.offset(), match.width(), row));
    Operand step = new Operand(quantity.name, Format.unsigned(quantity.bits, 0));
    String bits =
        match.width() == signal.width()
            ? ""
            : match.width() == 1
                ? "bit " + match.offset() + " of it "
                : "bits "
                    + (match.offset() + match.width() - 1)
                    + " to "
                    + match.offset()
                    + " of it ";
    String until = match.isRight() ? "" : " before cycle " + (quantities.first() + row);
    String how =
        switch (match.by()) {
          case PORT -> "the port that shows it";
          case PROMISE -> bits + "equals it through " + match.agreed() + " changes" + until;
          case SEGMENT ->
              bits
                  + "equals it through "
                  + match.agreed()
                  + " changes in another segment, which is right for longer"
                  + (match.isRight() ? "" : "; in cycle " + (quantities.first() + row));
          case CHANGE ->
              bits
                  + "equals it through "
                  + match.agreed()
                  + " changes in a model in which "
                  + change.map(Change::words).orElse("nothing is otherwise")
                  + (match.isRight() ? "" : "; in cycle " + (quantities.first() + row) + ofWhat());
        };
    return new Stage(
        step,
        slices.name(match.g()),
        signal.location().toString(),
        match.delay(),
        expected,
        actual,
        match.isRight() ? Relation.AGREES : Relation.DIFFERS,
        how);
  }

  private String ofWhat() {
    boolean lasts = change.stream().anyMatch(one -> one.lasts() || one.keepsPredictions());
    return lasts ? " of the segment begun with zeros" : "";
  }

  /** The same at the signal that the wrong value has come from. */
  private static Stage from(
      Stage stage, QuantityMatch wrong, SignalSlices slices, CopiedFrom copied) {
    CopiedFrom.Place origin = copied.origin(wrong);
    return origin.g() == wrong.g()
        ? stage
        : new Stage(
            stage.step(),
            slices.name(origin.g()),
            slices.signal(origin.g()).location().toString(),
            stage.delay(),
            stage.expected(),
            stage.actual(),
            stage.relation(),
            "what comes to " + stage.signal() + ", which " + stage.how());
  }

  private static BigInteger code(long bits) {
    return new BigInteger(Long.toUnsignedString(bits));
  }
}
