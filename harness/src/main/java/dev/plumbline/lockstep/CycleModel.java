package dev.plumbline.lockstep;

import dev.plumbline.lockstep.Quantity.Flow;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.traversal.Foreseen;
import dev.plumbline.models.traversal.Pace;
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
  private static final int FIRST_DISPATCH = 2;

  /** Cycles after a retirement that ends a ray or a wrong path in which that is made known. */
  private static final int HAZE = 2;

  /** What an executor is driven with in a row. */
  record Driven(
      boolean reset, boolean abort, boolean offered, boolean taking, boolean isDutReady) {}

  private record Lesson(long retired, int address, boolean taken) {}

  private final Executor executor;
  private final Pace pace;
  private final Predictor predictor;
  private final RayQuantities ofRay;
  private final FlightQuantities ofFlight;
  private final RetirementQuantities ofRetirement;
  private final Quantities quantities;
  private final List<Lesson> lessons = new ArrayList<>();
  private List<Flight> flights = new ArrayList<>();
  private RayInHand ray; // null for none
  private int pc; // -1 where nothing is to be fetched
  private long dispatchFrom;
  private long lastRetired;
  private long resultFrom; // Long.MAX_VALUE until the last has retired
  private int next; // of the ray's operations that are due
  private long readyFrom;
  private long eitherAt = -1; // a row in which it may be ready or not
  private long hazyUntil = -1;
  private long right;
  private long wrong;
  private boolean retiring;
  private boolean ready;
  private boolean offering;

  /** A dispatched operation. */
  record Flight(int address, long dispatched, boolean predicted) {}

  CycleModel(Executor executor, Quantities quantities) {
    this.executor = executor;
    this.quantities = quantities;
    this.pace = executor.timing().pace();
    this.predictor = executor.timing().predictor();
    this.ofRay = new RayQuantities(executor, quantities);
    this.ofFlight = new FlightQuantities(executor, quantities);
    this.ofRetirement = new RetirementQuantities(executor, quantities);
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
      predictor.reset();
      readyFrom = row + 1;
      return;
    }
    predictions(row);
    boolean accepts = ready && driven.offered();
    if (accepts) {
      accept(row, program, rays, offered);
    }
    hazyUntil = driven.abort() ? row + HAZE : hazyUntil;
    if (ray != null) {
      run(row);
    }
    if (!driven.abort()) {
      ofRay.handshake(row, ready, offering, ray != null && !offering);
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
        ofRetirement.result(row, ray, counts(row));
      }
    }
    if (driven.abort()) {
      eitherAt = ray == null ? row + 1 : eitherAt;
      drop(row);
      readyFrom = row + 2;
    } else if (offering && driven.taking()) {
      ray = null;
      readyFrom = row + 1;
    }
  }

  private void drop(long row) {
    ray = null;
    hazyUntil = row + HAZE;
    flights.forEach(ofFlight::vanishes);
    flights.clear();
    pc = -1;
  }

  private void learn(long row) {
    while (!lessons.isEmpty() && lessons.get(0).retired() + pace.learning() <= row) {
      Lesson lesson = lessons.remove(0);
      predictor.update(lesson.address(), lesson.taken());
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
    ofRetirement.accept(ray, rays, offered);
    pc = 0;
    dispatchFrom = row + FIRST_DISPATCH;
    lastRetired = row - 1;
    resultFrom = Long.MAX_VALUE;
    next = 0;
    right = 0;
    wrong = 0;
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
    return ray.program.at(address).kind() == OperationKind.SKIP && predictor.predict(address);
  }

  private void retire(long row, Flight oldest) {
    RetiredOperation operation = ray.due.get(next);
    int cost =
        operation.kind() == OperationKind.CLOSE ? 1 + pace.close() : Math.max(1, operation.cost());
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
      right += agrees ? 1 : 0;
      wrong += agrees ? 0 : 1;
      lessons.add(new Lesson(row, oldest.address(), operation.taken()));
      boolean thought = pace.decision() > 0 ? operation.early() : oldest.predicted();
      turned = thought != operation.taken();
    }
    ofRetirement.retires(row, operation, oldest.predicted(), turned);
    if (turned || operation.last()) {
      flights.forEach(ofFlight::vanishes);
      flights.clear();
      pc =
          operation.last()
              ? -1
              : operation.taken() ? operation.operation().target() : oldest.address() + 1;
      dispatchFrom = row + pace.flush();
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
        pc =
            known.early()
                ? ray.program.at(flight.address()).target()
                : flight.address() + 1;
        dispatchFrom = row + pace.redirection();
        hazyUntil = Math.max(hazyUntil, dispatchFrom - 1);
      }
    }
  }

  private void dispatch(long row) {
    boolean predicted = predicts(pc);
    Flight flight = new Flight(pc, row, predicted);
    flights.add(flight);
    ofFlight.dispatched(flight, ray);
    OperationKind kind = ray.program.at(pc).kind();
    dispatchFrom = row + (predicted ? 2 : 1);
    pc = predicted ? ray.program.at(pc).target() : pc + 1;
    pc = kind == OperationKind.END ? -1 : pc;
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
