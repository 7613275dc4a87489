package dev.plumbline.samples;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.datapath.Vectors;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;

/**
 * The steps of sphere_walker.sv as its header has them under "Equation" and "Rounding": factors as
 * sign and magnitude, one product after the other. It explains what goes wrong there; what is right
 * is decided by the bounds of the same header.
 */
final class WalkerSteps {
  private final Datapath.Builder b = Datapath.named("walker");
  private final Vectors vectors = new Vectors(b);
  private final Format word;
  private final Format working;
  private final Value zero;

  private WalkerSteps(Format word, Format working) {
    this.word = word;
    this.working = working;
    this.zero = b.constant("zero", word, 0);
  }

  /**
   * Describes the walker.
   *
   * @param word of points, radius and distances
   * @param direction of the direction's components
   * @param guard fraction bits of projection and root beyond the word's
   */
  static Datapath of(Format word, Format direction, int guard) {
    Format working = Format.signed(word.integerBits() + 4, word.fractionBits() + guard);
    return new WalkerSteps(word, working).describe(direction);
  }

  private Datapath describe(Format directions) {
    Value[] origin = vectors.inputs("origin", word);
    Value[] centre = vectors.inputs("centre", word);
    Value radius = b.input("radius", word);
    Value[] direction = vectors.inputs("direction", directions);
    Value negative = b.lessThan("negative", radius, zero);

    Value[] offset = vectors.subtract("offset", centre, origin);
    Value[] size = new Value[Vectors.COUNT];
    Value along = null;
    for (int axis = 0; axis < Vectors.COUNT; axis++) {
      String suffix = Vectors.suffix(axis);
      size[axis] = b.absolute("offset_size" + suffix, offset[axis]);
      Value length = b.absolute("direction_size" + suffix, direction[axis]);
      Value product = b.multiply("product" + suffix, length, size[axis]);
      Value back = b.lessThan("back" + suffix, offset[axis], zero);
      Value down = b.lessThan("down" + suffix, direction[axis], zero);
      Value minus = b.not("minus" + suffix, b.equal("plus" + suffix, back, down));
      Value more = along == null ? product : b.add("more" + suffix, along, product);
      Value less =
          along == null
              ? b.negate("less" + suffix, product)
              : b.subtract("less" + suffix, along, product);
      along = b.select("along" + suffix, minus, less, more);
    }
    Value projection = b.convert("projection", along, working, Rounding.FLOOR, Overflow.SATURATE);

    Value rest = b.multiply("radius_square", radius, radius);
    for (int axis = 0; axis < Vectors.COUNT; axis++) {
      String suffix = Vectors.suffix(axis);
      Value square = b.multiply("square" + suffix, size[axis], size[axis]);
      rest = b.subtract("rest" + suffix, rest, square); // at last -q
    }
    Value outside = b.lessThan("outside", rest, zero);
    Value away = b.and("away", outside, b.lessThan("behind", projection, zero));

    Value length = b.absolute("projection_size", projection);
    Value square = b.multiply("projection_square", length, length);
    Value discriminant = b.add("discriminant", rest, square);
    Value past = b.lessThan("past", discriminant, zero);
    Value missed = b.or("missed", b.or("passed_by", away, past), negative);
    Value hit = b.not("hit", missed);

    Value radicand = b.maximum("radicand", discriminant, zero);
    Value root = b.squareRoot("root", radicand, Rounding.FLOOR);
    Value exact = b.equal("is_exact", b.multiply("root_square", root, root), radicand);
    Value lsb = b.constant("lsb", new Format(false, 1, root.format().fractionBits()), 1);
    Value none = b.constant("none", new Format(false, 1, root.format().fractionBits()), 0);
    Value above = b.add("root_up", root, b.select("up", exact, none, lsb));
    Value begins = b.subtract("entry_full", projection, above);
    Value ends = b.add("exit_full", projection, root);
    Value inside = b.lessThan("begun", begins, zero);
    b.output("hit", hit).output("inside", b.and("inside", hit, inside));
    b.output("entry", b.select("entry", hit, inWord("entry_word", begins), zero));
    b.output("exit", b.select("exit", hit, inWord("exit_word", ends), zero));
    return b.build();
  }

  private Value inWord(String name, Value distance) {
    return b.convert(name, distance, word, Rounding.FLOOR, Overflow.SATURATE);
  }
}
