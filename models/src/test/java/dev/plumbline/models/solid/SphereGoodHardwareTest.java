package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.solid.OtherSphere.Fault;
import dev.plumbline.models.solid.OtherSphere.Order;
import dev.plumbline.models.solid.SphereDraws.Formats;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * Hardware that rounds each operation once raises no alarm, whatever its order of evaluation,
 * formats and lengths; a planted fault does, where nothing is rounded.
 */
@Tag("thorough")
class SphereGoodHardwareTest {
  /** Cases of each order; -Dplumbline.long=true takes twenty times as many. */
  private static final int CASES = Boolean.getBoolean("plumbline.long") ? 220_000 : 11_000;

  private static final int BLOCK = 500;
  private static final long SEED = 20257;
  private static final Formats USUAL =
      new Formats(Format.signed(16, 16), Format.signed(2, 16), Format.signed(16, 16));

  @ParameterizedTest
  @EnumSource
  void raisesNoAlarm(Order order) {
    Random random = new Random(SEED ^ order.name().hashCode());
    for (int from = 0; from < CASES; from += BLOCK) {
      Formats formats = Formats.draw(random);
      long[][] columns = new SphereDraws(formats, BLOCK, random).any().columns;
      Map<Sphere.Formula, Bounds> bounds = new EnumMap<>(Sphere.Formula.class);
      bounds.put(order.declared, bounds(formats, order.declared, columns));
      bounds.put(Sphere.Formula.ANY, bounds(formats, Sphere.Formula.ANY, columns));
      OtherSphere other = other(formats, order, Fault.NONE, random);
      for (int i = 0; i < BLOCK; i++) {
        other.compute(columns, i);
        for (Map.Entry<Sphere.Formula, Bounds> one : bounds.entrySet()) {
          String outside = outside(other, one.getValue(), i);
          if (outside != null) {
            throw new AssertionError(
                order
                    + " held to "
                    + one.getKey()
                    + ": "
                    + outside
                    + describe(columns, i, formats));
          }
        }
      }
    }
  }

  /** A tangent, a lattice point beside it and one through: nothing is rounded, all is decided. */
  @ParameterizedTest
  @EnumSource
  void tangentsAreDecidedWhereNothingIsRounded(Order order) {
    Random random = new Random(SEED);
    for (int round = 0; round < 24; round++) {
      Formats formats = Formats.draw(random);
      for (int through = -1; through <= 1; through++) {
        long[][] columns = new SphereDraws(formats, BLOCK, random).onLattice(through).columns;
        for (Sphere.Formula formula : List.of(order.declared, Sphere.Formula.ANY)) {
          Bounds bounds = bounds(formats, formula, columns);
          OtherSphere wrong = other(formats, order, Fault.TANGENT_MISSES, random);
          for (int i = 0; i < BLOCK; i++) {
            String which = formula + describe(columns, i, formats);
            assertTrue(bounds.decided("hit", i), which);
            assertEquals(through >= 0, bounds.is("hit", i), which);
            wrong.compute(columns, i);
            assertEquals(through == 0, outside(wrong, bounds, i) != null, which);
          }
        }
      }
    }
  }

  /** Through the centre the root is the radius: distances are single codes, and one off is seen. */
  @ParameterizedTest
  @EnumSource
  void radiusOneLsbOffIsSeenWhereItMakesADifference(Order order) {
    Random random = new Random(SEED);
    int seen = 0;
    for (int round = 0; round < 24; round++) {
      Formats formats = Formats.draw(random);
      int finer = formats.working().fractionBits() - formats.word().fractionBits();
      long lsb = 1L << Math.max(-finer, 0);
      long[][] columns = new SphereDraws(formats, BLOCK, random).atCentres().columns;
      for (Sphere.Formula formula : List.of(order.declared, Sphere.Formula.ANY)) {
        Sphere sphere = formats.sphere(formula).withRoots(Sphere.Roots.EXACT_AT_SQUARES);
        Bounds bounds = new Bounds(sphere.budgeted(sphere.budget(formats.working())), columns);
        Bounds wider = bounds(formats, formula, columns);
        for (Fault fault : List.of(Fault.RADIUS_ONE_MORE, Fault.RADIUS_ONE_LESS)) {
          OtherSphere good = other(formats, order, Fault.NONE, random);
          OtherSphere wrong = other(formats, order, fault, random);
          for (int i = 0; i < BLOCK; i++) {
            String which = formula + describe(columns, i, formats);
            assertEquals(0, bounds.width("entry", i) + bounds.width("exit", i), which);
            assertTrue(wider.width("entry", i) + wider.width("exit", i) <= 6 * lsb, which);
            good.compute(columns, i);
            wrong.compute(columns, i);
            boolean differs = good.entry != wrong.entry || good.exit != wrong.exit;
            assertEquals(differs, outside(wrong, bounds, i) != null, which);
            seen += differs ? 1 : 0;
          }
        }
      }
    }
    assertTrue(seen > 24 * BLOCK, seen + " seen");
  }

  /** Raw codes in s16.16 and s2.16, with the results that mathematics or hardware give. */
  @Test
  void shortDirectionsKeepTheirDistances() {
    // 2^19 / 65536 = 8 ahead, radius 1, direction 1/8 long: (8 - 1) * 8 = 56 in its lengths.
    long[] codes = {0, 0, 0, 524288, 0, 0, 65536, 8192, 0, 0};
    for (Sphere.Formula formula : List.of(Sphere.Formula.LENGTH, Sphere.Formula.ANY)) {
      Bounds bounds = ofOne(formula, codes);
      assertTrue(bounds.holds("entry", 0, 56 << 16), bounds.describe("entry", 0));
      assertTrue(bounds.holds("exit", 0, 72 << 16), bounds.describe("exit", 0));
      // Formulas that take the length to be 1 miss.
      assertEquals(formula == Sphere.Formula.LENGTH, bounds.decided("hit", 0));
      assertEquals(1, bounds.high("hit", 0));
    }
    assertTrue(ofOne(Sphere.Formula.LENGTH, codes).width("entry", 0) < 1 << 12);
  }

  @Test
  void roundedSquaredLengthRaisesNoAlarm() {
    long[] codes = {
      -708445, 189079, -365753, -1037060, 478076, -551827, 57005, -44574, 39562, -27257
    };
    for (Sphere.Formula formula : List.of(Sphere.Formula.LENGTH, Sphere.Formula.ANY)) {
      Bounds bounds = ofOne(formula, codes);
      assertTrue(bounds.holds("exit", 0, 530913), bounds.describe("exit", 0));
    }
    Sphere exactly = USUAL.sphere(Sphere.Formula.LENGTH);
    Budget divider = exactly.budget().with("length", 0).with("inverse", 0);
    Bounds narrow = new Bounds(exactly.budgeted(divider), columns(codes));
    assertTrue(!narrow.holds("exit", 0, 530913), narrow.describe("exit", 0));
  }

  /**
   * (b - root(b^2 - a c)) / a of long directions: where r^2 is rounded, a multiplies what that
   * took. Every rounding goes the same way; the direction's own squared length, 9/4, is exact.
   */
  @Test
  void whatIsRoundedOfTheSquaredRadiusCountsTheLength() {
    Sphere sphere = USUAL.sphere(Sphere.Formula.LENGTH);
    Datapath divider = sphere.budgeted(sphere.budget().with("length", 0).with("inverse", 0));
    Random random = new Random(SEED);
    for (int i = 0; i < 2_000; i++) {
      long x = 65536L + 256L * random.nextInt(256);
      long radius = 20_000L + random.nextInt(20_000);
      long y = radius - 1 - random.nextInt(40); // nearly at the rim
      Bounds bounds = new Bounds(divider, columns(0, 0, 0, x, y, 0, radius, 98304, 0, 0));
      for (boolean up : List.of(false, true)) {
        // In LSB of 2^-16; b = 3/2 x is exact.
        long b = 3 * x / 2;
        long excess = shifted(x * x, 16, !up) + shifted(y * y, 16, !up);
        excess -= shifted(radius * radius, 16, up);
        long discriminant = shifted(b * b, 16, up) - shifted(9 * excess, 2, !up);
        if (discriminant < 0) {
          continue;
        }
        long root = shifted((long) Math.sqrt((double) (discriminant << 16)), 0, up);
        assertTrue(
            bounds.holds("entry", 0, Math.floorDiv(4 * (b - root), 9L))
                && bounds.holds("exit", 0, Math.floorDiv(4 * (b + root), 9L)),
            () -> x + " " + y + " " + radius + " " + bounds.describe("entry", 0));
      }
    }
  }

  private static long shifted(long value, int places, boolean up) {
    return up ? -(-value >> places) : value >> places;
  }

  private static Bounds ofOne(Sphere.Formula formula, long... codes) {
    return bounds(USUAL, formula, columns(codes));
  }

  private static long[][] columns(long... codes) {
    return LongStream.of(codes).mapToObj(code -> new long[] {code}).toArray(long[][]::new);
  }

  private static OtherSphere other(Formats f, Order order, Fault fault, Random random) {
    return new OtherSphere(f.word(), f.direction(), f.working(), order, fault, random);
  }

  private static Bounds bounds(Formats formats, Sphere.Formula formula, long[][] columns) {
    Sphere sphere = formats.sphere(formula);
    return new Bounds(sphere.budgeted(sphere.budget(formats.working())), columns);
  }

  private static String outside(OtherSphere other, Bounds bounds, int i) {
    long[] codes = {other.hit ? 1 : 0, other.inside ? 1 : 0, other.entry, other.exit};
    String[] outputs = {"hit", "inside", "entry", "exit"};
    for (int k = 0; k < codes.length; k++) {
      if ((k == 0 || other.hit) && !bounds.holds(outputs[k], i, codes[k])) {
        return outputs[k] + " " + codes[k] + " of " + bounds.describe(outputs[k], i);
      }
    }
    return null;
  }

  private static String describe(long[][] columns, int i, Formats formats) {
    StringBuilder text = new StringBuilder(" in ").append(formats).append(", codes");
    for (long[] column : columns) {
      text.append(' ').append(column[i]);
    }
    return text.append(", seed ").append(SEED).toString();
  }
}
