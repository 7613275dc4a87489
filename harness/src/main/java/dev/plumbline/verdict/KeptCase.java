package dev.plumbline.verdict;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * What a DUT is given cycle by cycle from its start, so that one mismatch can be run again at any
 * time: after an edit, or for ever beside a test.
 *
 * @param bench the bench that found it
 * @param module the top module
 * @param parameters of the module, as they were overridden
 * @param reference the name of what results are held to
 * @param shows what went wrong when it was kept, in words
 * @param seed of the initial state, where that is by chance, and of what the DUT draws
 * @param start the state that registers and memories wake up in
 * @param state which of the states by chance
 * @param columns what each row has a code for
 * @param cycles the rows from the start on, the reset among them; what comes after is idle
 * @param operations of a scene executor's case, whose rows are steps: the operation that is loaded
 *     in each, empty where none is; no element at all for other cases
 */
public record KeptCase(
    String bench,
    String module,
    Map<String, String> parameters,
    String reference,
    String shows,
    long seed,
    Start start,
    int state,
    List<Column> columns,
    List<List<BigInteger>> cycles,
    List<String> operations) {
  public KeptCase {
    operations = List.copyOf(operations);
    parameters = Collections.unmodifiableMap(new LinkedHashMap<>(parameters));
    columns = List.copyOf(columns);
    List<List<BigInteger>> rows = new ArrayList<>();
    cycles.forEach(row -> rows.add(Collections.unmodifiableList(new ArrayList<>(row))));
    cycles = Collections.unmodifiableList(rows);
  }

  /**
   * A case of cycles.
   *
   * @param bench the bench that found it
   * @param module the top module
   * @param parameters of the module, as they were overridden
   * @param reference the name of what results are held to
   * @param shows what went wrong when it was kept, in words
   * @param seed of the initial state, where that is by chance, and of what the DUT draws
   * @param start the state that registers and memories wake up in
   * @param state which of the states by chance
   * @param columns what each row has a code for
   * @param cycles the rows from the start on
   */
  public KeptCase(
      String bench,
      String module,
      Map<String, String> parameters,
      String reference,
      String shows,
      long seed,
      Start start,
      int state,
      List<Column> columns,
      List<List<BigInteger>> cycles) {
    this(
        bench,
        module,
        parameters,
        reference,
        shows,
        seed,
        start,
        state,
        columns,
        cycles,
        List.of());
  }

  /** The state that registers and memories wake up in. */
  public enum Start {
    /** Every bit 0. */
    ZEROS,
    /** Every bit 1. */
    ONES,
    /** Bits by chance. */
    RANDOM
  }

  /**
   * A reset, valid or ready port, or an operand.
   *
   * @param name the port's name, or the operand's
   * @param operand with its formats; null of a port, and of a file, which need not say
   */
  public record Column(String name, Operand operand) {
    /**
     * A port.
     *
     * @param name its name
     * @return a column of bits
     */
    public static Column port(String name) {
      return new Column(name, null);
    }

    /**
     * An operand in fixed point.
     *
     * @param name its name
     * @param format what its codes mean
     * @return a column of codes
     */
    public static Column of(String name, Format format) {
      return new Column(name, new Operand(name, format));
    }
  }
}
