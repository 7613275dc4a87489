package dev.plumbline.lockstep;

import dev.plumbline.lockstep.CycleModel.Flight;
import dev.plumbline.lockstep.Quantity.Delays;
import dev.plumbline.lockstep.Quantity.Flow;
import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.traversal.Foreseen;
import dev.plumbline.models.traversal.Pace;
import java.math.BigInteger;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/** Operations from where they are fetched until they are the oldest. */
final class FlightQuantities {
  /** How many of those that wait may stand elsewhere than the others. */
  private static final int APART = 2;

  private static final Delays AGES = new Delays(0, 1);

  /** Ages that are looked for side by side. */
  private static final int TOGETHER = 16;

  private final Executor executor;
  private final Quantities all;
  private final Delays inFlight;
  private final Delays arriving;
  private final Delays decided; // around where a skip's early outcome is known
  private final Delays onceKnown; // from there on
  private final int latency;
  private final int addressBits;
  private final int word;
  private Program encoded;
  private BigInteger[] words;

  FlightQuantities(Executor executor, Pace pace, Quantities all) {
    this.executor = executor;
    this.all = all;
    this.latency = pace.latency();
    this.inFlight = new Delays(0, latency - 1);
    int decision = pace.decision() > 0 ? pace.decision() : latency;
    this.onceKnown = new Delays(decision, decision + 2);
    this.decided = new Delays(Math.max(0, decision - 2), decision + 2);
    this.arriving = new Delays(latency - 2, latency - 1);
    this.addressBits = Quantities.bitsOf(executor.limits().length() - 1L);
    this.word = executor.formats().word().width();
  }

  /** The operation that stands ready to be dispatched, by its address; -1 for none. */
  void fetch(long row, RayInHand ray, int address, boolean predicted, boolean dispatched) {
    long at = all.at(row);
    all.bit(Flow.FETCH, "an operation stands").set(at, address >= 0);
    all.bit(Flow.FETCH, "dispatched").set(at, dispatched);
    if (address < 0) {
      return;
    }
    Operation operation = ray.program.at(address);
    fields(Flow.FETCH, "fetched ", Quantities.NEAR, at, address, operation, predicted);
    if (!ray.program.equals(encoded)) {
      encoded = ray.program;
      words = executor.layout().encode(encoded);
    }
    int width = executor.layout().width();
    for (int from = 0; from < width; from += Long.SIZE) {
      all.of(Flow.FETCH, "word from bit " + from, Math.min(Long.SIZE, width - from))
          .set(at, words[address].shiftRight(from).longValue());
    }
  }

  private void fields(
      Flow flow,
      String of,
      Delays delays,
      long at,
      int address,
      Operation operation,
      boolean predicted) {
    all.of(flow, of + "address", addressBits, delays).set(at, address);
    all.of(flow, of + "operation", operationBits(), delays)
        .set(at, executor.layout().opcode(operation.kind()));
    if (operation.kind() == OperationKind.SKIP) {
      all.of(flow, of + "target", addressBits, delays).set(at, operation.target());
      all.of(flow, of + "predicted", 1, delays).set(at, predicted);
    }
  }

  private int operationBits() {
    long most = 0;
    for (OperationKind kind : OperationKind.values()) {
      most = Math.max(most, executor.layout().opcode(kind));
    }
    return Quantities.bitsOf(most);
  }

  /**
   * From its dispatch on.
   *
   * @param way where a skip goes on by its early outcome; -1 of others
   */
  void dispatched(Flight flight, RayInHand ray, int way) {
    long at = all.at(flight.dispatched());
    Operation operation = ray.program.at(flight.address());
    fields(
        Flow.FLIGHT, "dispatched ", inFlight, at, flight.address(), operation, flight.predicted());
    Foreseen known = ray.foreseen[flight.address()];
    if (known == null) {
      return;
    }
    solid(Flow.FLIGHT, operation.kind() + " ", inFlight, at, operation.kind(), known);
    solid(Flow.FLIGHT, "arriving ", arriving, at, operation.kind(), known);
    if (operation.kind() == OperationKind.SKIP) {
      all.of(Flow.FLIGHT, "missed", 1, inFlight).set(at, known.missed());
      all.of(Flow.FLIGHT, "known early", 1, inFlight).set(at, known.early());
      all.of(Flow.FLIGHT, "foretold wrongly", 1, decided)
          .set(at, known.early() != flight.predicted());
      if (known.early() != flight.predicted()) { // or it is where dispatch went on anyway
        all.of(Flow.FLIGHT, "goes on at", addressBits, onceKnown).set(at, way);
      }
    }
  }

  private void solid(
      Flow flow, String of, Delays delays, long at, OperationKind kind, Foreseen known) {
    if (kind.isSolid()) {
      all.of(flow, of + "empty", 1, delays).set(at, known.empty());
    }
    if (known.hasDistances() && known.entry() < known.exit()) {
      all.of(flow, of + "entry", word, delays).set(at, known.entry());
      all.of(flow, of + "exit", word, delays).set(at, known.exit());
      if (kind == OperationKind.BOX) {
        all.of(flow, of + "face of the entry", 3, delays).set(at, known.entryFace());
        all.of(flow, of + "face of the exit", 3, delays).set(at, known.exitFace());
      }
    }
  }

  /** Nothing is promised of what becomes of an operation that does not arrive. */
  void vanishes(Flight flight) {
    long at = all.at(flight.dispatched());
    all.all().stream()
        .filter(quantity -> quantity.flow == Flow.FLIGHT && quantity.goesAlong())
        .forEach(quantity -> quantity.undefine(at));
  }

  /** All that are on their way at the end of a row. */
  void flights(long row, List<Flight> flights, RayInHand ray) {
    long at = all.at(row);
    int most = executor.timing().pace().queue();
    all.of(Flow.FLIGHT, "operations in flight", Quantities.bitsOf(most)).set(at, flights.size());
    Set<Long> ages = new HashSet<>();
    flights.forEach(flight -> ages.add(row - flight.dispatched()));
    long packed = 0;
    int together = Math.min(TOGETHER, latency);
    for (long age = 1; age <= together; age++) {
      packed |= ages.contains(age - 1) ? 1L << (age - 1) : 0;
    }
    all.of(Flow.FLIGHT, "dispatched by age", together, AGES).set(at, packed);
    for (long age = 0; age < latency; age++) {
      all.of(Flow.FLIGHT, "dispatched " + age + " cycles before", 1, AGES)
          .set(at, ages.contains(age));
    }
    if (ray == null) {
      queue(row, List.of(), null);
      fetch(row, null, -1, false, false);
    }
  }

  /** Those that have arrived and not retired before a row, the oldest first. */
  void queue(long row, List<Flight> arrived, RayInHand ray) {
    long at = all.at(row);
    int bits = Quantities.bitsOf(executor.timing().pace().queue());
    all.bit(Flow.QUEUE, "an oldest stands").set(at, !arrived.isEmpty());
    for (int less = 0; less <= APART; less++) {
      String name = less == 0 ? "arrived" : "waiting behind " + less;
      all.of(Flow.QUEUE, name, bits).set(at, Math.max(0, arrived.size() - less));
    }
    if (!arrived.isEmpty()) {
      Flight flight = arrived.get(0);
      String of = "oldest ";
      Delays delays = Quantities.NEAR;
      Operation operation = ray.program.at(flight.address());
      fields(Flow.QUEUE, of, delays, at, flight.address(), operation, flight.predicted());
      Foreseen known = ray.foreseen[flight.address()];
      if (known != null) {
        solid(Flow.QUEUE, of, delays, at, operation.kind(), known);
        if (operation.kind() == OperationKind.SKIP) {
          all.of(Flow.QUEUE, of + "known early", 1, delays).set(at, known.early());
        }
      }
    }
  }
}
