package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.unit.Reciprocal;

/** The steps that every form of {@link BoxSlab} shares, from reciprocals on. */
final class SlabSteps {
  private final Datapath.Builder b;
  private final Format word;
  private final Rounding rounding;
  private final BoxSlab.OnFace onFace;
  private final Value zero;
  private final Value lowest;
  private final Value highest;
  private final Value margin;

  SlabSteps(Datapath.Builder b, Format word, Rounding rounding, int margin, BoxSlab.OnFace onFace) {
    this.b = b;
    this.word = word;
    this.rounding = rounding;
    this.onFace = onFace;
    this.zero = b.constant("zero", word, 0);
    this.lowest = b.constant("lowest", word, word.minCode());
    this.highest = b.constant("highest", word, word.maxCode());
    this.margin = b.constant("margin", new Format(false, 4, word.fractionBits()), margin);
  }

  Value[] reciprocals(Value[] directions, Reciprocal reciprocal) {
    Value[] values = new Value[Axes.COUNT];
    for (int i = 0; i < values.length; i++) {
      values[i] = b.unit("inverse" + Axes.suffix(i), reciprocal.unit(), directions[i]);
    }
    return values;
  }

  Value[] zeros(Value[] directions) {
    Value nought = b.constant("nought", directions[0].format(), 0);
    Value[] values = new Value[Axes.COUNT];
    for (int i = 0; i < values.length; i++) {
      values[i] = b.equal("parallel" + Axes.suffix(i), directions[i], nought);
    }
    return values;
  }

  Datapath describe(Value[] origins, Value[] inverses, Value[] parallels) {
    Value[] mins = Axes.inputs(b, "min", word);
    Value[] maxs = Axes.inputs(b, "max", word);
    Value[] nears = new Value[Axes.COUNT];
    Value[] fars = new Value[Axes.COUNT];
    for (int i = 0; i < Axes.COUNT; i++) {
      String axis = Axes.suffix(i);
      Value toMin = b.subtract("to_min" + axis, mins[i], origins[i]);
      Value toMax = b.subtract("to_max" + axis, maxs[i], origins[i]);
      Value first = distance("min" + axis, toMin, inverses[i]);
      Value second = distance("max" + axis, toMax, inverses[i]);
      Value inside = inside(axis, toMin, toMax);
      nears[i] =
          b.select(
              "near" + axis,
              parallels[i],
              b.select("parallel_near" + axis, inside, lowest, highest),
              b.minimum("nearer" + axis, first, second));
      fars[i] =
          b.select(
              "far" + axis,
              parallels[i],
              b.select("parallel_far" + axis, inside, highest, lowest),
              b.maximum("farther" + axis, first, second));
    }
    Value entry = b.maximum("entry", b.maximum("entry_xy", nears[0], nears[1]), nears[2]);
    Value exit = b.minimum("exit", b.minimum("exit_xy", fars[0], fars[1]), fars[2]);
    Value reach = b.add("reach", exit, margin);
    Value inOrder = b.atMost("in_order", entry, reach);
    Value ahead = b.atMost("ahead", zero, reach);
    b.output(b.and("hit", inOrder, ahead));
    b.output(entry);
    b.output(exit);
    return b.build();
  }

  private Value distance(String face, Value to, Value inverse) {
    Value product = b.multiply("product_" + face, to, inverse);
    return b.convert("t_" + face, product, word, rounding, Overflow.SATURATE);
  }

  private Value inside(String axis, Value toMin, Value toMax) {
    String pastMin = "past_min" + axis;
    String beforeMax = "before_max" + axis;
    return onFace == BoxSlab.OnFace.INSIDE
        ? b.and("inside" + axis, b.atMost(pastMin, toMin, zero), b.atMost(beforeMax, zero, toMax))
        : b.and(
            "inside" + axis, b.lessThan(pastMin, toMin, zero), b.lessThan(beforeMax, zero, toMax));
  }
}
