package dev.plumbline.models.datapath;

import java.util.ArrayList;
import java.util.List;

/**
 * A datapath evaluated in bits, a block of cases at a time: exactly what the described steps give.
 *
 * <pre>{@code
 * BitEvaluation e = datapath.bits(1024);
 * e.input(0, 0)[17] = 65536;              // operand 0, word 0, case 17
 * e.run(1024);
 * long code = e.output(0, 0)[17];
 * long product = e.step("product", 0)[17];
 * }</pre>
 *
 * <p>Columns are made once and live as long as the evaluation; {@link #run} allocates nothing.
 * Words are 64 bits, little end first: sign-extended when the format is signed, zero-extended when
 * it is not. An evaluation belongs to one thread.
 */
public final class BitEvaluation extends BlockEvaluation {
  private final Columns columns;
  private final List<Value> kept;

  BitEvaluation(Datapath datapath, int capacity) {
    this(datapath, new Columns(datapath, capacity), null);
  }

  /**
   * @param lifetimes of columns; null where every step can be read
   */
  private BitEvaluation(Datapath datapath, Columns columns, Lifetimes lifetimes) {
    super(datapath, steps(datapath, columns, lifetimes), new Inputs(datapath, columns));
    this.columns = columns;
    this.kept = lifetimes == null ? List.of() : lifetimes.kept();
  }

  @Override
  List<Lane> readable() {
    return kept.stream().map(columns::lane).distinct().toList();
  }

  private static Loop steps(Datapath datapath, Columns columns, Lifetimes lifetimes) {
    if (datapath.hasState()) {
      return new Sequence(datapath, columns.capacity(), new BitBinder(datapath, columns));
    }
    return Loop.all(lifetimes == null ? columns.bindBits() : bind(datapath, columns, lifetimes));
  }

  /**
   * An evaluation of which outputs alone can be read, and a few steps: others give their columns to
   * later ones, so that a block stays in the cache.
   *
   * @param datapath what to evaluate
   * @param capacity cases in a block, 1 or more; about a thousand stay in the cache
   * @param steps names of those to be read besides, not inside units
   * @return columns and loops of its own
   * @throws DatapathException when there is no step of a name
   */
  public static BitEvaluation ofOutputs(Datapath datapath, int capacity, String... steps) {
    Columns columns = new Columns(datapath, datapath.checkedCapacity(capacity));
    return new BitEvaluation(datapath, columns, Lifetimes.of(datapath, steps));
  }

  private static Loop[] bind(Datapath datapath, Columns columns, Lifetimes lifetimes) {
    List<Loop> bound = new ArrayList<>();
    for (Value value : datapath.values()) {
      if (!lifetimes.needed(value)) {
        continue;
      }
      columns.allocate(value, lifetimes);
      Loop loop = value.step().bits(columns, value);
      if (lifetimes.fixed(value)) {
        loop.run(columns.capacity());
      } else if (loop != Loop.NOTHING) {
        bound.add(loop);
      }
      lifetimes.endAt(value, columns);
    }
    return bound.toArray(new Loop[0]);
  }

  /**
   * The column of an output's codes.
   *
   * @param operand index in {@link Datapath#outputs()}
   * @param word 0, or 1 for the upper word of a format beyond 64 bits
   * @return the column itself, valid for the cases of the last run
   * @throws DatapathException when there is no such output or word
   */
  public long[] output(int operand, int word) {
    Value value = inputs.value(datapath.outputValues(), "output", operand);
    return Inputs.word(datapath, columns.lane(value), value, word);
  }

  /**
   * The column of a step's codes.
   *
   * @param name a step's name, or {@code "unit.step"} for one inside a unit
   * @param word 0, or 1 for the upper word of a format beyond 64 bits
   * @return the column itself, valid for the cases of the last run
   * @throws DatapathException when there is no such step or word
   */
  public long[] step(String name, int word) {
    return Inputs.word(datapath, columns.find(name), columns.value(name), word);
  }
}
