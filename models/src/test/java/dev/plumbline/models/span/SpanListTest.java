package dev.plumbline.models.span;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import java.util.stream.LongStream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvFileSource;

class SpanListTest {
  /** J. Buck, The Ray Tracer Challenge, 2019, ch. 16: which crossings a combination keeps. */
  @ParameterizedTest(name = "D2 {0}, left hit {1}, in left {2}, in right {3}: kept {4}")
  @CsvFileSource(files = "src/test/resources/surface-rule.csv")
  void keepsCrossings(
      SpanOperator operator, boolean leftHit, boolean inLeft, boolean inRight, boolean kept) {
    SpanList left = leftHit ? crossed(1, inLeft) : around(1, inLeft);
    SpanList right = leftHit ? around(2, inRight) : crossed(2, inRight);
    SpanList result = Spans.combined(operator, left, right);
    int end = (int) LongStream.of(Spans.ends(result)).filter(d -> d < 10).count();
    boolean there = end < 2 * result.count() && result.distance(end) == 10;
    assertEquals(kept, there, result.toString());
    if (kept) {
      assertEquals(leftHit ? 1 : 2, result.surface(end));
      assertEquals(!leftHit && operator == SpanOperator.DIFFERENCE, result.isReversed(end));
    }
  }

  private static SpanList crossed(int surface, boolean inside) {
    return inside ? Spans.of(surface, 5, 10) : Spans.of(surface, 10, 15);
  }

  private static SpanList around(int surface, boolean inside) {
    return inside ? Spans.of(surface, 0, 20) : Spans.of(surface);
  }

  @Test
  @DisplayName("D3 hits 1A 2B 3A 4B: union 1, 4; intersection 2, 3; difference 1, 2")
  void workedList() {
    // J. Buck, The Ray Tracer Challenge, 2019, ch. 16.
    SpanList a = Spans.of(1, 1, 3);
    SpanList b = Spans.of(2, 2, 4);
    assertEnds(SpanOperator.UNION, a, b, 1, 4);
    assertEnds(SpanOperator.INTERSECTION, a, b, 2, 3);
    assertEnds(SpanOperator.DIFFERENCE, a, b, 1, 2);
  }

  @Test
  @DisplayName("D4 A = [0,4],[6,9], B = [2,7]")
  void worksAsAnotherLibrary() {
    // commons-geometry 1.0, RegionBSPTree1D.
    SpanList a = Spans.of(1, 0, 4, 6, 9);
    SpanList b = Spans.of(5, 2, 7);
    assertEnds(SpanOperator.UNION, a, b, 0, 9);
    assertEnds(SpanOperator.INTERSECTION, a, b, 2, 4, 6, 7);
    assertEnds(SpanOperator.DIFFERENCE, a, b, 0, 2, 7, 9);
    assertEnds(SpanOperator.DIFFERENCE, b, a, 4, 6);
  }

  private static void assertEnds(SpanOperator operator, SpanList l, SpanList r, long... ends) {
    assertArrayEquals(ends, Spans.ends(Spans.combined(operator, l, r)));
  }

  @Test
  @DisplayName("D1 point rule on every elementary interval (S. Roth, 1982)")
  void keepsThePointRule() {
    Random random = new Random(11);
    for (int n = 0; n < 20_000; n++) {
      SpanList l = Spans.random(random, 10);
      SpanList r = Spans.random(random, 20);
      for (SpanOperator operator : SpanOperator.values()) {
        SpanList result = Spans.combined(operator, l, r);
        for (long d = -1; d < 60; d++) {
          assertEquals(operator.contains(in(l, d), in(r, d)), in(result, d), "seed 11, case " + n);
        }
        for (int i = 1; i < 2 * result.count(); i++) {
          assertTrue(result.distance(i - 1) < result.distance(i), "ascending, not touching");
        }
      }
    }
  }

  /** Membership of the interval [d, d + 1). */
  private static boolean in(SpanList list, long d) {
    for (int i = 0; i < 2 * list.count(); i += 2) {
      if (list.distance(i) <= d && d < list.distance(i + 1)) {
        return true;
      }
    }
    return false;
  }

  @Test
  @DisplayName("D5 inclusion and exclusion, De Morgan, A - A is empty")
  void identitiesOfEachRay() {
    Random random = new Random(5);
    for (int n = 0; n < 20_000; n++) {
      SpanList a = Spans.random(random, 10);
      SpanList b = Spans.random(random, 20);
      SpanList all = Spans.of(9, -10, 100);
      SpanList union = Spans.combined(SpanOperator.UNION, a, b);
      SpanList both = Spans.combined(SpanOperator.INTERSECTION, a, b);
      SpanList without = Spans.combined(SpanOperator.DIFFERENCE, a, b);
      assertEquals(
          Spans.length(a) + Spans.length(b), Spans.length(union) + Spans.length(both), "case " + n);
      assertEquals(Spans.length(a), Spans.length(without) + Spans.length(both), "case " + n);
      SpanList notA = Spans.combined(SpanOperator.DIFFERENCE, all, a);
      SpanList notB = Spans.combined(SpanOperator.DIFFERENCE, all, b);
      assertArrayEquals(
          Spans.ends(Spans.combined(SpanOperator.DIFFERENCE, all, union)),
          Spans.ends(Spans.combined(SpanOperator.INTERSECTION, notA, notB)),
          "case " + n);
      assertEquals(0, Spans.combined(SpanOperator.DIFFERENCE, a, a).count());
    }
  }

  @Test
  @DisplayName("D5 one solid less n apart from each other gives n + 1 spans: capacity and one over")
  void dropsWhatDoesNotFit() {
    SpanList solid = SpanList.of(Spans.CODES, 4).set(0, 100, 1, 1);
    SpanList holes = SpanList.of(Spans.CODES, 4);
    holes.add(10, 11, 2, 2).add(20, 21, 2, 2).add(30, 31, 2, 2);
    SpanList result = SpanList.of(Spans.CODES, 4);
    assertEquals(8, result.combine(SpanOperator.DIFFERENCE, solid, holes));
    assertEquals(4, result.count());
    assertFalse(result.overflowed());
    holes.add(40, 41, 2, 2);
    result.combine(SpanOperator.DIFFERENCE, solid, holes);
    assertTrue(result.overflowed());
    assertArrayEquals(new long[] {0, 10, 11, 20, 21, 30, 31, 40}, Spans.ends(result));
    result.combine(SpanOperator.UNION, result, SpanList.of(Spans.CODES, 4));
    assertTrue(result.overflowed(), "it stays known");
    assertFalse(result.clear().overflowed());
  }

  @Test
  void tiesTakeTheLeftSurfaceAndEqualEndsCancel() {
    SpanList left = Spans.of(1, 0, 10);
    SpanList right = Spans.of(2, 0, 10);
    SpanList union = Spans.combined(SpanOperator.UNION, left, right);
    assertEquals(1, union.surface(0));
    assertEquals(1, union.surface(1));
    SpanList ring = Spans.combined(SpanOperator.DIFFERENCE, left, Spans.of(2, 0, 4));
    assertArrayEquals(new long[] {4, 10}, Spans.ends(ring));
    assertEquals(2, ring.surface(0));
    assertTrue(ring.isReversed(0));
    SpanList touching = Spans.combined(SpanOperator.UNION, left, Spans.of(3, 10, 12));
    assertArrayEquals(new long[] {0, 12}, Spans.ends(touching));
    assertEquals(0, Spans.combined(SpanOperator.INTERSECTION, left, Spans.of(3, 10, 12)).count());
    // At 10 the left one ends and a hole ends too: nothing is left of either.
    SpanList cut = Spans.combined(SpanOperator.DIFFERENCE, left, Spans.of(3, 5, 10));
    assertArrayEquals(new long[] {0, 5}, Spans.ends(cut));
  }

  @Test
  void cutTwiceIsNotReversed() {
    SpanList inner = Spans.combined(SpanOperator.DIFFERENCE, Spans.of(1, 2, 8), Spans.of(2, 4, 6));
    SpanList outer = Spans.combined(SpanOperator.DIFFERENCE, Spans.of(3, 0, 10), inner);
    assertArrayEquals(new long[] {0, 2, 4, 6, 8, 10}, Spans.ends(outer));
    assertTrue(outer.isReversed(1));
    assertFalse(outer.isReversed(2));
    assertEquals(2, outer.surface(2));
  }

  @Test
  void openEndsHaveNoSurface() {
    long low = Spans.CODES.lowest();
    long high = Spans.CODES.highest();
    SpanList behind = Spans.of(1, low, 5);
    SpanList ahead = Spans.of(2, 5, high);
    assertEquals(1, behind.nearestBeyond(0));
    assertEquals(-1, behind.nearestBeyond(5), "strictly beyond");
    assertEquals(0, ahead.nearestBeyond(4));
    assertEquals(-1, ahead.nearestBeyond(5));
    SpanList all = Spans.combined(SpanOperator.UNION, behind, ahead);
    assertArrayEquals(new long[] {low, high}, Spans.ends(all));
    assertTrue(all.isOpen(0) && all.isOpen(1));
    assertEquals(-1, all.nearestBeyond(low));
    assertEquals("[open, open)", all.toString());
  }

  @Test
  void tangentIsEmpty() {
    assertEquals(0, Spans.of(1).set(5, 5, 1, 1).count());
    assertEquals(0, Spans.of(1).set(6, 5, 1, 1).count());
  }

  @Test
  void realsKeepTheirOrderAndComeBack() {
    Distances reals = Distances.reals();
    double[] ascending = {Double.NEGATIVE_INFINITY, -1e300, -2.5, -1e-300, 0, 1e-300, 3, 1e300};
    for (int i = 0; i < ascending.length; i++) {
      assertEquals(ascending[i], reals.toReal(reals.of(ascending[i])));
      assertTrue(i == 0 || reals.of(ascending[i - 1]) < reals.of(ascending[i]));
    }
    assertEquals(reals.of(0.0), reals.of(-0.0));
    SpanList list = SpanList.of(reals, 1).set(reals.of(-1.5), reals.of(2), 3, 4);
    assertEquals("[-1.5 s3, 2.0 s4)", list.toString());
    assertThrows(IllegalArgumentException.class, () -> reals.of(Double.NaN));
  }

  @Test
  void refusesASpanOutOfOrder() {
    SpanList list = Spans.of(1, 0, 10);
    String message =
        assertThrows(IllegalArgumentException.class, () -> list.add(10, 12, 2, 2)).getMessage();
    assertTrue(message.startsWith("Span [10, 12) after [0.0 s1, 10.0 s1)"), message);
  }
}
