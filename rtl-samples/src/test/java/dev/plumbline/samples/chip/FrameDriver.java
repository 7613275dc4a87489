package dev.plumbline.samples.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.cosim.InitialState;
import dev.plumbline.stimulus.RandomStream;
import java.util.Arrays;
import java.util.BitSet;

/**
 * The frame controller between contexts and a converter that are played by hand: each context takes
 * a pixel, works for as long as chance will have it, and gives a colour that tells its place.
 */
final class FrameDriver implements AutoCloseable {
  private static final int MOST_CYCLES = 400_000;

  /** A pixel in a context's hand. */
  private record Pixel(int x, int y, long readyAt) {}

  private final Dut dut;
  private final RandomStream chance;
  private final Pixel[] inHand;
  private final boolean[] idle;
  private int width;
  private int height;
  private int next;
  private double stalls;
  private int slowest;
  private boolean startNext;
  private boolean abortNext;

  /** Places that were given on. */
  final BitSet given = new BitSet();

  int dones;
  int startsIgnored;
  int droppedOrGiven;
  long shadows;
  long mirrors;
  long mirrorShadows;

  /** Cycles since the one with start, that one included. */
  long cycles;

  FrameDriver(CompiledDesign model, int contexts, long seed) {
    dut =
        model.open(
            DutOptions.defaults().withInitialState(InitialState.RANDOM).withSeed(seed & 0xFFFF));
    chance = RandomStream.of(seed);
    inHand = new Pixel[contexts];
    idle = new boolean[contexts];
    dut.set("rst", 1);
    dut.cycles(3);
    dut.set("rst", 0);
  }

  /** A colour that no other place of a frame has. */
  static int colour(int x, int y) {
    return (x * 0x9E37 ^ y * 0x79B97F ^ 0x5A5A5A) & 0xFFFFFF;
  }

  private static int ray(int x, int y, int kind) {
    return (x * 7 + y * 13 >> kind) & 1;
  }

  Dut dut() {
    return dut;
  }

  void begin(int newWidth, int newHeight, int longestWork, double shareOfStalls) {
    width = newWidth;
    height = newHeight;
    slowest = longestWork;
    stalls = shareOfStalls;
    next = 0;
    dones = 0;
    shadows = 0;
    mirrors = 0;
    mirrorShadows = 0;
    given.clear();
    dut.set("width_less_1", width - 1);
    dut.set("height_less_1", height - 1);
    startNext = true;
    cycles = 0;
    cycle();
  }

  void startAgain() {
    startNext = true;
    cycle();
  }

  void abort() {
    abortNext = true;
    cycle();
  }

  /** Runs until the frame is done or given up. */
  void untilIdle() {
    for (int i = 0; now("busy") == 1; i++) {
      assertTrue(i < MOST_CYCLES, "busy for too long");
      cycle();
    }
    cycle();
  }

  long now(String output) {
    dut.settle();
    return dut.get(output);
  }

  void cycle() {
    long ready = 0;
    for (int k = 0; k < inHand.length; k++) {
      idle[k] = inHand[k] == null && (idle[k] || !chance.chance(0.3));
      ready |= idle[k] ? 1L << k : 0;
    }
    dut.set("context_ready", ready);
    offerColours();
    boolean takes = !chance.chance(stalls);
    dut.set("pixel_ready", takes ? 1 : 0);
    dut.set("start", startNext ? 1 : 0);
    dut.set("abort_frame", abortNext ? 1 : 0);
    startNext = false;
    abortNext = false;
    dut.cycle();
    cycles++;

    collectColours();
    handOut(ready, dut.get("context_valid"));
    if (takes && dut.get("pixel_valid") == 1) {
      give();
    }
    if (dut.get("done") == 1) {
      dones++;
      assertEquals(width * height, given.cardinality(), "pixels given at done");
      assertEquals(cycles, dut.get("frame_cycles"), "cycles from start to done");
    }
    startsIgnored += (int) dut.get("start_ignored");
  }

  private void offerColours() {
    long valid = 0;
    long[] tags = new long[2];
    long[] colours = new long[2];
    long[] rays = new long[3];
    for (int k = 0; k < inHand.length; k++) {
      Pixel pixel = inHand[k];
      boolean offers = pixel != null && pixel.readyAt() <= cycles;
      valid |= offers ? 1L << k : 0;
      // What is not offered is anything.
      long tag = offers ? (long) pixel.y() << 12 | pixel.x() : chance.next() & 0xFFFFFF;
      long colour = offers ? colour(pixel.x(), pixel.y()) : chance.next() & 0xFFFFFF;
      place(tags, k, tag);
      place(colours, k, colour);
      for (int kind = 0; kind < 3; kind++) {
        rays[kind] |= (offers ? ray(pixel.x(), pixel.y(), kind) : 1L) << k;
      }
    }
    dut.set("colour_valid", valid);
    int words = 24 * inHand.length > 64 ? 2 : 1;
    dut.set("colour_tag", Arrays.copyOf(tags, words));
    dut.set("colour", Arrays.copyOf(colours, words));
    dut.set("colour_shadow_ray", rays[0]);
    dut.set("colour_mirror_ray", rays[1]);
    dut.set("colour_mirror_shadow_ray", rays[2]);
  }

  private static void place(long[] words, int k, long value) {
    for (int bit = 0; bit < 24; bit++) {
      int at = 24 * k + bit;
      words[at / 64] |= (value >> bit & 1) << at % 64;
    }
  }

  private void collectColours() {
    long taken = dut.get("colour_ready");
    long valid = 0;
    for (int k = 0; k < inHand.length; k++) {
      valid |= inHand[k] != null && inHand[k].readyAt() < cycles ? 1L << k : 0;
    }
    assertTrue(taken == 0 || taken == Long.lowestOneBit(valid), "the lowest context's colour");
    for (int k = 0; k < inHand.length; k++) {
      if ((taken >> k & 1) == 1) {
        shadows += ray(inHand[k].x(), inHand[k].y(), 0);
        mirrors += ray(inHand[k].x(), inHand[k].y(), 1);
        mirrorShadows += ray(inHand[k].x(), inHand[k].y(), 2);
        inHand[k] = null;
        droppedOrGiven++;
      }
    }
  }

  private void handOut(long ready, long offered) {
    assertTrue(offered == 0 || offered == Long.lowestOneBit(ready), "the lowest ready context");
    if (offered == 0) {
      return;
    }
    int k = Long.numberOfTrailingZeros(offered);
    assertNull(inHand[k]);
    assertTrue(next < width * height, "a pixel beyond the frame");
    assertEquals(next % width, dut.get("context_x"));
    assertEquals(next / width, dut.get("context_y"));
    inHand[k] = new Pixel(next % width, next / width, cycles + chance.below(slowest));
    idle[k] = false;
    next++;
  }

  private void give() {
    int x = (int) dut.get("pixel_x");
    int y = (int) dut.get("pixel_y");
    assertTrue(x < width && y < height, () -> "a pixel at " + x + ", " + y);
    assertEquals(colour(x, y), dut.get("pixel_colour"), () -> "colour at " + x + ", " + y);
    assertTrue(!given.get(y * width + x), () -> "given twice: " + x + ", " + y);
    given.set(y * width + x);
  }

  int handedOut() {
    return next;
  }

  boolean isEmptyHanded() {
    for (Pixel pixel : inHand) {
      if (pixel != null) {
        return false;
      }
    }
    return true;
  }

  @Override
  public void close() {
    dut.close();
  }
}
