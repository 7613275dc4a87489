package dev.plumbline.check;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * How the operands of a case are spread over several beats (cycles with a transfer), on a bus that
 * is too narrow to carry them side by side.
 *
 * <pre>{@code
 * Contract.of(reference).valid("in_valid", "out_valid").reset("rst").latency(2)
 *     .beats(Beats.on("in_data", "x", "y", "z").mark("in_last", 2))
 * }</pre>
 *
 * <p>Beats count from 0. A beat is taken where valid is high, and ready where there is one; between
 * beats there may be bubbles. The case is offered with its last beat, from which latency counts. A
 * case that a reset cuts is given up: it is not answered, and the next begins with its beat 0. An
 * operand that has no beat stands still on its port for all beats of its case. Whatever no operand
 * of a beat occupies carries noise. Immutable.
 */
public final class Beats {
  /** Most beats of a case, which has to find room in a block of rows. */
  static final int MOST = 64;

  /** Of an operand that stands still for the whole case. */
  static final int EVERY = -1;

  static final Beats ONE = new Beats(Map.of(), Map.of(), false, false, false);

  private final Map<String, Place> places; // by operand
  private final Map<String, Integer> marks;
  private final boolean inARow;
  private final boolean validAtFirst;
  private final boolean latencyFromFirst;

  /** Where an operand comes. */
  record Place(String port, int beat) {}

  private Beats(
      Map<String, Place> places,
      Map<String, Integer> marks,
      boolean inARow,
      boolean validAtFirst,
      boolean latencyFromFirst) {
    this.places = places;
    this.marks = marks;
    this.inARow = inARow;
    this.validAtFirst = validAtFirst;
    this.latencyFromFirst = latencyFromFirst;
  }

  /**
   * Puts operands on a bus, one a beat, from beat 0 on.
   *
   * @param port the bus; operands with fewer bits are in its lowest
   * @param operandsInTurn the operands of the reference
   * @return the beats
   */
  public static Beats on(String port, String... operandsInTurn) {
    return ONE.and(port, operandsInTurn);
  }

  /**
   * Puts operands on another bus that moves in the same beats.
   *
   * @param port the bus; operands with fewer bits are in its lowest
   * @param operandsInTurn the operands, from beat 0 on
   * @return these beats and those
   */
  public Beats and(String port, String... operandsInTurn) {
    Beats more = this;
    for (int beat = 0; beat < operandsInTurn.length; beat++) {
      more = more.at(beat, operandsInTurn[beat], port);
    }
    return more;
  }

  /**
   * Puts one operand on a port, or a part of one, at one beat.
   *
   * @param beat which, from 0 to 63
   * @param operand the operand of the reference
   * @param port the port or its part, such as {@code bus[31:16]}
   * @return these beats and that operand
   */
  public Beats at(int beat, String operand, String port) {
    requireBeat(beat, "Operand \"" + operand + "\"");
    if (places.containsKey(operand)) {
      throw new ContractException(
          "Operand \""
              + operand
              + "\" cannot come at beat "
              + beat
              + " of port "
              + port
              + " as well as at beat "
              + places.get(operand).beat()
              + " of port "
              + places.get(operand).port()
              + "; each operand comes once.");
    }
    Map<String, Place> more = new LinkedHashMap<>(places);
    more.put(operand, new Place(port, beat));
    return new Beats(
        Collections.unmodifiableMap(more), marks, inARow, validAtFirst, latencyFromFirst);
  }

  /**
   * Has an input port mark a beat, such as the last: 1 there, 0 at the others of a case.
   *
   * @param port the port, of one bit
   * @param beat which, from 0 to 63
   * @return these beats and that mark
   */
  public Beats mark(String port, int beat) {
    requireBeat(beat, "Mark " + port);
    Map<String, Integer> more = new LinkedHashMap<>(marks);
    more.put(port, beat);
    return new Beats(
        places, Collections.unmodifiableMap(more), inARow, validAtFirst, latencyFromFirst);
  }

  /**
   * Promises to the block that the beats of a case come in cycles that follow each other.
   *
   * @return these beats without bubbles among them
   */
  public Beats inARow() {
    return new Beats(places, marks, true, validAtFirst, latencyFromFirst);
  }

  /**
   * Has valid high at the first beat of a case alone, as a start is. The others follow in the next
   * cycles, and latency counts from the first.
   *
   * @return these beats under one valid
   */
  public Beats validAtFirst() {
    return new Beats(places, marks, true, true, true);
  }

  /**
   * Counts latency from the first beat of a case instead of from its last, which needs beats {@link
   * #inARow}.
   *
   * @return these beats with another latency
   */
  public Beats latencyFromFirst() {
    return new Beats(places, marks, inARow, validAtFirst, true);
  }

  /**
   * Which port each operand is on.
   *
   * @return port by operand, in the order in which they were put
   */
  public Map<String, String> ports() {
    Map<String, String> ports = new LinkedHashMap<>();
    places.forEach((operand, place) -> ports.put(operand, place.port()));
    return ports;
  }

  /**
   * Which ports mark a beat.
   *
   * @return the beat by port
   */
  public Map<String, Integer> marks() {
    return marks;
  }

  /**
   * When an operand comes, in words.
   *
   * @param operand the operand
   * @return such as {@code beat 0}; empty where it has no beat
   */
  public String when(String operand) {
    return places.containsKey(operand) ? "beat " + places.get(operand).beat() : "";
  }

  private static void requireBeat(int beat, String what) {
    if (beat < 0 || beat >= MOST) {
      throw new ContractException(
          what + " cannot come at beat " + beat + "; allowed are 0 to " + (MOST - 1) + ".");
    }
  }

  /** Beats of a case, 1 where nothing is spread. */
  int count() {
    int last = 0;
    for (Place place : places.values()) {
      last = Math.max(last, place.beat());
    }
    for (int beat : marks.values()) {
      last = Math.max(last, beat);
    }
    return last + 1;
  }

  boolean areSeveral() {
    return count() > 1;
  }

  Map<String, Place> places() {
    return places;
  }

  boolean areInARow() {
    return inARow;
  }

  boolean isValidAtFirst() {
    return validAtFirst;
  }

  boolean isLatencyFromFirst() {
    return latencyFromFirst;
  }

  /** The beat of an operand. */
  int of(String operand) {
    return places.containsKey(operand) ? places.get(operand).beat() : EVERY;
  }

  /** Cycles from the beat that latency is promised from to the last, which is the offer. */
  int head() {
    return latencyFromFirst ? count() - 1 : 0;
  }

  /** Whether two operands are on their ports in the same cycle. */
  static boolean meet(int one, int other) {
    return one == other || one == EVERY || other == EVERY;
  }
}
