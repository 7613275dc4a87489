package dev.plumbline.models.datapath;

import java.util.ArrayList;
import java.util.List;

/** Changes in which what is inside a unit takes part in what is around it. */
final class UnitVariations {
  private UnitVariations() {}

  /**
   * Decisions that are taken for others: a flag of a unit for one that was made before it, in all
   * that follows on the unit.
   */
  static List<Variation> of(Columns bound, String prefix) {
    List<Variation> made = new ArrayList<>();
    List<Value> values = bound.datapath().values();
    for (Value unit : values) {
      if (unit.step() instanceof UnitStep) {
        Columns inside = bound.nested(unit.name());
        for (Value own : values.subList(0, unit.index())) {
          for (Value flag : inside.datapath().values()) {
            if (isDecision(own) && isDecision(flag)) {
              made.add(taken(bound, unit, own, inside.lane(flag), prefix, flag));
            }
          }
        }
      }
    }
    return made;
  }

  private static boolean isDecision(Value some) {
    return some.format().width() == 1
        && !some.hidden()
        && !VariationMaker.isConstant(some)
        && some.step().sameColumns() == null
        && !(some.step() instanceof Input);
  }

  private static Variation taken(
      Columns bound, Value unit, Value own, Lane from, String prefix, Value flag) {
    Lane to = bound.lane(own);
    Loop before = bound.loops()[unit.index()];
    Loop loop =
        count -> {
          before.run(count);
          System.arraycopy(from.low, 0, to.low, 0, count);
        };
    String words =
        "step " + prefix + own.name() + " is " + prefix + unit.name() + "." + flag.name();
    return new Variation(
        Variation.Kind.EXCHANGED, words, List.of(new Variation.Part(bound, unit, loop, null)));
  }
}
