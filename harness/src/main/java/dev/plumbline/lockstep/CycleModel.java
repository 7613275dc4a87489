package dev.plumbline.lockstep;

import dev.plumbline.lockstep.Quantity.Flow;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.traversal.Alteration;
import dev.plumbline.models.traversal.ExecutorTiming;
import dev.plumbline.models.traversal.Foreseen;
import dev.plumbline.models.traversal.Pace;
import dev.plumbline.models.traversal.PaceRules;
import dev.plumbline.models.traversal.Predictor;
import dev.plumbline.models.traversal.Rays;
import java.util.ArrayList;
import java.util.List;

/**
 * An executor cycle by cycle, wrong paths included, as the words of {@link Pace} have it: it takes
 * rays, fetches, dispatches, drops and retires, by what it is driven with alone. It fills {@link
 * Quantities}; in the cycles in which a wrong path vanishes, of which nothing is promised, those
 * are not defined.
 */
final class CycleModel {
  /** Cycles after a retirement that ends a ray or a wrong path in which that is made known. */
  private static final int HAZE = 2;

  /** What an executor is driven with in a row. */
  record Driven(
      boolean reset, boolean abort, boolean offered, boolean taking, boolean isDutReady) {}

  private record Lesson(long retired, int address, boolean taken) {}

  private final Executor executor;
  private final Change change;
  private final Pace pace; // as it is altered
  private final Predictor predictor;
  private final PaceRules rules;
  private final RayQuantities ofRay;
  private final FlightQuantities ofFlight;
  private final RetirementQuantities ofRetirement;
  private final Quantities quantities;
  private final List<Lesson> lessons = new ArrayList<>();
  private List<Flight> flights = new ArrayList<>();
  private RayInHand ray; // null for none
  private int pc; // -1 where nothing is to be fetched
  private int following; // what is fetched behind that; -1 for what is decided then
  private long dispatchFrom;
  private long lastRetired;
  private long resultFrom; // Long.MAX_VALUE until the last has retired
  private int next; // of the ray's operations that are due
  private long readyFrom;
  private long eitherAt = -1; // a row in which it may be ready or not
  private long unsaidUntil = -1; // rows in which what has been dropped may still run
  private long hazyUntil = -1;
  private long right;
  private long wrong;
  private boolean retiring;
  private boolean ready;
  private boolean offering;

  /** A dispatched operation. */
  record Flight(int address, long dispatched, boolean predicted) {}

  CycleModel(Executor executor, Change change, Quantities quantities) {
    this.executor = executor;
    this.change = change;
    this.quantities = quantities;
    this.predictor = executor.timing().predictor();
    this.rules = new PaceRules(executor.timing().pace(), predictor, change.altered());
    this.pace = rules.pace();
    this.ofRay = new RayQuantities(executor, quantities);
    this.ofFlight = new FlightQuantities(executor, pace, quantities);
    this.ofRetirement = new RetirementQuantities(executor, change, quantities);
  }

  boolean isReady() {
    return ready;
  }

  boolean isRetiring() {
    return retiring;
  }

  boolean isOffering() {
    return offering;
  }

  /** Whether an operation of a ray is on its way, or a result stands. */
  boolean isBusy() {
    return ray != null;
  }

  /** Passes a row; the ray on offer is one of the program that is loaded. */
  void row(long row, Driven driven, Program program, Rays rays, int offered) {
    retiring = false;
    ready = ray == null && (row == eitherAt ? driven.isDutReady() : row >= readyFrom);
    offering = ray != null && row >= resultFrom;
    learn(row);
    if (driven.reset()) {
      drop(row);
      lessons.clear();
      forgets();
      readyFrom = row + 1;
      return;
    }
    predictions(row);
    boolean runs = ray != null && !offering;
    boolean accepts = ready && driven.offered();
    if (accepts) {
      accept(row, program, rays, offered);
    }
    hazyUntil = driven.abort() ? row + HAZE : hazyUntil;
    if (ray != null) {
      run(row);
    }
    if (!driven.abort()) {
      ofRay.handshake(row, ready, offering);
      if (row > unsaidUntil) {
        ofRay.runs(row, runs);
      }
      ofRetirement.valid(row, retiring);
    }
    if (row > hazyUntil) {
      ofFlight.flights(row, flights, ray);
    }
    if (ray != null) {
      ofRay.inHand(row, ray);
      ofRetirement.state(row);
      counters(row);
      if (offering) {
        ofRetirement.result(row, counts(row));
      }
    }
    if (driven.abort()) {
      eitherAt = ray == null ? row + 1 : eitherAt;
      unsaidUntil = row + 1;
      drop(row);
      readyFrom = row + 2;
    } else if (offering && driven.taking()) {
      ray = null;
      readyFrom = row + 1;
    }
  }

  /** What stands at the port that reads surfaces, in a row in which a result does. */
  void reads(long row, long[] word) {
    ofRetirement.reads(row, word);
  }

  /** As a reset does. */
  private void forgets() {
    if (change.altered() == Alteration.OTHER_PREDICTIONS_KEPT) {
      predictor.setState(0, 0);
    } else if (change.altered() != Alteration.PREDICTIONS_KEPT) {
      predictor.reset();
    }
  }

  private void drop(long row) {
    ofRetirement.drop();
    ray = null;
    hazyUntil = row + HAZE;
    flights.forEach(ofFlight::vanishes);
    flights.clear();
    pc = -1;
  }

  private void learn(long row) {
    while (!lessons.isEmpty() && lessons.get(0).retired() + pace.learning() <= row) {
      Lesson lesson = lessons.remove(0);
      rules.learn(lesson.address(), lesson.taken());
    }
  }

  private void predictions(long row) {
    int[] states = predictor.states();
    int bits = executor.timing().states() > 2 ? 2 : 1;
    long packed = 0;
    for (int entry = 0; entry < states.length; entry++) {
      quantities
          .of(Flow.PREDICTION, "prediction " + entry, bits)
          .set(quantities.at(row), states[entry]);
      packed |= states.length * bits <= Long.SIZE ? (long) states[entry] << (entry * bits) : 0;
    }
    if (states.length * bits <= Long.SIZE) {
      quantities
          .of(Flow.PREDICTION, "all predictions", states.length * bits)
          .set(quantities.at(row), packed);
    }
  }

  private void accept(long row, Program program, Rays rays, int offered) {
    ray = new RayInHand(program, rays, offered, row);
    ofRetirement.accept(ray, rays, offered, timing());
    goOn(0);
    dispatchFrom = row + rules.first();
    lastRetired = row - 1;
    resultFrom = Long.MAX_VALUE;
    next = 0;
    right = 0;
    wrong = 0;
  }

  /** What has been learnt when a ray begins, for whoever goes through its operations alone. */
  private ExecutorTiming timing() {
    Predictor known = executor.timing().predictor();
    known.setStates(predictor.states());
    PaceRules learning = new PaceRules(executor.timing().pace(), known, change.altered());
    lessons.forEach(lesson -> learning.learn(lesson.address(), lesson.taken()));
    return new ExecutorTiming(executor.timing().pace(), known, change.altered());
  }

  private void goOn(int address) {
    pc = address < ray.program.length() ? address : -1;
    following = -1;
  }

  private int target(int address) {
    int later = change.altered() == Alteration.TARGET_LATER ? 1 : 0;
    return ray.program.at(address).target() + later;
  }

  /** Where a skip that was foretold wrongly goes on once that is known. */
  private int way(int address, boolean taken) {
    boolean again = change.altered() == Alteration.SKIP_AGAIN;
    return taken ? target(address) : again ? address : address + 1;
  }

  private void run(long row) {
    boolean room = flights.size() < pace.queue();
    List<Flight> arrived =
        flights.stream().filter(flight -> flight.dispatched() + pace.latency() <= row).toList();
    if (row > hazyUntil) {
      ofFlight.queue(row, arrived, ray);
    }
    if (!arrived.isEmpty() && next < ray.due.size()) {
      retire(row, arrived.get(0));
    }
    decide(row);
    boolean stands = pc >= 0 && row >= dispatchFrom;
    if (row > hazyUntil) {
      ofFlight.fetch(row, ray, stands ? pc : -1, stands && predicts(pc), stands && room);
    }
    if (stands && room) {
      dispatch(row);
    }
  }

  private boolean predicts(int address) {
    return ray.program.at(address).kind() == OperationKind.SKIP && rules.predicts(address);
  }

  private void retire(long row, Flight oldest) {
    RetiredOperation operation = ray.due.get(next);
    int cost =
        operation.kind() == OperationKind.CLOSE
            ? 1 + pace.close()
            : rules.retirement(operation.cost());
    long arrival = oldest.dispatched() + pace.latency();
    if (row != Math.max(arrival, lastRetired + 1) + cost - 1) {
      return;
    }
    retiring = true;
    next++;
    lastRetired = row;
    flights.remove(0);
    boolean turned = false;
    if (operation.isSkip()) {
      boolean agrees = oldest.predicted() == operation.taken();
      int counted = rules.isCounted(oldest.predicted(), operation.taken()) ? 1 : 0;
      right += agrees ? counted : 0;
      wrong += agrees ? 0 : counted;
      lessons.add(new Lesson(row, oldest.address(), operation.taken()));
      boolean thought = pace.decision() > 0 ? operation.early() : oldest.predicted();
      turned = thought != operation.taken();
    }
    ofRetirement.retires(row, operation, oldest.predicted(), turned);
    if (turned || operation.last()) {
      flights.forEach(ofFlight::vanishes);
      flights.clear();
      goOn(operation.taken() ? target(oldest.address()) : oldest.address() + 1);
      pc = operation.last() ? -1 : pc;
      dispatchFrom = row + pace.flush() + rules.afterWrong();
      hazyUntil = Math.max(hazyUntil, row + HAZE);
    }
    if (operation.last()) {
      resultFrom = row + pace.result();
    }
  }

  private void decide(long row) {
    for (int i = 0; pace.decision() > 0 && i < flights.size(); i++) {
      Flight flight = flights.get(i);
      Foreseen known = ray.foreseen[flight.address()];
      boolean isSkip = ray.program.at(flight.address()).kind() == OperationKind.SKIP;
      boolean now = isSkip && flight.dispatched() + pace.decision() == row;
      if (now && known.early() != flight.predicted()) {
        List<Flight> younger = flights.subList(i + 1, flights.size());
        younger.forEach(ofFlight::vanishes);
        younger.clear();
        goOn(way(flight.address(), known.early()));
        dispatchFrom = row + pace.redirection() + rules.afterWrong();
        hazyUntil = Math.max(hazyUntil, dispatchFrom - 1);
      }
    }
  }

  private void dispatch(long row) {
    boolean predicted = predicts(pc);
    Flight flight = new Flight(pc, row, predicted);
    flights.add(flight);
    OperationKind kind = ray.program.at(pc).kind();
    Foreseen known = ray.foreseen[pc];
    boolean decides = kind == OperationKind.SKIP && known != null;
    ofFlight.dispatched(flight, ray, decides ? way(pc, known.early()) : -1);
    dispatchFrom = row + (predicted ? rules.afterTaken() : rules.step());
    int behind = predicted ? target(pc) : following;
    if (change.altered() == Alteration.NEXT_BEFORE_THE_TARGET) {
      int slot = following >= 0 ? following : pc + 1;
      following = predicted ? target(pc) : -1;
      behind = slot;
    } else {
      behind = behind >= 0 ? behind : pc + 1;
    }
    pc = kind == OperationKind.END || behind >= ray.program.length() ? -1 : behind;
  }

  private long[] counts(long row) {
    long last = resultFrom == Long.MAX_VALUE ? row : lastRetired;
    return new long[] {last - ray.accepted + 1, next, right, wrong};
  }

  private void counters(long row) {
    long[] counts = counts(row);
    for (int i = 0; i < counts.length; i++) {
      quantities
          .of(Flow.COUNTS, RetirementQuantities.COUNTS.get(i), Integer.SIZE)
          .set(quantities.at(row), counts[i]);
    }
  }
}
