package dev.plumbline.lockstep;

import dev.plumbline.check.Pins;
import dev.plumbline.check.SoftDut;
import dev.plumbline.check.SoftEngine;
import dev.plumbline.drive.Engine;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.program.WordLayout;
import dev.plumbline.models.traversal.Alteration;
import dev.plumbline.models.traversal.ExecutorTiming;
import dev.plumbline.models.traversal.Pace;
import dev.plumbline.models.traversal.Predictor;
import dev.plumbline.models.traversal.RayRules;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.models.traversal.Retirement;
import dev.plumbline.models.traversal.SceneUnits;
import dev.plumbline.models.traversal.SurfaceNumber;
import dev.plumbline.models.traversal.Traversal;
import dev.plumbline.rtl.Design;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.function.Consumer;

/**
 * A scene executor in software: it loads words, takes rays, retires operations and gives results as
 * the model of {@code models.traversal} has them, unless a fault says otherwise.
 */
final class SoftExecutor implements SoftDut {
  /** What can be wrong with it. */
  enum Fault {
    NONE,
    DROPS_THE_LAST_SPAN,
    RESULT_LATE_BY_SEVEN,
    OPERATION_LATE_BY_THREE,
    RESULT_EARLY_BY_ONE,
    LOSES_A_RESULT,
    LOSES_AN_OPERATION,
    REPEATS_AN_OPERATION,
    SWAPS_TWO_OPERATIONS,
    CHANGES_WHILE_STALLED,
    WITHDRAWS_WHILE_STALLED,
    RESULT_WITHOUT_A_RAY,
    READY_WHILE_BUSY,
    NEVER_READY_AGAIN,
    PREDICTOR_OUTLIVES_RESET,
    RESULT_UNDER_RESET,
    OPERATION_UNDER_RESET,
    COUNTS_ONE_OPERATION_MORE,
    TELLS_THE_TAG_BEFORE,
    TELLS_THE_OTHER_SIDE,
    SURFACE_FOLLOWS_THE_ADDRESS,
    SURFACE_A_CYCLE_LATE,
    IGNORES_AN_ABORT,
    FORGETS_PREDICTIONS_ON_ABORT,
    WITHHOLDS_UNDER_ABORT, // which is none
    OPERATION_WRONG_UNDER_ABORT,
    RESULT_WRONG_UNDER_ABORT,
    READY_UNDER_ABORT
  }

  static final SceneFormats FORMATS = SceneFormats.of(Format.signed(8, 8), Format.signed(2, 8));
  private static final ProgramLimits LIMITS = new ProgramLimits(64, 3, 8);
  private static final int SPANS = 2;
  private static final Pace PACE =
      Pace.of(5, 6).withEarlyDecision(2, 2).withFlush(3).withLearning(2).withClose(1).withResult(2);
  private static final int INDEX_BITS = 2;

  /** One ray in so many shows a fault that is not in all of them. */
  private static final int FAULTY = 5;

  /** What its header would promise. */
  static Executor.Builder promise() {
    return Executor.of(FORMATS, LIMITS)
        .spans(SPANS)
        .timing(PACE, Predictor.Policy.TWO_BIT, INDEX_BITS);
  }

  private static final SoftPorts PORTS = new SoftPorts(FORMATS, LIMITS, SPANS);
  private static final Set<String> PINS = PORTS.pins();
  private static final int WORD_BITS = WordLayout.standard(FORMATS).width();
  static final Design DESIGN = PORTS.design();

  static Engine.Maker maker(Fault fault) {
    return opening ->
        new SoftEngine(new SoftExecutor(fault, opening.start(), opening.seed()), PINS, opening);
  }

  static LockstepBench.Builder bench(Fault fault) {
    return bench(maker(fault));
  }

  /** A good one that is handed out as it is opened. */
  static LockstepBench.Builder watched(Consumer<SoftExecutor> opened) {
    return bench(
        opening -> {
          SoftExecutor executor = new SoftExecutor(Fault.NONE, opening.start(), opening.seed());
          opened.accept(executor);
          return new SoftEngine(executor, PINS, opening);
        });
  }

  /** A good one by other rules, held to rules. */
  static LockstepBench.Builder ruled(RayRules its, RayRules promised) {
    return bench(maker(Alteration.NONE, its)).executor(promise().rules(promised).build());
  }

  /** One that does one thing otherwise. */
  static LockstepBench.Builder altered(Alteration altered) {
    return bench(maker(altered, RayRules.standard()));
  }

  static Engine.Maker maker(Alteration altered, RayRules its) {
    return opening ->
        new SoftEngine(
            new SoftExecutor(Fault.NONE, altered, its, opening.start(), opening.seed()),
            PINS,
            opening);
  }

  private static LockstepBench.Builder bench(Engine.Maker maker) {
    return new LockstepBench.Builder(DESIGN, maker, "0123abcd")
        .named("soft executor")
        .executor(promise().build())
        .withoutCoverage()
        .cases(1_100);
  }

  /** What a row shows beyond valid and ready, by port. */
  private record Observed(long age, Map<String, Long> values) {}

  private final Fault fault;
  private final Predictor predictor = Predictor.of(Predictor.Policy.TWO_BIT, INDEX_BITS);
  private final Traversal traversal;
  private final Alteration altered;
  private final RayRules rules;
  private final Rays ray = Rays.of(FORMATS, 1);
  private Program program;
  private int[] learnt = new int[0]; // predictions before the ray in hand
  private boolean abortedBefore;
  private final Map<Integer, BigInteger> memory = new HashMap<>();
  private int length; // of the program loaded last
  private BigInteger surface; // what stands at the port
  private BigInteger lateSurface = BigInteger.ZERO;
  private long tagBefore;
  private ExecutorTiming timing;
  private List<Observed> operations = new ArrayList<>(); // of the ray in hand
  private Map<String, Long> result = Map.of();
  private long resultAge;
  private boolean busy;
  private long age; // cycles since the ray in hand was accepted
  private long taken; // rays
  private boolean stalledBefore;
  private int waited; // cycles of the result at hand
  private int idle; // cycles without a ray
  private boolean wasReset; // the cycle before
  final List<Integer> waits = new ArrayList<>(); // of results, until they were taken
  final List<Integer> gaps = new ArrayList<>(); // before rays

  SoftExecutor(Fault fault, Engine.Start start, long seed) {
    this(fault, Alteration.NONE, RayRules.standard(), start, seed);
  }

  private SoftExecutor(
      Fault fault, Alteration altered, RayRules rules, Engine.Start start, long seed) {
    this.fault = fault;
    this.rules = rules;
    this.surface = BigInteger.valueOf(new Random(seed).nextLong());
    this.altered = altered;
    this.traversal = Traversal.altered(SceneUnits.of(FORMATS), SPANS, rules, altered);
    Random chance = new Random(seed);
    for (int i = 0; i < 1 << INDEX_BITS; i++) {
      int state =
          switch (start) {
            case ZEROS -> 0;
            case ONES -> 3;
            case RANDOM -> chance.nextInt(4);
          };
      predictor.setState(i, state);
    }
    timing = new ExecutorTiming(PACE, predictor, altered);
  }

  private boolean is(Fault any) {
    return fault == any;
  }

  private boolean isFaulty() {
    return taken % FAULTY == 0 || fault == Fault.RESULT_LATE_BY_SEVEN;
  }

  @Override
  public void settle(Pins pins) {
    PINS.forEach(pin -> pins.set(pin, 0));
    boolean deaf = is(Fault.NEVER_READY_AGAIN) && taken == 40;
    pins.set(
        "ray_ready",
        !pins.isHigh("rst")
            && !deaf
            && !abortedBefore
            && (!busy
                || (is(Fault.READY_WHILE_BUSY) && age == 3)
                || isUnderAbort(pins, Fault.READY_UNDER_ABORT)));
    show(pins, is(Fault.SURFACE_A_CYCLE_LATE) ? lateSurface : surface);
    if (!busy) {
      boolean underReset = pins.isHigh("rst") && wasReset;
      pins.set(
          "result_valid",
          (is(Fault.RESULT_WITHOUT_A_RAY) && taken == 12)
              || (is(Fault.RESULT_UNDER_RESET) && underReset));
      pins.set("retire_valid", is(Fault.OPERATION_UNDER_RESET) && underReset);
      return;
    }
    for (Observed operation : operations) {
      if (operation.age() == age) {
        pins.set("retire_valid", true);
        operation.values().forEach(pins::set);
        if (isUnderAbort(pins, Fault.OPERATION_WRONG_UNDER_ABORT)) {
          pins.set("retire_address", pins.get("retire_address") ^ 1);
        }
      }
    }
    if (age >= resultAge) {
      boolean withdrawn = is(Fault.WITHDRAWS_WHILE_STALLED) && stalledBefore;
      pins.set("result_valid", !withdrawn);
      result.forEach(pins::set);
      if (is(Fault.CHANGES_WHILE_STALLED) && stalledBefore) {
        pins.set("result_material", pins.get("result_material") ^ 1);
      }
      if (isUnderAbort(pins, Fault.RESULT_WRONG_UNDER_ABORT)) {
        pins.set("result_cycles", pins.get("result_cycles") + 1);
      }
    }
    if (isUnderAbort(pins, Fault.WITHHOLDS_UNDER_ABORT)) {
      List.of("retire_valid", "result_valid", "ray_ready").forEach(pin -> pins.set(pin, 0));
    }
  }

  private boolean isUnderAbort(Pins pins, Fault which) {
    return is(which) && pins.isHigh("ray_abort");
  }

  private void show(Pins pins, BigInteger word) {
    for (int bit = 0; bit < WORD_BITS; bit += Long.SIZE) {
      String further = bit == 0 ? "" : "." + bit / Long.SIZE;
      pins.set("surface_word" + further, word.shiftRight(bit).longValue());
    }
  }

  private void read(Pins pins) {
    lateSurface = surface;
    boolean reads = pins.isHigh("surface_read") || is(Fault.SURFACE_FOLLOWS_THE_ADDRESS);
    if (reads && !pins.isHigh("load_valid")) {
      int address = (int) pins.get("surface_address");
      surface = memory.getOrDefault(address, BigInteger.ZERO);
    }
  }

  @Override
  public void edge(Pins pins) {
    read(pins);
    wasReset = pins.isHigh("rst");
    if (wasReset) {
      forget();
      busy = false;
      traversal.reset();
      timing = new ExecutorTiming(PACE, predictor, altered);
      return;
    }
    abortedBefore = busy && pins.isHigh("ray_abort") && !is(Fault.IGNORES_AN_ABORT);
    if (abortedBefore) {
      abort();
      return;
    }
    if (pins.isHigh("load_valid")) {
      load(pins);
    }
    boolean takes = pins.isHigh("ray_valid") && pins.isHigh("ray_ready") && !busy;
    boolean isLost = is(Fault.LOSES_A_RESULT) && isFaulty() && age + 1 == resultAge;
    boolean isOver = pins.isHigh("result_valid") && pins.isHigh("result_ready");
    stalledBefore = pins.isHigh("result_valid") && !isOver;
    waited += stalledBefore ? 1 : 0;
    idle += !busy && !takes ? 1 : 0;
    if (isOver) {
      waits.add(waited);
      waited = 0;
    }
    if (takes) {
      gaps.add(idle);
      idle = 0;
    }
    age++;
    if (busy && (isOver || isLost)) {
      busy = false;
    }
    if (takes) {
      accept(pins);
    }
  }

  private void load(Pins pins) {
    int address = (int) pins.get("load_address");
    length = address + 1; // words come from the first on
    BigInteger word = BigInteger.ZERO;
    for (int i = (WordLayout.standard(FORMATS).width() - 1) / Long.SIZE; i >= 0; i--) {
      long part = pins.get(i == 0 ? "load_word" : "load_word." + i);
      word = word.shiftLeft(Long.SIZE).or(new BigInteger(Long.toUnsignedString(part)));
    }
    memory.put(address, word);
  }

  /** A reset clears the predictions, or keeps those that were there in the cycle before. */
  private void forget() {
    boolean keepsOthers = altered == Alteration.OTHER_PREDICTIONS_KEPT;
    boolean keepsAll = is(Fault.PREDICTOR_OUTLIVES_RESET) || altered == Alteration.PREDICTIONS_KEPT;
    if (busy && (keepsAll || keepsOthers)) {
      learnUntil(age - PACE.learning() + 1);
    }
    timing.settle();
    if (keepsOthers) {
      predictor.setState(0, 0);
    } else if (!keepsAll) {
      predictor.reset();
    }
  }

  private void learnUntil(long cycle) {
    predictor.setStates(learnt);
    timing.cutAt(cycle);
    traversal.run(program, ray, 0, 1, timing, observed -> {});
    timing.endCut();
  }

  private void abort() {
    learnUntil(age);
    if (is(Fault.FORGETS_PREDICTIONS_ON_ABORT)) {
      predictor.reset();
    }
    busy = false;
    stalledBefore = false;
    age++;
  }

  private void accept(Pins pins) {
    List<BigInteger> words = new ArrayList<>();
    for (int i = 0; i < length; i++) {
      words.add(memory.get(i));
    }
    program = WordLayout.standard(FORMATS).decode(words, FORMATS, LIMITS);
    Rays.names().forEach(name -> ray.column(name)[0] = pins.get("ray_" + name));
    operations = new ArrayList<>();
    timing.settle();
    learnt = predictor.states();
    traversal.run(program, ray, 0, 1, timing, this::retire);
    busy = true;
    age = 1;
    taken++;
    spoil();
  }

  private void retire(Retirement observed) {
    Map<String, Long> values = new HashMap<>();
    int count = observed.top().count();
    count -= is(Fault.DROPS_THE_LAST_SPAN) && count == SPANS ? 1 : 0;
    values.put("retire_address", (long) observed.address());
    values.put(
        "retire_operation",
        (long) WordLayout.standard(FORMATS).opcode(observed.operation().kind()));
    values.put("retire_taken", bit(observed.isSkipTaken()));
    values.put("retire_height", (long) observed.height());
    values.put("retire_count", (long) count);
    long distances = 0;
    BigInteger surfaces = BigInteger.ZERO;
    long materials = 0;
    long reversed = 0;
    for (int end = 2 * count - 1; end >= 0; end--) {
      distances = distances << 16 | (observed.top().distance(end) & 0xFFFF);
      surfaces = surfaces.shiftLeft(9).or(BigInteger.valueOf(surface(observed.top().surface(end))));
      materials = materials << 3 | observed.material(end);
      reversed = reversed << 1 | bit(observed.top().isReversed(end));
    }
    values.put("retire_distance", distances);
    values.put("retire_surface", surfaces.longValueExact());
    values.put("retire_material", materials);
    values.put("retire_reversed", reversed);
    values.put("retire_overflow", bit(observed.hasOverflowed()));
    values.putAll(best("retire_best_", observed, observed.isFound()));
    values.put("retire_best_surface", observed.isFound() ? surface(observed.surface()) : 0);
    operations.add(new Observed(observed.cycle(), values));
    if (observed.isLast()) {
      boolean told = observed.isFound() && !(rules.anyHitAlone() && observed.isAnyHit());
      result = best("result_", observed, told);
      int side = is(Fault.TELLS_THE_OTHER_SIDE) && told ? 1 : 0;
      result.put("result_address", told ? (long) SurfaceNumber.address(observed.surface()) : 0);
      result.put("result_face", told ? (long) SurfaceNumber.face(observed.surface()) ^ side : 0);
      result.put("result_tag", is(Fault.TELLS_THE_TAG_BEFORE) ? tagBefore : observed.tag());
      tagBefore = observed.tag();
      result.put("result_overflow", bit(observed.hasOverflowed()));
      result.put("result_cycles", timing.cycles());
      result.put("result_operations", timing.retired());
      result.put("result_predicted_right", timing.right());
      result.put("result_predicted_wrong", timing.wrong());
      resultAge = timing.result();
    }
  }

  /** Face above address, which has six bits. */
  private static long surface(int surface) {
    return (long) SurfaceNumber.face(surface) << 6 | SurfaceNumber.address(surface);
  }

  private static Map<String, Long> best(String prefix, Retirement observed, boolean found) {
    Map<String, Long> values = new HashMap<>();
    values.put(prefix + "hit", bit(observed.isFound()));
    values.put(prefix + "distance", found ? observed.distance() : 0);
    values.put(prefix + "material", found ? (long) observed.material() : 0);
    values.put(prefix + "reversed", bit(found && observed.isReversed()));
    values.put(prefix + "inward", bit(found && observed.isInward()));
    return values;
  }

  private static long bit(boolean set) {
    return set ? 1 : 0;
  }

  /** What a fault makes of the ray just taken. */
  private void spoil() {
    int last = operations.size() - 1;
    switch (isFaulty() ? fault : Fault.NONE) {
      case RESULT_LATE_BY_SEVEN -> resultAge += 7;
      case RESULT_EARLY_BY_ONE -> resultAge -= 1;
      case OPERATION_LATE_BY_THREE -> {
        operations.set(
            last, new Observed(operations.get(last).age() + 3, operations.get(last).values()));
        resultAge += 3;
      }
      case LOSES_AN_OPERATION -> operations.remove(last / 2);
      case REPEATS_AN_OPERATION -> {
        for (int i = last; i >= last / 2; i--) { // all behind it move by a cycle
          operations.set(i, new Observed(operations.get(i).age() + 1, operations.get(i).values()));
        }
        Observed repeated = operations.get(last / 2);
        operations.add(last / 2, new Observed(repeated.age() - 1, repeated.values()));
        resultAge += 1;
      }
      case SWAPS_TWO_OPERATIONS -> {
        if (last > 0) {
          Observed first = operations.get(last - 1);
          Observed second = operations.get(last);
          operations.set(last - 1, new Observed(first.age(), second.values()));
          operations.set(last, new Observed(second.age(), first.values()));
        }
      }
      case COUNTS_ONE_OPERATION_MORE -> result.merge("result_operations", 1L, Long::sum);
      default -> {}
    }
  }
}
