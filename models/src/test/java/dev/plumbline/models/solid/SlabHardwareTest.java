package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.fail;

import dev.plumbline.models.Evaluated;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.solid.SlabHardware.Fault;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * Boxes of other builds in formats of every size: bounds never reject a good one, and reject what
 * is wrong. With {@code -Dplumbline.long=true} twenty times as many cases.
 */
class SlabHardwareTest {
  private static final long SEED = 20261;
  private static final int CASES = 256;
  private static final int BLOCKS = Boolean.getBoolean("plumbline.long") ? 4096 : 205;

  /** One unit, and what bounds it. */
  private record Pair(SlabFormats formats, Datapath bounds, SlabHardware hardware) {
    static Pair any(SlabFormats formats, boolean solid, Fault fault, Random random) {
      int margin = solid || random.nextBoolean() ? 0 : random.nextInt(1 << random.nextInt(9));
      List<BoxSlab.OnFace> policies = List.of(BoxSlab.OnFace.values());
      BoxSlab.OnFace onFace = policies.get(solid ? 0 : random.nextInt(policies.size()));
      return new Pair(
          formats,
          solid ? formats.solid() : formats.culling(margin, onFace),
          new SlabHardware(formats, solid, margin, onFace, fault, random));
    }

    /** The first result beyond its bounds, in words, or null. */
    String alarm(long[][] cases) {
      Bounds allowed = new Bounds(bounds, cases);
      for (int i = 0; i < cases[0].length; i++) {
        for (Map.Entry<String, Long> result : hardware.run(cases, i).entrySet()) {
          String name = result.getKey();
          if (!allowed.holds(name, i, result.getValue())) {
            String which = name + " " + allowed.describe(name, i) + ", not " + result.getValue();
            return which
                + " of "
                + hardware
                + " in "
                + formats
                + " for "
                + Evaluated.describe(bounds, cases, i);
          }
        }
      }
      return null;
    }
  }

  @ParameterizedTest(name = "inverses {0}, solid {1}")
  @CsvSource({"true,true", "true,false", "false,true", "false,false"})
  void noGoodUnitIsRejectedInFormatsOfEverySize(boolean inverses, boolean solid) {
    Random random = new Random(SEED);
    for (int block = 0; block < BLOCKS / 4; block++) {
      SlabFormats formats = SlabFormats.any(random, inverses);
      Pair pair = Pair.any(formats, solid, Fault.NONE, random);
      String alarm = pair.alarm(new SlabCases(formats, random).columns(CASES));
      if (alarm != null) {
        fail(alarm + ", seed " + SEED + ", block " + block);
      }
    }
  }

  @ParameterizedTest
  @EnumSource(mode = EnumSource.Mode.EXCLUDE, names = "NONE")
  void plantedFaultsAreSeen(Fault fault) {
    for (boolean inverses : new boolean[] {true, false}) {
      for (boolean solid : new boolean[] {true, false}) {
        SlabFormats formats = SlabFormats.of(PlaneFormats.DEFAULT, inverses);
        Random random = new Random(SEED);
        boolean seen = false;
        for (int unit = 0; unit < 20; unit++) {
          Pair pair = Pair.any(formats, solid, fault, random);
          seen |= pair.alarm(new SlabCases(formats, random).columns(CASES)) != null;
        }
        // By direction, a good unit that rounds two products apart misses it as well.
        boolean decided = inverses || fault != Fault.MISSES_WHAT_ENDS_AT_THE_ORIGIN;
        assertEquals(decided, seen, fault + ", inverses " + inverses + ", solid " + solid);
      }
    }
  }

  private static void assertBounds(
      Datapath datapath, String output, long low, long high, long... c) {
    long[][] cases = new long[c.length][1];
    for (int k = 0; k < c.length; k++) {
      cases[k][0] = c[k];
    }
    Bounds bounds = new Bounds(datapath, cases);
    assertEquals(low + " to " + high, bounds.describe(output, 0), output);
  }

  private static final Format WORD = Format.signed(16, 16);
  private static final SlabFormats GIVEN = new SlabFormats(WORD, WORD, WORD, true);
  private static final SlabFormats DIRECTED =
      new SlabFormats(WORD, Format.signed(2, 16), WORD, false);

  @Test
  void productsThatAreRoundedApartAreWithinTheBounds() {
    // 65536 * 32768 less -1 * 32768, each towards zero; y and z are parallel and inside.
    long[] ray = {-1, 0, 0, 32768, 1, 1, 0, 1, 1, 1, -1, -1, 65536, 1, 1};
    // 1/2 LSB towards zero less -1/2 LSB towards zero is 0; upwards less downwards is 2.
    assertBounds(GIVEN.culling(0, BoxSlab.OnFace.INSIDE), "entry", 0, 2, ray);
  }

  @Test
  void crossedFacesMayBeTakenInOrderOrForAnEmptyBox() {
    long[] ray = {641674, -799455, 400315, -44574, 39562, -27257};
    long[] box = {107230, -720790, 409195, 466114, -262591, -70651};
    assertBounds(DIRECTED.culling(2, BoxSlab.OnFace.INSIDE), "hit", 0, 1, joined(ray, box));
    // In order they would be beside the ray: a miss either way.
    long[] beside = {107230, 720790, 409195, 466114, 262591, -70651};
    assertBounds(DIRECTED.culling(2, BoxSlab.OnFace.INSIDE), "hit", 0, 0, joined(ray, beside));
  }

  @Test
  void distancesMayBeComparedBeforeTheySaturate() {
    long[] ray = {-755, -1778668416, 2, -462, 1, 0};
    long[] box = {-81745300, -25549087, -818932216, 0, 131073, 8193};
    assertBounds(DIRECTED.culling(0, BoxSlab.OnFace.INSIDE), "hit", 0, 1, joined(ray, box));
  }

  @Test
  void aFlatBoxIsDecidedByTheOtherAxes() {
    long one = 1L << 16;
    long[] flat = {one, -one, -one, one, one, one};
    long[] aimed = joined(new long[] {-one / 3, 0, 0, 50000, 9000, -3000}, flat);
    long[] away = joined(new long[] {-one / 3, 0, 0, 50000, 65000, -3000}, flat);
    for (int margin : new int[] {0, 2}) {
      Datapath culling = DIRECTED.culling(margin, BoxSlab.OnFace.INSIDE);
      assertBounds(culling, "hit", 1, 1, aimed);
      assertBounds(culling, "hit", 0, 0, away);
    }
    assertBounds(DIRECTED.solid(), "hit", 1, 1, aimed);
    assertBounds(DIRECTED.solid(), "hit", 0, 0, away);
  }

  @Test
  void whatLosesNoBitIsDecidedToTheLsb() {
    long one = 1L << 16;
    long[] axes = {-one, 7, 7, one, 0, 0, 0, 1, 1, 5, -9, -9, 99, 9, 9};
    for (Datapath box : new Datapath[] {GIVEN.solid(), GIVEN.culling(0, BoxSlab.OnFace.INSIDE)}) {
      assertBounds(box, "entry", one + 5, one + 5, axes);
      assertBounds(box, "exit", one + 99, one + 99, axes);
      // It ends exactly at the origin: a hit; an LSB before: none.
      assertBounds(box, "hit", 1, 1, -one, 7, 7, one, 0, 0, 0, 1, 1, -5 * one, -9, -9, -one, 9, 9);
      assertBounds(
          box, "hit", 0, 0, -one, 7, 7, one, 0, 0, 0, 1, 1, -5 * one, -9, -9, -one - 1, 9, 9);
    }
  }

  private static long[] joined(long[] first, long[] second) {
    long[] all = java.util.Arrays.copyOf(first, first.length + second.length);
    System.arraycopy(second, 0, all, first.length, second.length);
    return all;
  }
}
