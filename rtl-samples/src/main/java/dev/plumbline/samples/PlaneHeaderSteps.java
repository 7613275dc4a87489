package dev.plumbline.samples;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.datapath.Vectors;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.unit.Reciprocal;

/**
 * The steps of plane_pipeline.sv as its header has them under "Equation", "Rounding", "Overflow"
 * and "Special". {@link dev.plumbline.models.solid.HalfSpace} gives the same bits by choices that
 * keep bounds narrow, which no hardware makes; a fault in a choice is explained by these.
 */
final class PlaneHeaderSteps {
  private static final int GUARD = 4;

  private final Datapath.Builder b = Datapath.named("plane");
  private final Vectors vectors = new Vectors(b);

  private PlaneHeaderSteps() {}

  /**
   * Describes the plane.
   *
   * @param word of points, level and distances
   * @param direction of directions and normals
   * @param slope of the slope and its inverse
   */
  static Datapath of(Format word, Format direction, Format slope) {
    return new PlaneHeaderSteps().describe(word, direction, slope);
  }

  private Datapath describe(Format word, Format directions, Format slopes) {
    Value[] origin = vectors.inputs("origin", word);
    Value[] direction = vectors.inputs("direction", directions);
    Value[] normal = vectors.inputs("normal", directions);
    Value level = b.input("level", word);
    Value zero = b.constant("zero", word, 0);
    Value lowest = b.constant("lowest", word, word.minCode());
    Value highest = b.constant("highest", word, word.maxCode());

    Value height = b.subtract("height", level, vectors.dot("reach", normal, origin));
    Value inside = b.atMost("inside", zero, height);
    Value slope = near("slope", vectors.dot("slope_full", normal, direction), slopes);
    Value nought = b.constant("nought", slopes, 0);
    Value parallel = b.equal("parallel", slope, nought);
    Value leaving = b.lessThan("leaving", nought, slope);

    int fraction = word.fractionBits() + GUARD;
    Value depth = near("depth", height, Format.signed(word.integerBits() + 3, fraction));
    Value inverse =
        b.unit("inverse", Reciprocal.newton(slopes.width(), slopes.fractionBits()).unit(), slope);
    // One fraction bit below the word's stays: floored there, a number still rounds alike.
    Value product = b.multiply("product_full", depth, inverse);
    int dropped = product.format().fractionBits() - word.fractionBits() - 1;
    Value floored = product;
    if (dropped > 0) {
      Format kept = Format.signed(product.format().integerBits(), word.fractionBits() + 1);
      floored = b.convert("product", product, kept, Rounding.FLOOR, Overflow.SATURATE);
    }
    Value distance = near("distance", floored, word);

    Value ever = b.select("ever_from", inside, lowest, highest);
    Value never = b.select("ever_to", inside, highest, lowest);
    Value from = b.select("from", leaving, lowest, distance);
    Value to = b.select("to", leaving, distance, highest);
    Value entry = b.select("entry", parallel, ever, from);
    Value exit = b.select("exit", parallel, never, to);
    Value hit = b.and("hit", b.atMost("in_order", entry, exit), b.atMost("reaches", zero, exit));
    b.output("hit", hit).output("inside", inside).output("leaving", leaving);
    b.output("parallel", parallel).output("entry", entry).output("exit", exit);
    return b.build();
  }

  private Value near(String name, Value value, Format format) {
    return b.convert(name, value, format, Rounding.HALF_CEILING, Overflow.SATURATE);
  }
}
