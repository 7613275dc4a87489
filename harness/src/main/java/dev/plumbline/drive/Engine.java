package dev.plumbline.drive;

import dev.plumbline.cosim.Watch;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;

/**
 * What a segment needs of a DUT: columns to fill and read, and rows to run. Compiled RTL in a run,
 * software in the tests of the checkers.
 */
public interface Engine extends AutoCloseable {
  /** The state in which registers and memories wake up. */
  enum Start {
    /** Every bit 0. */
    ZEROS,
    /** Every bit 1. */
    ONES,
    /** Bits by chance. */
    RANDOM
  }

  /**
   * How a DUT is opened.
   *
   * @param start the state it wakes up in
   * @param seed of that state, where it is by chance, and of what the DUT draws
   * @param rows the most rows of a run
   * @param handshake empty where every input stays with its row
   */
  record Opening(Start start, long seed, int rows, Optional<Handshake> handshake) {}

  /** Opens engines, each a DUT of its own that has run no cycle yet. */
  @FunctionalInterface
  interface Maker {
    Engine open(Opening opening);

    /**
     * Opens engines that behave alike and whose signals inside are recorded.
     *
     * @param firstCycle the first cycle to be recorded
     * @param cycles how many at most; fewer where there are very many signals
     * @param opened gets the record as an engine is opened
     * @return empty where the DUT is no compiled design
     */
    default Optional<Maker> watching(long firstCycle, int cycles, Consumer<Watch> opened) {
      return Optional.empty();
    }

    /** Begins to make what {@link #watching} needs, beside whoever goes on meanwhile. */
    default void preparesToWatch() {}

    /**
     * Signals that change for ever where the logic does not settle.
     *
     * @param run runs a DUT of a maker into that
     * @return names; none where the DUT is no compiled design, or it settles
     */
    default List<String> oscillating(Consumer<Maker> run) {
      return List.of();
    }

    /** Names of the signals inside; empty where the DUT is no compiled design. */
    default Optional<List<String>> signals() {
      return Optional.empty();
    }

    /** What the signals inside are made from; none where the DUT is no compiled design. */
    default Map<String, List<String>> sources() {
      return Map.of();
    }
  }

  /**
   * The same array every time, one entry a row, or a case for an input under {@link #runStream}.
   */
  long[] column(String port, int word);

  /** Runs rows whose inputs stand in the columns; outputs stand there afterwards. */
  void run(int rows);

  /**
   * Runs rows under valid and ready: data inputs stand by case and move on where both are high.
   *
   * @param first the case to begin with
   * @param changed from this case on, the columns have changed since the run before
   * @param cases where they end
   * @return how many cases were accepted
   */
  int runStream(int rows, int first, int changed, int cases);

  /** The same from case 0. */
  default int runStream(int rows, int cases) {
    return runStream(rows, 0, 0, cases);
  }

  /** After {@link #runStream}: the case that stood at each row, -1 where none was offered. */
  int[] caseAtRow();

  /**
   * Where cases are spread over beats: the beat at each row, or at each place under {@link
   * #runStream}, -1 for none; to be filled before a run. Null where they are not.
   */
  default int[] beatAt() {
    return null;
  }

  /** What the DUT printed so far, capped. */
  default String text() {
    return "";
  }

  @Override
  void close();
}
