package dev.plumbline.models.datapath;

import static dev.plumbline.models.datapath.Variation.Kind.CONSTANT;
import static dev.plumbline.models.datapath.Variation.Kind.DECISION;
import static dev.plumbline.models.datapath.Variation.Kind.WIDTH;

/** A constant that is one off, or a bit off: a digit that was mistyped, a place, a width. */
final class ConstantVariations {
  private ConstantVariations() {}

  static void of(Value value, VariationMaker maker) {
    if (value.wide()) {
      return;
    }
    long code = value.range().min().longValue();
    // What is held against 0 is held against a code next to it by another comparison.
    boolean decides = code == 0 && isComparedAlone(value, maker.columns().datapath());
    Variation.Kind near = decides ? DECISION : CONSTANT;
    maker.after(near, "is 1 LSB more", LaneChange.more(1));
    maker.after(near, "is 1 LSB less", LaneChange.more(-1));
    for (int bit = 0; bit < Math.min(value.format().width(), Long.SIZE); bit++) {
      boolean isHighest = bit > 0 && code >> bit == 1;
      maker.after(
          isHighest ? WIDTH : CONSTANT,
          isHighest ? "loses its highest bit, " + bit : "has another bit " + bit,
          LaneChange.flipped(value.format(), 1L << bit));
    }
  }

  /** Whether a value serves comparisons alone, whichever steps bring it into their format. */
  private static boolean isComparedAlone(Value some, Datapath datapath) {
    return datapath.values().stream()
        .filter(each -> each.step().operands().contains(some))
        .allMatch(
            each ->
                each.step() instanceof Compare
                    || (each.hidden() && isComparedAlone(each, datapath)));
  }
}
