package dev.plumbline.models.datapath;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * Changes of an output that other steps take as well, where these stay right: a port has registers
 * of its own.
 */
final class OutputVariations {
  private final Columns columns;
  private final List<Variation> made = new ArrayList<>();

  private OutputVariations(Columns columns) {
    this.columns = columns;
  }

  /** The changes of every such output of a datapath without registers. */
  static List<Variation> of(Columns bound, boolean[] taken, int farthest) {
    OutputVariations some = new OutputVariations(bound);
    Set<Value> operands =
        bound.datapath().values().stream()
            .flatMap(each -> each.step().operands().stream())
            .collect(Collectors.toSet());
    for (Value each : bound.datapath().outputValues()) {
      if (operands.contains(each)
          && each.step().sameColumns() == null
          && !(each.step() instanceof Input)
          && !(each.step() instanceof Constant)) {
        some.of(each, taken, farthest);
      }
    }
    return some.made;
  }

  private void of(Value output, boolean[] taken, int farthest) {
    String name = "output " + output.name() + " ";
    for (int far = 1; far <= farthest; far++) {
      for (int rows : new int[] {far, -far}) {
        String words = VariationMaker.rows(rows);
        add(Variation.Kind.NEIGHBOUR, name + "is that of " + words, output, LaneChange.from(rows));
        add(
            Variation.Kind.NEIGHBOUR,
            name + "keeps what it was where no case comes " + words,
            output,
            LaneChange.held(taken, rows));
      }
    }
    if (output.format().width() == 1) {
      add(Variation.Kind.DECISION, name + "is inverted", output, LaneChange.inverted());
    }
  }

  private void add(Variation.Kind kind, String words, Value output, LaneChange change) {
    Lane lane = columns.lane(output);
    Loop loop = count -> change.apply(lane, count);
    made.add(
        new Variation(kind, words, List.of(new Variation.Part(columns, output, loop, null, true))));
  }
}
