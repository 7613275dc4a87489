package dev.plumbline.models.light;

import dev.plumbline.models.datapath.BitEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.traversal.Rays;

/**
 * Puts directions into rays, with the inverses of their components.
 *
 * <p>A component is brought to a word (exactly, or to the nearest code, a tie going up), and its
 * reciprocal is cut towards zero. Where that overflows, at zero too, the component is parallel, and
 * its inverse what the unit gives.
 */
final class DirectionColumns {
  private final int shift; // to the left, from a direction to a word
  private final long lowest;
  private final long highest;
  private final BitEvaluation reciprocal;
  private final long[] operand;
  private final long[] inverse;
  private final long[] overflow;

  DirectionColumns(SceneFormats formats, int capacity) {
    Format word = formats.word();
    this.shift = word.fractionBits() - formats.direction().fractionBits();
    this.lowest = word.minCode().longValue();
    this.highest = word.maxCode().longValue();
    Datapath unit = PrimaryRay.reciprocal(word).datapath();
    this.reciprocal = unit.bits(capacity);
    this.operand = Codes.input(unit, reciprocal, "x");
    this.inverse = Codes.output(unit, reciprocal, "y");
    this.overflow = Codes.output(unit, reciprocal, "overflow");
  }

  /** Sets directions of the first rays, an axis at a time. */
  void set(Rays rays, int axis, long[] directions, int count) {
    String suffix = "_" + "xyz".charAt(axis);
    for (int i = 0; i < count; i++) {
      operand[i] = word(directions[i]);
    }
    reciprocal.run(count);
    System.arraycopy(directions, 0, rays.column("direction" + suffix), 0, count);
    System.arraycopy(inverse, 0, rays.column("inverse" + suffix), 0, count);
    System.arraycopy(overflow, 0, rays.column("parallel" + suffix), 0, count);
  }

  private long word(long direction) {
    long code = shift >= 0 ? direction << shift : (direction + (1L << (-shift - 1))) >> -shift;
    return Math.max(lowest, Math.min(highest, code));
  }
}
