package dev.plumbline.check;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.drive.Engine;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.rtl.Clock;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;

/**
 * A fixed latency in software, as many clocks deep as wanted: what it gives follows from a function
 * of its own, and each output may come some clocks more or fewer after the operands.
 */
final class Pipeline implements SoftDut {
  private final Reference shown;
  private final int depth;
  private final int[] shifts; // by output: clocks late, or early below 0
  private final List<long[]> results = new ArrayList<>(); // newest first
  private final List<Boolean> valid = new ArrayList<>();
  private final int most;

  private Pipeline(Reference shown, int depth, int... shifts) {
    this.shown = shown;
    this.depth = depth;
    this.shifts = shifts;
    int farthest = depth;
    for (int shift : shifts) {
      farthest = Math.max(farthest, depth + shift);
    }
    this.most = farthest;
    for (int i = 0; i < most; i++) {
      results.add(new long[shown.outputs().size()]);
      valid.add(false);
    }
  }

  /**
   * A bench of it.
   *
   * @param held what it is held to
   * @param shown what it computes
   * @param depth clocks
   * @param shifts clocks that each output comes late; below 0 early
   */
  static Bench.Builder bench(Reference held, Reference shown, int depth, int... shifts) {
    List<Port> ports = new ArrayList<>();
    for (String control : List.of("clk", "rst", "in_valid")) {
      ports.add(GearTrain.port(control, Port.Direction.INPUT, 1, false));
    }
    held.inputs().forEach(operand -> ports.add(port("in_", operand, Port.Direction.INPUT)));
    held.outputs().forEach(operand -> ports.add(port("out_", operand, Port.Direction.OUTPUT)));
    ports.add(GearTrain.port("out_valid", Port.Direction.OUTPUT, 1, false));
    Design design =
        new Design(
            "pipeline",
            ports,
            List.of(),
            List.of(new Clock("clk", Clock.Edge.RISING, GearTrain.at(9))),
            List.of(),
            List.of(),
            List.of(),
            List.of());
    java.util.Set<String> outputs =
        Stream.concat(
                Stream.of("out_valid"), held.outputs().stream().map(one -> "out_" + one.name()))
            .collect(java.util.stream.Collectors.toSet());
    Engine.Maker maker =
        opening -> new SoftEngine(new Pipeline(shown, depth, shifts), outputs, opening);
    return new Bench.Builder(design, maker, "0123abcd")
        .named("pipeline")
        .contract(
            Contract.of(held).valid("in_valid", "out_valid").reset("rst").latency(depth).build())
        .cases(2_000)
        .initialStates(0);
  }

  private static Port port(String prefix, Operand operand, Port.Direction direction) {
    Format format = operand.format();
    return GearTrain.port(prefix + operand.name(), direction, format.width(), format.signed());
  }

  @Override
  public void settle(Pins pins) {
    pins.set("out_valid", valid.get(depth - 1));
    for (int o = 0; o < shown.outputs().size(); o++) {
      int at = depth - 1 + (o < shifts.length ? shifts[o] : 0);
      pins.set("out_" + shown.outputs().get(o).name(), results.get(at)[o]);
    }
  }

  @Override
  public void edge(Pins pins) {
    Reference.Evaluation one = shown.open(1);
    for (int i = 0; i < shown.inputs().size(); i++) {
      one.input(i, 0)[0] = pins.get("in_" + shown.inputs().get(i).name());
    }
    one.run(1);
    long[] result = new long[shown.outputs().size()];
    for (int o = 0; o < result.length; o++) {
      result[o] = one.low(o, 0)[0];
    }
    boolean reset = pins.isHigh("rst");
    results.add(0, result);
    valid.add(0, pins.isHigh("in_valid") && !reset);
    results.remove(most);
    valid.remove(most);
    if (reset) {
      valid.replaceAll(each -> false);
    }
  }
}
