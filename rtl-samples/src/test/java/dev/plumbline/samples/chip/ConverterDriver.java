package dev.plumbline.samples.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.cosim.InitialState;
import dev.plumbline.stimulus.RandomStream;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Deque;
import java.util.List;
import java.util.Random;
import java.util.function.BooleanSupplier;

/**
 * The picture converter driven by hand: pixels in any order with gaps, words with stalls, one
 * picture painted while the one before is given out.
 */
final class ConverterDriver implements AutoCloseable {
  private static final int MOST_CYCLES = 4_000_000;

  /** What a picture is made with. */
  record Settings(int width, int height, boolean sixLevels, boolean dither, boolean tiles) {
    int wordsOfPlane() {
      return tiles ? 4 : (width + 15) / 16;
    }

    /** By the layout's own definition. */
    int words() {
      return tiles
          ? (width + 7) / 8 * ((height + 7) / 8) * 8 * 4
          : height * 8 * ((width + 15) / 16);
    }
  }

  /** A colour for each place. */
  interface Painting {
    int colour(int x, int y);
  }

  private record Pixel(int x, int y, int colour) {}

  private final Dut dut;
  private final RandomStream chance;
  private final Deque<Pixel> pixels = new ArrayDeque<>();
  private final List<Integer> words = new ArrayList<>();
  private double gaps;
  private double stalls;
  private boolean offered;
  private boolean swapsNext;
  private boolean givesLast;
  private final List<Integer> ends = new ArrayList<>();
  private long streamed;

  ConverterDriver(CompiledDesign model, long seed) {
    dut =
        model.open(
            DutOptions.defaults().withInitialState(InitialState.RANDOM).withSeed(seed & 0xFFFF));
    chance = RandomStream.of(seed);
    dut.set("rst", 1);
    dut.cycles(3);
    dut.set("rst", 0);
  }

  ConverterDriver pace(double shareOfGaps, double shareOfStalls) {
    gaps = shareOfGaps;
    stalls = shareOfStalls;
    return this;
  }

  void settings(Settings settings) {
    dut.set("width_less_1", settings.width() - 1);
    dut.set("height_less_1", settings.height() - 1);
    dut.set("palette", settings.sixLevels() ? 1 : 0);
    dut.set("dither", settings.dither() ? 1 : 0);
    dut.set("layout", settings.tiles() ? 1 : 0);
  }

  /** All but the last pixel are accepted when this returns; words before are gathered. */
  void paint(Settings settings, Painting painting) {
    List<Pixel> all = new ArrayList<>();
    for (int y = 0; y < settings.height(); y++) {
      for (int x = 0; x < settings.width(); x++) {
        all.add(new Pixel(x, y, painting.colour(x, y)));
      }
    }
    Collections.shuffle(all, new Random(chance.next()));
    pixels.addAll(all);
    until(() -> pixels.size() == 1 && now("swap_pending") == 0, "all pixels but one were accepted");
  }

  /** In the very cycle of the last pixel's transfer, or as many cycles later. */
  void swap(int later) {
    double paced = gaps;
    gaps = 0;
    givesLast = true;
    swapsNext = later == 0;
    cycle();
    givesLast = false;
    assertTrue(pixels.isEmpty(), "the last pixel was not taken at once");
    gaps = paced;
    if (later == 0) {
      return;
    }
    for (int i = 1; i < later; i++) {
      cycle();
    }
    swapsNext = true;
    cycle();
  }

  /** The words of the oldest picture that was swapped and not yet asked for. */
  List<Integer> words(Settings settings) {
    until(() -> !ends.isEmpty(), "a last word came");
    assertEquals(settings.words(), ends.get(0), () -> "words of " + settings);
    for (int i = 0; i < 8; i++) {
      cycle();
    }
    assertEquals(ends.size(), streamed, "pulses of streamed");
    List<Integer> picture = List.copyOf(words.subList(0, ends.get(0)));
    words.subList(0, ends.remove(0)).clear();
    ends.replaceAll(end -> end - picture.size());
    streamed--;
    return picture;
  }

  void awaitSwap() {
    until(() -> now("swap_pending") == 0, "the swap was made");
  }

  /** Codes by place, y first, from words in a layout, as it defines them; the rest must be 0. */
  static int[][] codes(Settings settings, List<Integer> words) {
    int[][] codes = new int[settings.height()][settings.width()];
    for (int i = 0; i < words.size(); i++) {
      for (int bit = 0; bit < 16; bit++) {
        int value = words.get(i) >> (15 - bit) & 1;
        int plane = i / settings.wordsOfPlane() % 8;
        int group = i / settings.wordsOfPlane() / 8;
        int inPlane = i % settings.wordsOfPlane();
        int across = (settings.width() + 7) / 8;
        int x = settings.tiles() ? group % across * 8 + bit % 8 : inPlane * 16 + bit;
        int y = settings.tiles() ? group / across * 8 + inPlane * 2 + bit / 8 : group;
        if (x < settings.width() && y < settings.height()) {
          codes[y][x] |= value << plane;
        } else {
          assertEquals(0, value, "a pixel beyond the picture at " + x + ", " + y);
        }
      }
    }
    return codes;
  }

  private void until(BooleanSupplier done, String what) {
    for (int i = 0; !done.getAsBoolean(); i++) {
      assertTrue(i < MOST_CYCLES, () -> "within " + MOST_CYCLES + " cycles: " + what);
      cycle();
    }
  }

  private void cycle() {
    boolean waits = pixels.size() > 1 || (givesLast && !pixels.isEmpty());
    if (!offered && waits && !chance.chance(gaps)) {
      offered = true;
      dut.set("pixel_x", pixels.peek().x());
      dut.set("pixel_y", pixels.peek().y());
      dut.set("pixel_colour", pixels.peek().colour());
    }
    boolean takes = !chance.chance(stalls);
    dut.set("pixel_valid", offered ? 1 : 0);
    dut.set("out_ready", takes ? 1 : 0);
    dut.set("swap", swapsNext ? 1 : 0);
    swapsNext = false;
    dut.cycle();
    if (offered && dut.get("pixel_ready") == 1) {
      pixels.remove();
      offered = false;
    }
    streamed += dut.get("streamed");
    if (takes && dut.get("out_valid") == 1) {
      words.add((int) dut.get("out_word"));
      if (dut.get("out_last") == 1) {
        ends.add(words.size());
      }
    }
  }

  private long now(String output) {
    dut.settle();
    return dut.get(output);
  }

  @Override
  public void close() {
    dut.close();
  }
}
