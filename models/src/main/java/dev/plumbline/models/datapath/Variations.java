package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.BitSet;
import java.util.List;
import java.util.Map;

/**
 * A datapath evaluated in bits with one step changed at a time: to see which change explains what
 * hardware gives.
 *
 * <pre>{@code
 * Variations variations = datapath.variations(1024);
 * for (Variation one : variations.all()) {
 *   variations.run(one, 1024);
 *   long code = variations.output(0, 0)[17];
 * }
 * }</pre>
 *
 * <p>Cases in consecutive rows are taken for those of consecutive cycles. Of a datapath with
 * registers they follow each other instead, from {@link #renewBefore} or the first row on, and no
 * change takes what is a neighbour's. Inputs stay as they were filled, and codes outside their
 * legal range are not refused. An instance belongs to one thread.
 */
public final class Variations {
  private final Datapath datapath;
  private final Columns columns; // what is filled and read
  private final Columns changed; // where steps are exchanged: of one case, with registers
  private final Loop[] loops;
  private final CaseLoop sequence; // null without registers
  private final boolean[] anew; // by row: where the next run's registers begin anew
  private final boolean[] taken; // rows in which a case is, others being bubbles
  private final BitSet begins = new BitSet(); // rows before which registers begin anew
  private final Inputs inputs;
  private List<Variation> all;

  Variations(Datapath datapath, int capacity) {
    this.datapath = datapath;
    this.columns = new Columns(datapath, capacity);
    this.anew = new boolean[capacity];
    this.taken = new boolean[capacity];
    Arrays.fill(taken, true);
    if (datapath.hasState()) {
      this.changed = new Columns(datapath, 1);
      this.loops = changed.bindBits();
      this.sequence = CaseLoop.ofAll(datapath, columns, changed, anew);
    } else {
      this.changed = columns;
      this.loops = columns.bindBits();
      this.sequence = null;
    }
    this.inputs = new Inputs(datapath, columns);
  }

  /**
   * Has all registers begin anew before some rows, in every run from now on; before row 0 they do
   * in any case.
   *
   * @param rows of the cases, each 0 or more
   */
  public void renewBefore(BitSet rows) {
    begins.clear();
    begins.or(rows);
  }

  /**
   * Has a case stand in some rows alone, in every run from now on; the others are bubbles. Before
   * that, one stands in each.
   *
   * @param rows of the cases, each 0 or more
   */
  public void takeAt(BitSet rows) {
    for (int row = 0; row < taken.length; row++) {
      taken[row] = rows.get(row);
    }
  }

  /**
   * Every change of one step.
   *
   * @return in no order that means anything, but the same every time
   */
  public List<Variation> all() {
    if (all == null) {
      all = List.copyOf(VariationMaker.all(changed, taken));
    }
    return all;
  }

  /**
   * What it gives.
   *
   * @return in the order of {@link #output}
   */
  public List<Operand> outputs() {
    return datapath.outputs();
  }

  /**
   * The column to fill with an input's codes.
   *
   * @param operand index in {@link Datapath#inputs()}
   * @param word 0, or 1 for the upper word of a format beyond 64 bits
   * @return the column itself
   */
  public long[] input(int operand, int word) {
    return inputs.column(operand, word);
  }

  /**
   * The column of an output's codes.
   *
   * @param operand index in {@link Datapath#outputs()}
   * @param word 0, or 1 for the upper word of a format beyond 64 bits
   * @return the column itself, valid for the cases of the last run
   */
  public long[] output(int operand, int word) {
    Value value = inputs.value(datapath.outputValues(), "output", operand);
    return Inputs.word(datapath, columns.lane(value), value, word);
  }

  /**
   * The column of a step's codes.
   *
   * @param name as {@link Datapath#steps} has it
   * @param word 0, or 1 for the upper word of a format beyond 64 bits
   * @return the column itself, valid for the cases of the last run; with registers, of the last
   *     case alone
   * @throws DatapathException when there is no such step
   */
  public long[] step(String name, int word) {
    return Inputs.word(datapath, changed.find(name), changed.value(name), word);
  }

  /**
   * In which cases a changed step gives another code than the step as described, whether or not an
   * output shows it; in none that is known of, with registers.
   *
   * @param change one of {@link #all}
   * @param count 0 to the capacity
   * @return one for each case
   */
  public boolean[] disturbs(Variation change, int count) {
    if (sequence != null) {
      return new boolean[count];
    }
    run(null, count);
    List<Lane> lanes = change.parts().stream().map(Variation.Part::result).toList();
    List<Lane> before = lanes.stream().map(Lane::copy).toList();
    boolean[] differs = new boolean[count];
    run(
        change,
        count,
        () -> {
          for (int n = 0; n < lanes.size(); n++) {
            Lane now = lanes.get(n);
            Lane was = before.get(n);
            for (int i = 0; i < count; i++) {
              differs[i] |= now.low[i] != was.low[i] || now.high(i) != was.high(i);
            }
          }
        });
    return differs;
  }

  /**
   * Evaluates cases 0 to {@code count - 1} with a step changed.
   *
   * @param change one of {@link #all}, or null for none
   * @param count 0 to the capacity
   * @return whether it could be: a step may meet codes that it has no meaning for
   */
  public boolean run(Variation change, int count) {
    return run(change, count, () -> {});
  }

  /**
   * Evaluates cases with codes from elsewhere in the place of what some steps give, as from signals
   * inside hardware: whether it goes on from there as described.
   *
   * @param given codes by step, each word a column; steps as {@link Datapath#steps} names them
   * @param count 0 to the capacity, and to the length of every column
   * @return whether it could be: constants, inputs of units and steps that only move the point
   *     cannot be replaced, nor any step beside registers, and a step may meet codes that it has no
   *     meaning for
   */
  public boolean runFrom(Map<String, long[][]> given, int count) {
    return runFrom(given, count, false);
  }

  /**
   * The same, as hardware has it that keeps for each step the bits of its format and no more: codes
   * that no step as described would give make later ones wrap there.
   *
   * @param given as in {@link #runFrom(Map, int)}
   * @param count likewise
   * @param wraps whether every step that follows keeps the bits of its format alone
   * @return likewise
   */
  public boolean runFrom(Map<String, long[][]> given, int count, boolean wraps) {
    if (sequence != null) {
      return given.isEmpty() && run(null, count);
    }
    List<Variation.Part> parts = new ArrayList<>();
    for (Map.Entry<String, long[][]> one : given.entrySet()) {
      Columns owner = columns.owner(one.getKey());
      Value value = columns.value(one.getKey());
      Step step = value.step();
      boolean ofUnit = step instanceof Input && owner != columns; // its operand's own lane
      if (ofUnit || step instanceof Constant || step.sameColumns() != null) {
        return false;
      }
      Lane lane = owner.lane(value);
      long[][] codes = one.getValue();
      parts.add(
          new Variation.Part(
              owner,
              value,
              cases -> {
                System.arraycopy(codes[0], 0, lane.low, 0, cases);
                if (lane.high != null) {
                  System.arraycopy(codes[1], 0, lane.high, 0, cases);
                }
              },
              step instanceof Input ? lane : null));
    }
    return run(parts, count, () -> {}, wraps);
  }

  private void wrap(Value value, int count) {
    Step step = value.step();
    boolean isOwn = step.sameColumns() == null && !(step instanceof Input);
    if (isOwn && !(step instanceof Constant)) {
      Format format = value.format();
      LaneChange.narrowed(format.width(), format.signed()).apply(columns.lane(value), count);
    }
  }

  private boolean run(Variation change, int count, Runnable look) {
    return run(change == null ? List.of() : change.parts(), count, look, false);
  }

  private boolean run(List<Variation.Part> parts, int count, Runnable look, boolean wraps) {
    List<Loop> own = new ArrayList<>();
    List<Lane> filled = new ArrayList<>();
    for (Variation.Part part : parts) {
      filled.add(part.spoilt() == null ? null : part.spoilt().copy());
      own.add(part.atEnd() ? null : part.exchange(part.loop()));
    }
    try {
      if (sequence == null) {
        for (int i = 0; i < loops.length; i++) {
          loops[i].run(count);
          if (wraps) {
            wrap(datapath.values().get(i), count);
          }
        }
      } else {
        Arrays.fill(anew, 0, count, false);
        begins.stream().filter(row -> row < count).forEach(row -> anew[row] = true);
        if (count > 0) {
          anew[0] = true;
        }
        sequence.run(count);
      }
      parts.stream().filter(Variation.Part::atEnd).forEach(part -> part.loop().run(count));
      look.run();
      return true;
    } catch (ArithmeticException | IndexOutOfBoundsException e) {
      return false;
    } finally {
      for (int i = parts.size() - 1; i >= 0; i--) { // a step may have been changed twice
        if (own.get(i) != null) {
          parts.get(i).exchange(own.get(i));
        }
        if (filled.get(i) != null) {
          parts.get(i).spoilt().fill(filled.get(i));
        }
      }
    }
  }
}
