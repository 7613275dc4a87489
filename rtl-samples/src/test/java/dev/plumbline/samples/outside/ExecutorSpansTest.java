package dev.plumbline.samples.outside;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.models.program.Program;
import dev.plumbline.models.span.SpanOperator;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.samples.ObservedExecutor;
import dev.plumbline.samples.ObservedExecutor.ObservedList;
import dev.plumbline.samples.ObservedExecutor.Result;
import dev.plumbline.samples.SampleExecutor;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvFileSource;

/** Published figures of combined solids against the RTL's own lists and hits: no model is asked. */
class ExecutorSpansTest {
  private static final SampleExecutor EXECUTOR = SampleExecutor.STANDARD;

  private static final long ONE = 1L << EXECUTOR.word().fractionBits();

  /** Two LSB: the distances of a sphere are rounded. */
  private static final double ROUNDING = 2.0 / ONE;

  private static ObservedExecutor rtl;

  @BeforeAll
  static void open() {
    rtl = new ObservedExecutor(EXECUTOR);
  }

  @AfterAll
  static void close() {
    rtl.close();
  }

  /** A solid of a program, and what is combined with it. */
  private interface Recipe {
    Program.Builder put(Program.Builder program);
  }

  /** A slab across the ray from one distance to another. */
  private static Recipe slab(int material, double from, double to) {
    return program -> program.box(material, -ONE, -ONE, code(from), ONE, ONE, code(to));
  }

  /** A solid that the ray misses. */
  private static Recipe missed(int material) {
    return program -> program.box(material, 5 * ONE, 5 * ONE, 0, 6 * ONE, 6 * ONE, ONE);
  }

  private static Recipe sphere(int material, double at) {
    return program -> program.sphere(material, 0, 0, code(at), ONE);
  }

  private static Recipe combined(SpanOperator operator, Recipe left, Recipe right) {
    return program -> right.put(left.put(program)).combine(operator);
  }

  private static long code(double words) {
    return Math.round(words * ONE);
  }

  private static double words(long code) {
    return (double) code / ONE;
  }

  /** What a ray along z finds beyond a start. */
  private static Result shoot(Recipe solid, double fromZ, double start) {
    Program.Builder program = Program.builder(EXECUTOR.formats(), EXECUTOR.limits());
    rtl.load(solid.put(program.begin()).close().end().build());
    Rays rays = Rays.of(EXECUTOR.formats(), 1);
    rays.nearest(0, code(start), new long[] {0, 0, code(fromZ)}, new long[] {0, 0, ONE});
    return rtl.runWithLists(rays).get(0);
  }

  /** The list that is closed. */
  private static ObservedList listOf(Result result) {
    return result.lists().get(result.lists().size() - 3);
  }

  /** J. Buck, The Ray Tracer Challenge, 2019, ch. 16: which crossings a combination keeps. */
  @ParameterizedTest(name = "D2 {0}, left hit {1}, in left {2}, in right {3}: kept {4}")
  @CsvFileSource(files = "../models/src/test/resources/surface-rule.csv")
  void keepsCrossings(
      SpanOperator operator, boolean leftHit, boolean inLeft, boolean inRight, boolean kept) {
    // The crossing is at 10; a solid that is not crossed there lies around it, or is missed.
    Recipe left = leftHit ? crossed(1, inLeft) : around(1, inLeft);
    Recipe right = leftHit ? around(2, inRight) : crossed(2, inRight);
    Result result = shoot(combined(operator, left, right), 0, 9.5);

    ObservedList list = listOf(result);
    int end = list.distances().indexOf(10 * ONE);
    assertEquals(kept, end >= 0, list.toString());
    assertEquals(kept, result.hit() && result.distance() == 10 * ONE, result.toString());
    if (kept) {
      int material = leftHit ? 1 : 2;
      boolean reversed = !leftHit && operator == SpanOperator.DIFFERENCE;
      assertEquals(material, list.materials().get(end));
      assertEquals(reversed, list.reversed().get(end));
      assertEquals(material, result.material());
      assertEquals(reversed, result.reversed());
    }
  }

  private static Recipe crossed(int material, boolean inside) {
    return inside ? slab(material, 5, 10) : slab(material, 10, 15);
  }

  private static Recipe around(int material, boolean inside) {
    return inside ? slab(material, 0, 20) : missed(material);
  }

  @Test
  @DisplayName("D3 hits 1A 2B 3A 4B: union 1, 4; intersection 2, 3; difference 1, 2")
  void workedList() {
    // J. Buck, The Ray Tracer Challenge, 2019, ch. 16.
    Recipe a = slab(1, 1, 3);
    Recipe b = slab(2, 2, 4);
    assertEnds(0, combined(SpanOperator.UNION, a, b), 1, 4);
    assertEnds(0, combined(SpanOperator.INTERSECTION, a, b), 2, 3);
    assertEnds(0, combined(SpanOperator.DIFFERENCE, a, b), 1, 2);
  }

  @Test
  @DisplayName("D3 spheres at 0 and .5 from -5: 4, 6.5; 4.5, 6; A - B 4, 4.5; B - A 6, 6.5")
  void workedSpheres() {
    // J. Buck, The Ray Tracer Challenge, 2019, ch. 16 (4, 6.5); the others by plain arithmetic.
    Recipe a = sphere(1, 0);
    Recipe b = sphere(2, 0.5);
    assertEnds(-5, combined(SpanOperator.UNION, a, b), 4, 6.5);
    assertEnds(-5, combined(SpanOperator.INTERSECTION, a, b), 4.5, 6);
    assertEnds(-5, combined(SpanOperator.DIFFERENCE, a, b), 4, 4.5);
    assertEnds(-5, combined(SpanOperator.DIFFERENCE, b, a), 6, 6.5);
  }

  @Test
  @DisplayName("D4 A = [0,4],[6,9], B = [2,7]")
  void worksAsAnotherLibrary() {
    // commons-geometry 1.0, RegionBSPTree1D.
    Recipe a = combined(SpanOperator.UNION, slab(1, 0, 4), slab(1, 6, 9));
    Recipe b = slab(5, 2, 7);
    assertEnds(0, combined(SpanOperator.UNION, a, b), 0, 9);
    assertEnds(0, combined(SpanOperator.INTERSECTION, a, b), 2, 4, 6, 7);
    assertEnds(0, combined(SpanOperator.DIFFERENCE, a, b), 0, 2, 7, 9);
    assertEnds(0, combined(SpanOperator.DIFFERENCE, b, a), 4, 6);
  }

  private static void assertEnds(double fromZ, Recipe solid, double... ends) {
    Result result = shoot(solid, fromZ, 0);
    List<Long> observed = listOf(result).distances();
    assertEquals(ends.length, observed.size(), observed.toString());
    double nearest = 0;
    for (int i = 0; i < ends.length; i++) {
      assertEquals(ends[i], words(observed.get(i)), ROUNDING, observed.toString());
      nearest = nearest == 0 ? ends[i] : nearest; // the first beyond the ray's start, 0
    }
    assertEquals(nearest, words(result.distance()), ROUNDING, result.toString());
  }
}
