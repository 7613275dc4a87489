package dev.plumbline.samples.chip;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.samples.chip.ConverterDriver.Painting;
import dev.plumbline.samples.chip.ConverterDriver.Settings;
import dev.plumbline.stimulus.RandomStream;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Deque;
import java.util.List;

/**
 * What the picture converter owes to figures from outside and to the definitions of its layouts; no
 * model is asked. Each check takes any build of it, so that planted faults meet the same checks.
 */
final class ConverterChecks {
  /** Levels of red, green and blue: 3-3-2 and 6 x 6 x 6. */
  private static final int[][] LEVELS = {{8, 8, 4}, {6, 6, 6}};

  private ConverterChecks() {}

  /** G1's recursion, read row first. */
  static int[][] bayer(int size) {
    if (size == 1) {
      return new int[1][1];
    }
    int half = size / 2;
    int[][] quarter = bayer(half);
    int[][] whole = new int[size][size];
    int[][] added = {{0, 2}, {3, 1}};
    for (int i = 0; i < size; i++) {
      for (int j = 0; j < size; j++) {
        whole[i][j] = 4 * quarter[i % half][j % half] + added[i / half][j / half];
      }
    }
    return whole;
  }

  /** The levels of a code. */
  static int[] levels(boolean sixLevels, int code) {
    return sixLevels
        ? new int[] {code / 36, code / 6 % 6, code % 6}
        : new int[] {code >> 5, code >> 2 & 7, code & 3};
  }

  /** The colour that a code of the 3-3-2 palette stands for, by bit replication (G4). */
  static int expanded(int code) {
    int red = code >> 5;
    int green = code >> 2 & 7;
    int blue = code & 3;
    return (red << 5 | red << 2 | red >> 1) << 16
        | (green << 5 | green << 2 | green >> 1) << 8
        | blue * 0x55;
  }

  private static int[][] convert(ConverterDriver driver, Settings settings, Painting painting) {
    driver.settings(settings);
    driver.paint(settings, painting);
    driver.swap(0);
    return ConverterDriver.codes(settings, driver.words(settings));
  }

  /** Sixteen by sixteen tiles, each of one value in all channels: all 256 values in one picture. */
  private static int tileGrey(int x, int y) {
    return (y / 8 * 16 + x / 8) * 0x010101;
  }

  /** G1, G2: which cells of each flat tile are lit, and in which order they light. */
  static void ditherIsBayers(CompiledDesign model, long seed) {
    int[][] matrix = bayer(8);
    try (ConverterDriver driver = new ConverterDriver(model, seed)) {
      for (boolean six : new boolean[] {false, true}) {
        Settings settings = new Settings(128, 128, six, true, six);
        int[][] codes = convert(driver, settings, ConverterChecks::tileGrey);
        for (int value = 0; value < 256; value++) {
          for (int channel = 0; channel < 3; channel++) {
            lightsInOrder(matrix, codes, six, value, channel);
          }
        }
      }
    }
  }

  private static void lightsInOrder(
      int[][] matrix, int[][] codes, boolean six, int value, int channel) {
    int scaled = value * (LEVELS[six ? 1 : 0][channel] - 1);
    int low = scaled / 255;
    int lit = 0;
    for (int i = 0; i < 8; i++) {
      for (int j = 0; j < 8; j++) {
        int level = levels(six, codes[value / 16 * 8 + i][value % 16 * 8 + j])[channel];
        assertTrue(level == low || level == low + 1, "level " + level + " of value " + value);
        lit += level - low;
      }
    }
    // The mean of a tile is as near to the value as 64 cells can be.
    assertEquals(Math.round(64 * (scaled - 255.0 * low) / 255), lit, "cells lit by " + value);
    for (int i = 0; i < 8; i++) {
      for (int j = 0; j < 8; j++) {
        int level = levels(six, codes[value / 16 * 8 + i][value % 16 * 8 + j])[channel];
        assertEquals(matrix[i][j] < lit, level > low, "cell " + i + ", " + j + " of " + value);
      }
    }
  }

  /** Nearest levels, and G5's mean square errors over all 256 values. */
  static void withoutDitherLevelsAreNearest(CompiledDesign model, long seed) {
    try (ConverterDriver driver = new ConverterDriver(model, seed)) {
      for (boolean six : new boolean[] {false, true}) {
        Settings settings = new Settings(128, 128, six, false, !six);
        int[][] codes = convert(driver, settings, ConverterChecks::tileGrey);
        double[] squares = new double[3];
        for (int y = 0; y < 128; y++) {
          for (int x = 0; x < 128; x++) {
            int value = tileGrey(x, y) & 0xFF;
            for (int channel = 0; channel < 3; channel++) {
              int steps = LEVELS[six ? 1 : 0][channel] - 1;
              int level = levels(six, codes[y][x])[channel];
              assertEquals(Math.round(value * steps / 255.0), level, "level of " + value);
              double off = Math.round(level * 255.0 / steps) - value;
              squares[channel] += off * off / (128 * 128);
            }
          }
        }
        if (!six) {
          assertArrayEquals(new double[] {110.2734375, 110.2734375, 599.6484375}, squares, 1e-6);
        }
      }
    }
  }

  /** G4: a palette's own colours give its codes, dithered or not. */
  static void paletteColoursAreKept(CompiledDesign model, long seed) {
    try (ConverterDriver driver = new ConverterDriver(model, seed)) {
      Settings eight = new Settings(16, 16, false, false, true);
      int[][] codes = convert(driver, eight, (x, y) -> expanded(16 * y + x));
      for (int i = 0; i < 256; i++) {
        assertEquals(i, codes[i / 16][i % 16]);
      }
      for (boolean dither : new boolean[] {false, true}) {
        Settings six = new Settings(36, 6, true, dither, true);
        int[][] cube =
            convert(driver, six, (x, y) -> 51 * y << 16 | 51 * (x / 6) << 8 | 51 * (x % 6));
        for (int i = 0; i < 216; i++) {
          assertEquals(i, cube[i / 36][i % 36]);
        }
      }
    }
  }

  /** G7, G9: bytes of eight pixels, and the independent packer's words of an 18 x 2 picture. */
  static void planesAreThePublishedOnes(CompiledDesign model, long seed) {
    int[][] pixels = {
      {0, 1, 2, 3, 4, 5, 6, 7},
      {0x01, 0x02, 0x04, 0x08, 0x10, 0x20, 0x40, 0x80},
      {0xA5, 0xA5, 0xA5, 0xA5, 0xA5, 0xA5, 0xA5, 0xA5}
    };
    int[][] planes = {
      {0x55, 0x33, 0x0F, 0, 0, 0, 0, 0},
      {0x80, 0x40, 0x20, 0x10, 0x08, 0x04, 0x02, 0x01},
      {0xFF, 0, 0xFF, 0, 0, 0xFF, 0, 0xFF}
    };
    try (ConverterDriver driver = new ConverterDriver(model, seed)) {
      for (int i = 0; i < pixels.length; i++) {
        int[] row = pixels[i];
        Settings settings = new Settings(8, 1, false, false, false);
        convert(driver, settings, (x, y) -> 0);
        driver.paint(settings, (x, y) -> expanded(row[x]));
        driver.swap(0);
        List<Integer> words = new ArrayList<>();
        for (int plane : planes[i]) {
          words.add(plane << 8);
        }
        assertEquals(words, driver.words(settings));
        tile(driver, row, planes[i]);
      }
      Settings wide = new Settings(18, 2, false, false, false);
      driver.settings(wide);
      driver.paint(wide, (x, y) -> expanded((x + y) % 8));
      driver.swap(0);
      List<Integer> words = driver.words(wide);
      List<Integer> row0 = List.of(0x5555, 0x4000, 0x3333, 0, 0x0F0F, 0);
      List<Integer> row1 = List.of(0xAAAA, 0x8000, 0x6666, 0x4000, 0x1E1E, 0);
      assertEquals(row0, words.subList(0, 6));
      assertEquals(row1, words.subList(16, 22));
      assertTrue(words.subList(6, 16).stream().allMatch(word -> word == 0), words::toString);
    }
  }

  /** The same pixels as the lower of two rows of a tile. */
  private static void tile(ConverterDriver driver, int[] row, int[] planes) {
    Settings settings = new Settings(8, 2, false, false, true);
    driver.settings(settings);
    driver.paint(settings, (x, y) -> y == 0 ? 0 : expanded(row[x]));
    driver.swap(0);
    List<Integer> words = driver.words(settings);
    for (int plane = 0; plane < 8; plane++) {
      assertEquals(List.of(planes[plane], 0, 0, 0), words.subList(4 * plane, 4 * plane + 4));
    }
  }

  /** G8: a picture of 320 x 200 has 24,000 bytes for three planes, so 64,000 for eight. */
  static void rowsAreAsLongAsTheStandardSays(CompiledDesign model, long seed) {
    try (ConverterDriver driver = new ConverterDriver(model, seed)) {
      Settings settings = new Settings(320, 200, false, false, false);
      driver.settings(settings);
      // Every pixel is not needed for a length.
      driver.paint(new Settings(1, 2, false, false, false), (x, y) -> 0);
      driver.swap(0);
      assertEquals(24_000 / 3 * 8 / 2, driver.words(settings).size());
    }
  }

  /**
   * Pictures of any size, one painted while the one before is given out, each as it was painted.
   */
  static void everyPixelComesBack(CompiledDesign model, int most, int pictures, long seed) {
    RandomStream chance = RandomStream.of(seed);
    try (ConverterDriver driver = new ConverterDriver(model, seed)) {
      Deque<Painted> under = new ArrayDeque<>();
      Settings settings = null;
      for (int i = 0; i < pictures; i++) {
        // Settings stand until a swap is made; the same ones may stay while it is pending, when
        // pixels of the next picture have to wait.
        if (settings == null || chance.chance(0.5)) {
          settings =
              new Settings(
                  size(chance, most), size(chance, most), false, false, chance.chance(0.5));
          driver.awaitSwap();
        }
        int[][] wanted = new int[settings.height()][settings.width()];
        for (int[] row : wanted) {
          Arrays.setAll(row, x -> chance.below(256));
        }
        driver.pace(chance.unit() * 0.8, chance.unit() * 0.9).settings(settings);
        driver.paint(settings, (x, y) -> expanded(wanted[y][x]));
        driver.swap(chance.below(8));
        under.add(new Painted(settings, wanted));
        if (under.size() > 2) {
          check(driver, under.remove());
        }
      }
      while (!under.isEmpty()) {
        check(driver, under.remove());
      }
    }
  }

  private record Painted(Settings settings, int[][] codes) {}

  private static void check(ConverterDriver driver, Painted painted) {
    check(painted.settings(), painted.codes(), driver.words(painted.settings()));
  }

  private static void check(Settings settings, int[][] painted, List<Integer> words) {
    int[][] codes = ConverterDriver.codes(settings, words);
    for (int y = 0; y < settings.height(); y++) {
      assertArrayEquals(painted[y], codes[y], "row " + y + " of " + settings);
    }
  }

  /** 1 to most, as many between 1 and 2 as between 2 and 4. */
  private static int size(RandomStream chance, int most) {
    return (int) Math.min(most, Math.exp(chance.unit() * Math.log(most + 1)));
  }
}
