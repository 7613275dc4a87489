package dev.plumbline.models.datapath;

import java.util.List;

/**
 * A datapath evaluated in reals, a block of cases at a time: the mathematics that the steps stand
 * for, without their roundings.
 *
 * <pre>{@code
 * IdealEvaluation e = datapath.ideal(1024);
 * e.input(0, 0)[17] = 65536;              // a code: 1.0 in s16.16
 * e.run(1024);
 * double real = e.output(0)[17];
 * }</pre>
 *
 * <p>Inputs are codes, outputs doubles in real units. Saturation is a declared clamp and is applied
 * here too; a wrap that overflows has no ideal and gives NaN. A decision is 1 or 0. The arithmetic
 * is that of doubles, about 16 decimal digits. An evaluation belongs to one thread and allocates
 * nothing in {@link #run}.
 */
public final class IdealEvaluation extends BlockEvaluation {
  private final IdealColumns columns;

  IdealEvaluation(Datapath datapath, int capacity) {
    this(
        datapath,
        capacity,
        new IdealColumns(datapath, capacity),
        withInputs(datapath, new Columns(datapath, capacity)));
  }

  private IdealEvaluation(Datapath datapath, int capacity, IdealColumns columns, Columns codes) {
    super(
        datapath,
        steps(datapath, capacity, new IdealBinder(datapath, columns, codes)),
        new Inputs(datapath, codes));
    this.columns = columns;
  }

  private static Columns withInputs(Datapath datapath, Columns codes) {
    datapath.inputValues().forEach(codes::allocate);
    return codes;
  }

  private static Loop steps(Datapath datapath, int capacity, IdealBinder binder) {
    return datapath.hasState()
        ? new Sequence(datapath, capacity, binder)
        : Loop.all(datapath.values().stream().map(binder::column).toArray(Loop[]::new));
  }

  /**
   * The column of an output's real values.
   *
   * @param operand index in {@link Datapath#outputs()}
   * @return the column itself, in real units, valid for the cases of the last run
   * @throws DatapathException when there is no such output
   */
  public double[] output(int operand) {
    return columns.of(inputs.value(datapath.outputValues(), "output", operand));
  }

  /**
   * The column of a step's real values.
   *
   * @param name a step's name; steps inside a unit have no ideal of their own
   * @return the column itself, in real units, valid for the cases of the last run
   * @throws DatapathException when there is no such step
   */
  public double[] step(String name) {
    return columns.of(datapath.value(name));
  }

  @Override
  List<Lane> readable() {
    return List.of();
  }
}
