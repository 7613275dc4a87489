package dev.plumbline.models.datapath;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;

/**
 * A datapath evaluated in bounds, a block of cases at a time: for each output the least and the
 * greatest code that hardware with the described formats may give, whichever way each rounding
 * falls.
 *
 * <pre>{@code
 * BoundsEvaluation e = datapath.bounds(1024);
 * e.input(0, 0)[17] = 65536;
 * e.run(1024);
 * boolean within = e.low(0, 0)[17] <= code && code <= e.high(0, 0)[17];
 * }</pre>
 *
 * <p>Inputs are points. Exact steps carry intervals exactly; a rounding step gives the floor of the
 * low end and the ceiling of the high one; saturation clamps both; a wrap that may overflow gives
 * the whole range of its format. A decision is a bit: low and high 1 and 1 is <em>must</em>, 0 and
 * 0 <em>must not</em>, 0 and 1 <em>may do either</em>; a selection under the last gives the hull.
 * Words as in {@link BitEvaluation}. An evaluation belongs to one thread and allocates nothing in
 * {@link #run}.
 */
public final class BoundsEvaluation extends BlockEvaluation {
  private final Columns low;
  private final Columns high;
  private final Lifetimes lifetimes;

  BoundsEvaluation(Datapath datapath, int capacity) {
    this(datapath, capacity, Lifetimes.endless(datapath));
  }

  private BoundsEvaluation(Datapath datapath, int capacity, Lifetimes lifetimes) {
    this(datapath, new Columns(datapath, capacity), new Columns(datapath, capacity), lifetimes);
  }

  private BoundsEvaluation(Datapath datapath, Columns low, Columns high, Lifetimes lifetimes) {
    super(datapath, steps(datapath, low, high, lifetimes), new Inputs(datapath, low));
    this.low = low;
    this.high = high;
    this.lifetimes = lifetimes;
  }

  @Override
  List<Lane> readable() {
    Stream<Value> kept = lifetimes.kept().stream();
    return kept.flatMap(value -> Stream.of(low.lane(value), high.lane(value))).distinct().toList();
  }

  private static Loop steps(Datapath datapath, Columns low, Columns high, Lifetimes lifetimes) {
    return datapath.hasState()
        ? new Sequence(datapath, low.capacity(), new BoundsBinder(datapath, low, high))
        : Loop.all(bind(datapath, low, high, lifetimes));
  }

  /**
   * An evaluation of which outputs alone can be read, and a few steps: others give their columns to
   * later ones, so that a block stays in the cache.
   *
   * @param datapath what to evaluate
   * @param capacity cases in a block, 1 or more; about a thousand stay in the cache
   * @param steps names of those to be read besides
   * @return columns and loops of its own
   * @throws DatapathException when a step has a meaning in bits only, or there is none of a name
   */
  public static BoundsEvaluation ofOutputs(Datapath datapath, int capacity, String... steps) {
    datapath.refuseBitsOnly("bounds");
    return new BoundsEvaluation(
        datapath, datapath.checkedCapacity(capacity), Lifetimes.of(datapath, steps));
  }

  private static Loop[] bind(Datapath datapath, Columns low, Columns high, Lifetimes lifetimes) {
    BoundColumns both = new BoundColumns(low, high);
    List<Loop> bound = new ArrayList<>();
    for (Value value : datapath.values()) {
      if (!lifetimes.needed(value)) {
        continue;
      }
      Step step = value.step();
      boolean point = step.exact() && step.operands().stream().allMatch(both::point);
      low.allocate(value, lifetimes);
      Loop loop;
      if (point) {
        high.share(value, low.lane(value));
        loop = step.bits(low, value);
      } else {
        high.allocate(value, lifetimes);
        loop = step.bounds(both, value);
      }
      if (lifetimes.fixed(value)) {
        loop.run(low.capacity());
      } else if (loop != Loop.NOTHING) {
        bound.add(loop);
      }
      lifetimes.endAt(value, low);
      lifetimes.endAt(value, high);
    }
    return bound.toArray(new Loop[0]);
  }

  /**
   * The registers that may hold any code of their format: their bounds have grown until they say
   * nothing. Registers of one bit are not among them.
   *
   * @param cases for how many in a row, up to the last one that was run
   * @return their names
   */
  public List<String> openRegisters(int cases) {
    List<String> open = new ArrayList<>();
    for (Held.Bounds each : held()) {
      if (each.open() >= cases) {
        open.add(each.register().name());
      }
    }
    return open;
  }

  List<Held.Bounds> held() {
    return sequence
        .map(of -> of.registers().stream().map(Held.Bounds.class::cast).toList())
        .orElse(List.of());
  }

  /**
   * The column of an output's least codes.
   *
   * @param operand index in {@link Datapath#outputs()}
   * @param word 0, or 1 for the upper word of a format beyond 64 bits
   * @return the column itself, valid for the cases of the last run
   * @throws DatapathException when there is no such output or word
   */
  public long[] low(int operand, int word) {
    Value value = inputs.value(datapath.outputValues(), "output", operand);
    return Inputs.word(datapath, low.lane(value), value, word);
  }

  /**
   * The column of an output's greatest codes.
   *
   * @param operand index in {@link Datapath#outputs()}
   * @param word 0, or 1 for the upper word of a format beyond 64 bits
   * @return the column itself, valid for the cases of the last run
   * @throws DatapathException when there is no such output or word
   */
  public long[] high(int operand, int word) {
    Value value = inputs.value(datapath.outputValues(), "output", operand);
    return Inputs.word(datapath, high.lane(value), value, word);
  }

  /**
   * The column of a step's least codes.
   *
   * @param name a step's name; what is inside a unit has no bounds
   * @param word 0, or 1 for the upper word of a format beyond 64 bits
   * @return the column itself, valid for the cases of the last run
   * @throws DatapathException when there is no such step or word
   */
  public long[] stepLow(String name, int word) {
    return Inputs.word(datapath, low.find(name), low.value(name), word);
  }

  /**
   * The column of a step's greatest codes.
   *
   * @param name a step's name; what is inside a unit has no bounds
   * @param word 0, or 1 for the upper word of a format beyond 64 bits
   * @return the column itself, valid for the cases of the last run
   * @throws DatapathException when there is no such step or word
   */
  public long[] stepHigh(String name, int word) {
    return Inputs.word(datapath, high.find(name), high.value(name), word);
  }
}
