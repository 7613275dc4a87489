package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.DatapathException;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.unit.Reciprocal;
import java.util.Random;

/**
 * Formats of a box unit.
 *
 * @param word of origins, faces and distances
 * @param ray of the direction's components or, where those are given, of their inverses
 * @param inverse of reciprocals that saturate; of no use where inverses are given
 * @param inverses whether inverses are given
 */
record SlabFormats(Format word, Format ray, Format inverse, boolean inverses) {
  private static final double LARGEST = 48;

  static SlabFormats of(PlaneFormats formats, boolean inverses) {
    Format ray = inverses ? formats.word : formats.direction;
    return new SlabFormats(formats.word, ray, formats.word, inverses);
  }

  /** Sizes over the whole range that can be built, small ones as often as large ones. */
  static SlabFormats any(Random random, boolean inverses) {
    while (true) {
      SlabFormats formats =
          new SlabFormats(format(random), format(random), format(random), inverses);
      try {
        formats.solid();
        formats.culling(255, BoxSlab.OnFace.INSIDE);
        return formats;
      } catch (DatapathException | IllegalArgumentException tooWide) {
        // Beyond what the reference takes: draw others.
      }
    }
  }

  private static Format format(Random random) {
    int width = 2 + (int) (Math.exp(random.nextDouble() * Math.log(LARGEST)) - 1);
    return new Format(true, width, random.nextInt(width + 3) - 1);
  }

  Datapath solid() {
    Box box = Box.of(word);
    Budget budget = box.budget(word);
    return inverses
        ? box.budgetedFromInverse(ray, budget)
        : box.budgetedFromDirection(Reciprocal.between(ray, inverse), budget);
  }

  Datapath culling(int margin, BoxSlab.OnFace onFace) {
    BoxSlab slab = BoxSlab.of(word).withMargin(margin).withOnFace(onFace);
    Budget budget = slab.budget(word);
    return inverses
        ? slab.budgetedFromInverse(ray, budget)
        : slab.budgetedFromDirection(Reciprocal.between(ray, inverse), budget);
  }

  /** Where the columns of faces begin: after the origin, the ray and, with inverses, its bits. */
  int faces() {
    return inverses ? 9 : 6;
  }
}
