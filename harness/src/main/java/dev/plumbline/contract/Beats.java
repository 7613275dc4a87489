package dev.plumbline.contract;

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
 * case that a reset cuts is given up: it has no result, and the next begins with its beat 0. An
 * operand that has no beat stands still on its port for all beats of its case. Whatever no operand
 * of a beat occupies carries noise. Immutable.
 */
public final class Beats {
  /** Most beats of a case, which has to fit in a block of rows. */
  static final int MOST = 64;

  /** Of an operand that stands still for the whole case. */
  /** The beat of an operand that is there in every cycle of its case. */
  public static final int EVERY = -1;

  static final Beats ONE = new Beats(Map.of(), Map.of(), false, false, false);

  private final Map<String, Slot> slots; // by operand
  private final Map<String, Integer> marks;
  private final boolean contiguous;
  private final boolean validAtFirst;
  private final boolean latencyFromFirst;

  /**
   * Where an operand comes.
   *
   * @param port the port
   * @param beat from 0
   */
  public record Slot(String port, int beat) {}

  private Beats(
      Map<String, Slot> slots,
      Map<String, Integer> marks,
      boolean contiguous,
      boolean validAtFirst,
      boolean latencyFromFirst) {
    this.slots = slots;
    this.marks = marks;
    this.contiguous = contiguous;
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
    if (slots.containsKey(operand)) {
      throw new ContractException(
          "Operand \""
              + operand
              + "\" cannot come at beat "
              + beat
              + " of port "
              + port
              + " as well as at beat "
              + slots.get(operand).beat()
              + " of port "
              + slots.get(operand).port()
              + "; each operand comes once.");
    }
    Map<String, Slot> more = new LinkedHashMap<>(slots);
    more.put(operand, new Slot(port, beat));
    return new Beats(
        Collections.unmodifiableMap(more), marks, contiguous, validAtFirst, latencyFromFirst);
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
        slots, Collections.unmodifiableMap(more), contiguous, validAtFirst, latencyFromFirst);
  }

  /**
   * Promises to the block that the beats of a case come in cycles that follow each other.
   *
   * @return these beats without bubbles among them
   */
  public Beats contiguous() {
    return new Beats(slots, marks, true, validAtFirst, latencyFromFirst);
  }

  /**
   * Has valid high at the first beat of a case alone, as a start is. The others follow in the next
   * cycles, and latency counts from the first.
   *
   * @return these beats under one valid
   */
  public Beats validAtFirst() {
    return new Beats(slots, marks, true, true, true);
  }

  /**
   * Counts latency from the first beat of a case instead of from its last, which needs beats {@link
   * #contiguous}.
   *
   * @return these beats with another latency
   */
  public Beats latencyFromFirst() {
    return new Beats(slots, marks, contiguous, validAtFirst, true);
  }

  /**
   * Which port each operand is on.
   *
   * @return port by operand, in the order in which they were put
   */
  public Map<String, String> ports() {
    Map<String, String> ports = new LinkedHashMap<>();
    slots.forEach((operand, slot) -> ports.put(operand, slot.port()));
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
    return slots.containsKey(operand) ? "beat " + slots.get(operand).beat() : "";
  }

  private static void requireBeat(int beat, String what) {
    if (beat < 0 || beat >= MOST) {
      throw new ContractException(
          what + " cannot come at beat " + beat + "; allowed are 0 to " + (MOST - 1) + ".");
    }
  }

  /**
   * Beats of a case.
   *
   * @return 1 where nothing is spread
   */
  public int count() {
    int last = 0;
    for (Slot slot : slots.values()) {
      last = Math.max(last, slot.beat());
    }
    for (int beat : marks.values()) {
      last = Math.max(last, beat);
    }
    return last + 1;
  }

  /**
   * Whether a case takes more than one beat.
   *
   * @return true for two or more
   */
  public boolean areSeveral() {
    return count() > 1;
  }

  /**
   * Where and when each operand is put.
   *
   * @return slot by operand
   */
  public Map<String, Slot> slots() {
    return slots;
  }

  /**
   * Whether beats of a case come in successive cycles.
   *
   * @return true without gaps
   */
  public boolean areContiguous() {
    return contiguous;
  }

  /**
   * Whether valid is high at the first beat alone.
   *
   * @return true where it is
   */
  public boolean isValidAtFirst() {
    return validAtFirst;
  }

  boolean isLatencyFromFirst() {
    return latencyFromFirst;
  }

  /**
   * The beat of an operand.
   *
   * @param operand its name
   * @return the beat; {@link #EVERY} where it has none
   */
  public int of(String operand) {
    return slots.containsKey(operand) ? slots.get(operand).beat() : EVERY;
  }

  /**
   * Cycles from the beat that latency is promised from to the last, which is the offer.
   *
   * @return 0 unless latency counts from the first beat
   */
  public int head() {
    return latencyFromFirst ? count() - 1 : 0;
  }

  /**
   * Whether two operands are on their ports in the same cycle.
   *
   * @param one beat of the one
   * @param other beat of the other
   * @return true for the same beat, or where one has none
   */
  public static boolean meet(int one, int other) {
    return one == other || one == EVERY || other == EVERY;
  }
}
