package dev.plumbline.samples.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.cosim.InitialState;
import dev.plumbline.stimulus.RandomStream;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** The ray sequencer at default parameters, its executor and its table played by hand. */
final class SequencerDriver implements AutoCloseable {
  private static final int MOST_CYCLES = 20_000;

  /** Settings in codes. */
  record Settings(
      long[] eye,
      long[] corner,
      long[] stepX,
      long[] stepY,
      long[] lamp,
      long[] lampInverse,
      int lampParallel,
      long epsilon,
      int ambient,
      int background) {}

  /** A ray as the RTL gave it: codes. */
  record Ray(long[] origin, long[] direction, long[] inverse, int parallel, boolean anyHit) {
    boolean isAlike(long[] otherOrigin, long[] otherDirection) {
      return Arrays.equals(origin, otherOrigin) && Arrays.equals(direction, otherDirection);
    }
  }

  /** A pixel's colour, and the rays on the way to it. */
  record Pixel(int colour, List<Ray> rays, int kinds) {}

  private final Dut dut;
  private final RandomStream chance;
  private final Formats formats;
  private StandInScene scene;
  private int[] table = new int[256];

  SequencerDriver(CompiledDesign model, long seed) {
    this(model, Formats.STANDARD, seed);
  }

  SequencerDriver(CompiledDesign model, Formats formats, long seed) {
    this.formats = formats;
    dut =
        model.open(
            DutOptions.defaults().withInitialState(InitialState.RANDOM).withSeed(seed & 0xFFFF));
    chance = RandomStream.of(seed);
    dut.set("rst", 1);
    dut.cycles(3);
    dut.set("rst", 0);
  }

  void scene(StandInScene other, int... materials) {
    scene = other;
    table = materials;
  }

  void settings(Settings settings) {
    vector("eye", settings.eye(), formats.wordBits());
    vector("corner", settings.corner(), formats.wordBits());
    vector("step_x", settings.stepX(), formats.wordBits());
    vector("step_y", settings.stepY(), formats.wordBits());
    vector("lamp", settings.lamp(), formats.unitBits());
    vector("lamp_inverse", settings.lampInverse(), formats.wordBits());
    dut.set("lamp_parallel", settings.lampParallel());
    dut.set("epsilon", settings.epsilon());
    dut.set("ambient", settings.ambient());
    dut.set("background", settings.background());
  }

  private void vector(String port, long[] codes, int bits) {
    BigInteger all = BigInteger.ZERO;
    for (int k = 0; k < 3; k++) {
      BigInteger code = BigInteger.valueOf(codes[k] & (1L << bits) - 1);
      all = all.or(code.shiftLeft(bits * k));
    }
    dut.set(port, words(all, 3 * bits));
  }

  static long[] words(BigInteger bits, int width) {
    long[] words = new long[(width + 63) / 64];
    for (int i = 0; i < words.length; i++) {
      words[i] = bits.shiftRight(64 * i).longValue();
    }
    return words;
  }

  private long[] vector(String port, int bits) {
    long[] words = dut.getWords(port);
    BigInteger all = BigInteger.ZERO;
    for (int i = words.length - 1; i >= 0; i--) {
      all = all.shiftLeft(64).or(new BigInteger(Long.toUnsignedString(words[i])));
    }
    long[] codes = new long[3];
    for (int k = 0; k < 3; k++) {
      codes[k] = all.shiftRight(bits * k).longValue() << 64 - bits >> 64 - bits;
    }
    return codes;
  }

  /** Runs one pixel, with the executor and the colour's taker as slow as chance will have it. */
  Pixel pixel(int x, int y) {
    long tag = chance.next() & 0xFFFFFF;
    dut.set("pixel_valid", 1);
    dut.set("pixel_x", x);
    dut.set("pixel_y", y);
    dut.set("pixel_tag", tag);
    until("pixel_ready");
    dut.set("pixel_valid", 0);
    dut.set("pixel_x", chance.below(4096));
    dut.set("pixel_y", chance.below(4096));
    dut.set("pixel_tag", chance.next() & 0xFFFFFF);
    List<Ray> rays = new ArrayList<>();
    for (int cycles = 0; cycles < MOST_CYCLES; cycles++) {
      dut.cycle();
      if (dut.get("ray_valid") == 1) {
        rays.add(trace());
      }
      if (dut.get("colour_valid") == 1) {
        dut.cycles(chance.below(4));
        dut.set("colour_ready", 1);
        dut.cycle();
        dut.set("colour_ready", 0);
        assertEquals(tag, dut.get("colour_tag"));
        int kinds =
            (int)
                (dut.get("colour_shadow_ray")
                    | dut.get("colour_mirror_ray") << 1
                    | dut.get("colour_mirror_shadow_ray") << 2);
        return new Pixel((int) dut.get("colour"), rays, kinds);
      }
    }
    throw new AssertionError("no colour within " + MOST_CYCLES + " cycles");
  }

  private Ray trace() {
    dut.cycles(chance.below(4));
    dut.set("ray_ready", 1);
    dut.cycle();
    dut.set("ray_ready", 0);
    Ray ray =
        new Ray(
            vector("ray_origin", formats.wordBits()),
            vector("ray_direction", formats.unitBits()),
            vector("ray_inverse", formats.wordBits()),
            (int) dut.get("ray_parallel"),
            dut.get("ray_any_hit") == 1);
    assertEquals(0, dut.get("ray_start"));
    assertEquals((1L << formats.wordBits() - 1) - 1, dut.get("ray_limit"));
    StandInScene.Hit hit = scene.meet(ray.origin(), ray.direction());
    dut.cycles(chance.below(6));
    dut.set("result_valid", 1);
    dut.set("result_hit", hit == null ? 0 : 1);
    boolean tells = hit != null && !ray.anyHit();
    dut.set("result_distance", tells ? formats.wordCode(hit.distance()) : 0);
    dut.set("result_address", tells ? hit.address() : 0);
    dut.set("result_face", tells ? hit.face() : 0);
    until("result_ready");
    boolean asked = dut.get("surface_read") == 1;
    assertEquals(tells, asked, "surface_read");
    dut.set("result_valid", 0);
    dut.set("result_address", chance.below(1024));
    dut.set("result_face", chance.below(8));
    dut.set("result_distance", chance.below(1 << formats.wordBits() - 2));
    if (asked) {
      dut.set("surface_word", scene.word((int) dut.get("surface_address")));
    }
    dut.cycle();
    assertEquals(tells, dut.get("table_read") == 1, "table_read");
    if (asked) {
      dut.set("table_word", table[(int) dut.get("table_address")] & 0xFFFF_FFFFL);
    }
    return ray;
  }

  private void until(String port) {
    for (int i = 0; i < MOST_CYCLES; i++) {
      dut.cycle();
      if (dut.get(port) == 1) {
        return;
      }
    }
    assertTrue(false, port + " stays low");
  }

  @Override
  public void close() {
    dut.close();
  }
}
