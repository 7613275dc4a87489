package dev.plumbline.models.span;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;

import java.util.List;
import java.util.Random;
import org.apache.commons.geometry.euclidean.oned.Interval;
import org.apache.commons.geometry.euclidean.oned.RegionBSPTree1D;
import org.apache.commons.numbers.core.Precision;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

/** Span algebra against a library that nobody here wrote: commons-geometry 1.0. */
class SpanLibraryTest {
  private static final Precision.DoubleEquivalence PRECISION =
      Precision.doubleEquivalenceOfEpsilon(1e-6);
  private static final List<SpanOperator> OPERATORS = List.of(SpanOperator.values());
  private static final long SEED = 3;

  @Test
  @DisplayName("D4 random trees of spans agree with RegionBSPTree1D, touching and equal ends too")
  void agreesWithCommonsGeometry() {
    Random random = new Random(SEED);
    for (int n = 0; n < 3_000; n++) {
      SpanList list = Spans.random(random, 0);
      RegionBSPTree1D region = region(list);
      int steps = 1 + random.nextInt(5);
      for (int k = 0; k < steps; k++) {
        SpanList other = Spans.random(random, 10);
        RegionBSPTree1D otherRegion = region(other);
        SpanOperator operator = OPERATORS.get(random.nextInt(3));
        boolean swap = random.nextBoolean();
        list = swap ? Spans.combined(operator, other, list) : Spans.combined(operator, list, other);
        region =
            swap
                ? combined(operator, otherRegion, region)
                : combined(operator, region, otherRegion);
        long[] theirs =
            region.toIntervals().stream()
                .filter(i -> i.getSize() > 0.5)
                .flatMapToLong(
                    i ->
                        java.util.stream.LongStream.of(
                            Math.round(i.getMin()), Math.round(i.getMax())))
                .toArray();
        assertArrayEquals(theirs, Spans.ends(list), "seed " + SEED + ", case " + n);
      }
    }
  }

  private static RegionBSPTree1D region(SpanList list) {
    RegionBSPTree1D region = RegionBSPTree1D.empty();
    for (int i = 0; i < 2 * list.count(); i += 2) {
      region.add(Interval.of((double) list.distance(i), (double) list.distance(i + 1), PRECISION));
    }
    return region;
  }

  private static RegionBSPTree1D combined(
      SpanOperator operator, RegionBSPTree1D left, RegionBSPTree1D right) {
    RegionBSPTree1D result = RegionBSPTree1D.empty();
    switch (operator) {
      case UNION -> result.union(left, right);
      case INTERSECTION -> result.intersection(left, right);
      case DIFFERENCE -> result.difference(left, right);
    }
    return result;
  }
}
